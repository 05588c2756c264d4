#include "reporting/prices.h"

#include <algorithm>

#include <fmt/format.h>

#include "reporting/display.h"

namespace thickset {
namespace {

/// The prices' own row of the tail's stages; the end where it has none.
std::vector<StagePrice>::const_iterator own_price(const Tail& tail) {
  return std::find_if(tail.prices.begin(), tail.prices.end(), [&](const StagePrice& price) {
    return price.stages == tail.stages.size();
  });
}

double hours_of(const Tail& tail, const StagePrice& price) {
  return in_h(tail.hold.total() + price.cool_down);
}

}  // namespace

std::string price_of_one_fewer(const Tail& tail) {
  const auto own = own_price(tail);
  if (own == tail.prices.end()) return {};
  const double own_h = hours_of(tail, *own);
  std::string text;
  if (own != tail.prices.begin()) {
    const StagePrice& fewer = *std::prev(own);
    text = fmt::format("With {} stage{} instead of {} hold and cooling take {:.1f} h more. ",
                       fewer.stages,
                       fewer.stages == 1 ? "" : "s",
                       own->stages,
                       hours_of(tail, fewer) - own_h);
  }
  return text + fmt::format(
                    "Hold and cooling take {:.0f} h here; with any number of stages the least "
                    "found is about "
                    "{:.0f} h.",
                    own_h,
                    std::min(own_h, in_h(tail.hold.total() + tail.least_cool_down)));
}

std::string price_of_limits(const Tail& tail, const Limits& limits) {
  constexpr double worth_saying_h = 0.05;
  const LimitPrices& prices = tail.limit_prices;
  std::string text;
  if (in_h(std::max(prices.of_grade, prices.of_tension)) >= worth_saying_h) {
    text = fmt::format(
        "A tenth more of a limit would save: {:.3g} instead of {:.3g} nm/cm {:.1f} h, {:.3g} "
        "instead of {:.3g} MPa {:.1f} h. ",
        LimitPrices::eased * limits.grade.in_nm_per_cm(),
        limits.grade.in_nm_per_cm(),
        in_h(prices.of_grade),
        LimitPrices::eased * limits.tension.in_MPa(),
        limits.tension.in_MPa(),
        in_h(prices.of_tension));
  }
  return text + (in_h(prices.of_an_hour) >= worth_saying_h
                     ? fmt::format("Another hour of hold would shorten the cooling by {:.1f} h.",
                                   in_h(prices.of_an_hour))
                     : "Another hour of hold would not shorten the cooling.");
}

std::string prices_section(const Tail& tail, const Limits& limits) {
  std::string text = "Price of stages (hold and cooling, in whole numbers of this controller):\n";
  text += fmt::format(
      "{:>8} {:>7} {:>9} {:>8} {:>16}\n", "stages", "steps", "hours", "nm/cm", "over the least");
  for (const StagePrice& price : tail.prices) {
    text += fmt::format("{:>8} {:>7} {:>9.1f} {:>8.1f} {:>14.1f} %\n",
                        price.stages,
                        price.steps_used,
                        hours_of(tail, price),
                        price.left * limits.grade.in_nm_per_cm(),
                        100.0 * price.over_least);
  }
  return text;
}

std::string price_keys(const Tail& tail, const Limits& limits) {
  const std::string least =
      fmt::format("least_h = {:.6g}\n", in_h(tail.hold.total() + tail.least_cool_down));
  if (!tail.cannot.empty()) return least;  // nothing was priced within the limits
  std::string text;
  for (const StagePrice& price : tail.prices) {
    const std::string of = fmt::format("price_{}_stages", price.stages);
    text += fmt::format("{}_steps_used = {}\n", of, price.steps_used);
    text += fmt::format("{}_h = {:.6g}\n", of, hours_of(tail, price));
    text += fmt::format(
        "{}_retardation_nm_per_cm = {:.6g}\n", of, price.left * limits.grade.in_nm_per_cm());
  }
  const LimitPrices& prices = tail.limit_prices;
  text += fmt::format("tenth_more_grade_saves_h = {:.6g}\n", in_h(prices.of_grade));
  text += fmt::format("tenth_more_tension_saves_h = {:.6g}\n", in_h(prices.of_tension));
  text += fmt::format("hour_of_hold_saves_h = {:.6g}\n", in_h(prices.of_an_hour));
  return text + least;
}

}  // namespace thickset
