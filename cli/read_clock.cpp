#include "read_clock.h"

#include <charconv>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace thickset::cli {
namespace {

/// The whole number that fills text; -1 where it does not.
int number(std::string_view text) {
  int value = -1;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() ? value : -1;
}

}  // namespace

Clock read_clock(std::string_view text, const Place& place) {
  using namespace std::chrono;
  constexpr std::string_view form = "0000-00-00 00:00";
  const bool fits = text.size() == form.size() && text[4] == '-' && text[7] == '-' &&
                    (text[10] == ' ' || text[10] == 'T') && text[13] == ':';
  const int y = fits ? number(text.substr(0, 4)) : -1;
  const int m = fits ? number(text.substr(5, 2)) : -1;
  const int d = fits ? number(text.substr(8, 2)) : -1;
  const int h = fits ? number(text.substr(11, 2)) : -1;
  const int min = fits ? number(text.substr(14, 2)) : -1;
  const bool numbers =
      y >= 2000 && y <= 2100 && m >= 1 && d >= 1 && h >= 0 && h <= 23 && min >= 0 && min <= 59;
  const year_month_day date{year{y},
                            month{static_cast<unsigned>(numbers ? m : 1)},
                            day{static_cast<unsigned>(numbers ? d : 1)}};
  if (!numbers || !date.ok()) {
    throw Error{place,
                fmt::format("{} is not a date and time", in_quotes(text)),
                "write for example \"2026-11-27 18:00\""};
  }
  return local_days{date} + std::chrono::hours{h} + std::chrono::minutes{min};
}

WakingHours read_waking_hours(std::string_view text, const Place& place) {
  constexpr std::string_view form = "00:00-00:00";
  const bool fits =
      text.size() == form.size() && text[2] == ':' && text[5] == '-' && text[8] == ':';
  const auto at = [&](std::size_t first) {
    const int h = fits ? number(text.substr(first, 2)) : -1;
    const int min = fits ? number(text.substr(first + 3, 2)) : -1;
    const bool in_day = h >= 0 && h <= 23 && min >= 0 && min <= 59;
    return std::chrono::minutes{in_day ? 60 * h + min : -1};
  };
  const WakingHours awake{.from = at(0), .to = at(6)};
  if (awake.from.count() < 0 || awake.to.count() < 0 || awake.from == awake.to) {
    throw Error{place,
                fmt::format("{} is not a part of the day", in_quotes(text)),
                "write from and to, such as 07:00-23:00"};
  }
  return awake;
}

}  // namespace thickset::cli
