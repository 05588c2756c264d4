#include "reporting/display.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.h"

namespace thickset {
namespace {

/// Two significant digits below ten, whole numbers from there on.
std::string sensible(double value) {
  const double size = std::abs(value);
  if (size >= 9.95) return fmt::format("{:.0f}", value);
  if (size >= 0.995) return fmt::format("{:.1f}", value);
  return fmt::format("{:.2f}", value);
}

/// Where a number begins that ends at a place, or two with "to" or "and" between.
std::size_t begin_of_numbers(std::string_view text, std::size_t end) {
  const auto begin_of_number = [&](std::size_t at) {
    while (at > 0 && (text[at - 1] == '.' || (text[at - 1] >= '0' && text[at - 1] <= '9'))) --at;
    return at;
  };
  const std::size_t second = begin_of_number(end);
  for (const std::string_view between : {" to ", " and "}) {
    if (!text.substr(0, second).ends_with(between)) continue;
    const std::size_t first_end = second - between.size();
    const std::size_t first = begin_of_number(first_end);
    if (first < first_end) return first;
  }
  return second;
}

}  // namespace

std::string in_one_scale(std::string_view sentence, const Display& display) {
  constexpr std::string_view celsius = " °C (", fahrenheit = " °F)";
  std::string text;
  while (true) {
    const std::size_t end = sentence.find(celsius);
    if (end == std::string_view::npos) break;
    const std::size_t in_F = end + celsius.size();
    const std::size_t close = sentence.find(fahrenheit, in_F);
    if (close == std::string_view::npos) break;
    const std::size_t begin = begin_of_numbers(sentence, end);
    text += sentence.substr(0, begin);
    text += display.degrees == Degrees::celsius ? sentence.substr(begin, end - begin)
                                                : sentence.substr(in_F, close - in_F);
    text += fmt::format(" °{}", letter(display.degrees));
    sentence.remove_prefix(close + fahrenheit.size());
  }
  return text + std::string{sentence};
}

std::vector<std::string> in_one_scale(std::vector<std::string> sentences, const Display& display) {
  for (std::string& sentence : sentences) sentence = in_one_scale(sentence, display);
  return sentences;
}

std::string show(Temperature temperature, const Display& display) {
  const double whole = std::round(in_degrees(temperature, display.degrees)) + 0.0;  // never "-0"
  return fmt::format("{:.0f} °{}", whole, letter(display.degrees));
}

std::string show_difference(TemperatureDifference difference, const Display& display) {
  return fmt::format(
      "{} °{}", sensible(in_degrees(difference, display.degrees)), letter(display.degrees));
}

TemperatureDifference size_of(TemperatureDifference difference) {
  return TemperatureDifference::from_K(std::abs(difference.in_K()));
}

std::string show(Rate rate, const Display& display) {
  return fmt::format(
      "{} °{}/h", sensible(in_degrees_per_h(rate, display.degrees)), letter(display.degrees));
}

std::string show(Length length, const Display& display) {
  if (display.lengths == Lengths::inch) return fmt::format("{:.2f} in", length.in_inch());
  return fmt::format("{} mm", sensible(length.in_mm()));
}

std::string show(Duration duration) {
  const long long total_min = std::llround(in_min(duration));
  if (total_min < 60) return fmt::format("{} min", total_min);
  if (total_min % 60 == 0) return fmt::format("{} h", total_min / 60);
  return fmt::format("{} h {} min", total_min / 60, total_min % 60);
}

std::string show_days(Duration duration) {
  if (in_h(duration) < days_from_h) return show(duration);
  return fmt::format("{} ({:.1f} days)", show(duration), in_h(duration) / 24.0);
}

std::string show(Clock clock) {
  using namespace std::chrono;
  const auto day = floor<days>(clock);
  const year_month_day date{day};
  const hh_mm_ss time{clock - day};
  constexpr const char* weekdays[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  return fmt::format("{} {:04}-{:02}-{:02} {:02}:{:02}",
                     weekdays[weekday{day}.c_encoding()],
                     static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()),
                     time.hours().count(),
                     time.minutes().count());
}

std::string wrapped(std::string_view text, std::size_t width, std::size_t indent) {
  const std::size_t lead = std::min(text.find_first_not_of(' '), text.size());
  std::string result{text.substr(0, lead)};
  text.remove_prefix(lead);
  std::size_t column = lead;
  bool first = true;
  while (!text.empty()) {
    const std::size_t end = text.find(' ');
    const std::string_view word = text.substr(0, end);
    const std::size_t length = count_characters(word);
    if (!first && column + 1 + length > width) {
      result += '\n';
      result.append(indent, ' ');
      column = indent;
    } else if (!first) {
      result += ' ';
      ++column;
    }
    first = false;
    result += word;
    column += length;
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return result;
}

std::string listed(const std::vector<std::string>& lines) {
  std::string result;
  for (const std::string& line : lines) result += wrapped("- " + line) + '\n';
  return result;
}

}  // namespace thickset
