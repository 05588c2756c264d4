#include "glass/read_relaxation.h"

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "units/read_quantity.h"

namespace thickset {
namespace {

double in_range(double value, double low, double high, const char* unit, const Place& place) {
  if (value >= low && value <= high) return value;
  throw Error{place,
              fmt::format("{:g}{} is outside {:g} to {:g}{}", value, unit, low, high, unit),
              "check the number and its unit"};
}

}  // namespace

double read_activation_K(std::string_view text, const Place& place) {
  return in_range(read_temperature(text, place).in_K(), 2e4, 2e5, " K", place);
}

MeanShearTime read_mean_shear_time(std::string_view text, const Place& place) {
  constexpr std::string_view at = " at ";
  const std::size_t middle = text.find(at);
  if (middle == std::string_view::npos) {
    throw Error{place,
                fmt::format("{} does not say at which temperature", in_quotes(text)),
                "write for example 1.000 s at 869 K"};
  }
  const double time_s = in_s(read_duration(trimmed(text.substr(0, middle)), place));
  const double reference_K =
      read_temperature(trimmed(text.substr(middle + at.size())), place).in_K();
  return {.time_s = in_range(time_s, 1e-6, 1e6, " s", place),
          .reference_K = in_range(reference_K, 400.0, 1800.0, " K", place)};
}

double read_activation_share(std::string_view text, const Place& place) {
  return in_range(read_number(text, place), 0.2, 1.0, "", place);
}

Bulk read_bulk(std::string_view text, const Place& place) {
  for (const Bulk bulk : {Bulk::relaxing, Bulk::elastic, Bulk::constant_ratio}) {
    if (text == name_of(bulk)) return bulk;
  }
  throw Error{place,
              fmt::format("{} is no treatment of the bulk", in_quotes(text)),
              "write relaxing, elastic or constant-ratio"};
}

}  // namespace thickset
