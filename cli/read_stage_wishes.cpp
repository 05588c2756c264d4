#include "read_stage_wishes.h"

#include <fmt/format.h>

#include "base/error.h"
#include "units/read_quantity.h"

namespace thickset::cli {
namespace {

constexpr std::size_t most_stages = 12;
constexpr std::string_view left_free = "free";

std::vector<std::string_view> parts_of(std::string_view text) {
  std::vector<std::string_view> parts;
  for (;;) {
    const std::size_t comma = text.find(',');
    parts.push_back(text.substr(0, comma));
    if (comma == std::string_view::npos) return parts;
    text.remove_prefix(comma + 1);
  }
}

template <class Quantity, class Read>
std::vector<std::optional<Quantity>> read_list(std::string_view text,
                                               const Place& place,
                                               std::size_t most,
                                               const Read& read) {
  std::vector<std::optional<Quantity>> values;
  for (std::string_view part : parts_of(text)) {
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    if (part == left_free) {
      values.push_back(std::nullopt);
    } else {
      values.push_back(read(part, place));
    }
  }
  if (values.size() > most) {
    throw Error{place,
                fmt::format("{} values are more than {}", values.size(), most),
                fmt::format("a tail has at most {} stages", most_stages)};
  }
  return values;
}

}  // namespace

std::vector<std::optional<Temperature>> read_stage_ends(std::string_view text, const Place& place) {
  const auto ends = read_list<Temperature>(
      text, place, most_stages - 1, [](std::string_view part, const Place& at) {
        return read_temperature(part, at);
      });
  std::optional<Temperature> above;
  for (const std::optional<Temperature>& end : ends) {
    if (!end) continue;
    if (above && !(*end < *above)) {
      throw Error{place,
                  fmt::format("{:.0f} C does not lie below {:.0f} C", end->in_C(), above->in_C()),
                  "write the ends from hot to cold, such as 450C,360C"};
    }
    above = end;
  }
  return ends;
}

std::vector<std::optional<Rate>> read_stage_rates(std::string_view text, const Place& place) {
  return read_list<Rate>(text, place, most_stages, [](std::string_view part, const Place& at) {
    const Rate rate = read_rate(part, at);
    if (!(rate.in_K_per_h() >= 0.01 && rate.in_K_per_h() <= 2000.0)) {
      throw Error{at,
                  fmt::format("{:g} C/h is outside 0.01 to 2000 C/h", rate.in_K_per_h()),
                  "write how fast each stage cools, such as 4C/h,12C/h,60C/h"};
    }
    return rate;
  });
}

}  // namespace thickset::cli
