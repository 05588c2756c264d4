#include "read_rows.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "geometry/read_sizes.h"
#include "units/read_quantity.h"

namespace thickset::cli {
namespace {

constexpr std::size_t most_rows = 24;
constexpr auto least_apart = Length::from_mm(1.0);  // so that rows are told apart as shown
constexpr double rounding = 1e-9;                   // of 1 mm, when inches are read

}  // namespace

std::vector<Length> read_rows(std::string_view text, const Place& place) {
  std::vector<Length> rows;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    const std::string_view word = trimmed(text.substr(from, comma - from));
    from = comma + 1;
    if (word.empty()) {
      throw Error{place,
                  fmt::format("{} has an empty place", in_quotes(std::string{text})),
                  "write thicknesses with commas between: 20mm,40mm,60mm"};
    }
    const Length row = read_length(word, place);
    if (!(row >= thinnest_accepted && row <= thickest_accepted)) {
      throw Error{place,
                  fmt::format("{} is outside {:g} to {:g} mm",
                              word,
                              thinnest_accepted.in_mm(),
                              thickest_accepted.in_mm()),
                  "check the unit; write for example 20mm,40mm,60mm"};
    }
    const bool above =
        rows.empty() || row.in_m() - rows.back().in_m() >= (1.0 - rounding) * least_apart.in_m();
    if (!above) {
      throw Error{
          place,
          fmt::format(
              "{} is not at least 1 mm above the {:g} mm before it", word, rows.back().in_mm()),
          "write each thickness once, from thin to thick"};
    }
    rows.push_back(row);
    if (rows.size() > most_rows) {
      throw Error{place,
                  fmt::format("more than {} thicknesses", most_rows),
                  "leave some out, or ask in two tables"};
    }
  }
  return rows;
}

std::vector<Length> usual_rows() {
  std::vector<Length> rows;
  for (const double mm : {20.0, 40.0, 60.0, 90.0, 130.0, 180.0})
    rows.push_back(Length::from_mm(mm));
  return rows;
}

}  // namespace thickset::cli
