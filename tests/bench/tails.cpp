#include "bench/tails.h"

#include <string>
#include <vector>

#include "bench/timing.h"
#include "checking/rules.h"
#include "glass/read_glass.h"
#include "planning/tail.h"
#include "schedule/read_controller.h"

namespace thickset::bench {
namespace {

constexpr int turns = 9;

std::string data(const std::string& name) {
  return std::string{THICKSET_SOURCE} + "/data/" + name;
}

Controller controller(const std::string& name) {
  return read_controller(data("controllers/" + name + ".controller"));
}

}  // namespace

TailTimes tail_times(double thickness_mm) {
  const std::vector<Casting> castings = {
      {.title = "slab",
       .glass = read_glass(data("glasses/casting-soda-lime-9.0.glass")),
       .shape = Slab{Length::from_mm(thickness_mm)},
       .reservoir = {}}};
  const Kiln kiln = read_kiln(data("kilns/small-fibre.kiln"));
  const Firing firing;
  const Limits limits;
  const std::vector<Bulk> bulks{all_bulks.begin(), all_bulks.end()};
  const Temperature end = firing.room + rules::last_target_above_room;
  const auto late = Controller::LateOnCooling::waits;
  const Hold hold =
      size_hold(castings.front(), kiln, firing, estimate_rates(castings.front(), limits).setting);
  Program to_hold_end;
  to_hold_end.steps.push_back(
      {.target = hold.temperature, .pace = AsFastAsPossible{}, .hold = hold.total()});
  const CoolDown cool_down{castings, kiln, late, firing, to_hold_end, bulks, limits, end};
  const StageBounds bounds{kiln, firing, end, false};
  constexpr int six = 6;
  TailRequest request;
  request.all_prices = true;
  const auto tail_on = [&](const Controller& box) {
    return median_ms([&] { plan_tail(castings, kiln, box, request); }, turns);
  };
  return {.thickness_mm = thickness_mm,
          .six_stages_ms = median_ms(
              [&] {
                FastestStages{castings, cool_down, bounds, limits}.exactly(six);
              },
              turns),
          .up_to_six_ms = median_ms(
              [&] {
                FastestStages{castings, cool_down, bounds, limits}.up_to(six);
              },
              turns),
          .by_time_ms = tail_on(controller("twelve-steps-by-time")),
          .by_rate_ms = tail_on(controller("ten-steps-by-rate"))};
}

}  // namespace thickset::bench
