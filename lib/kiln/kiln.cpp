#include "kiln/kiln.h"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "base/entries.h"
#include "base/text.h"
#include "base/text_file.h"
#include "schedule/settings.h"
#include "units/read_quantity.h"

namespace thickset {

namespace {

const std::vector<std::string> known_keys = {"title",
                                             "natural_cooling",
                                             "room",
                                             "fastest_heating",
                                             "film_coefficient",
                                             "emissivity",
                                             "sensors_differ",
                                             "sensor_uncertainty",
                                             "exchange_uncertainty",
                                             "known_from",
                                             "known_to"};

// What a value must lie between to be believed; the first three by reason, the film by what still
// and fan-blown air do.
constexpr double coldest_room_C = -20.0;
constexpr double hottest_room_C = 60.0;
constexpr double hottest_point_C = 1400.0;
constexpr double lowest_top_point_C = 100.0;  // the table must say something of a hot kiln
constexpr double point_above_room_K = 5.0;    // nearer the room a rate is noise
constexpr double slowest_fall_K_per_h = 0.01;
constexpr double fastest_fall_K_per_h = 20000.0;
constexpr double slowest_heating_K_per_h = 1.0;
constexpr double fastest_heating_K_per_h = 20000.0;
constexpr double least_film_W_per_m2_K = 0.1;
constexpr double most_differ_K = 50.0;  // more is a broken sensor
constexpr double most_film_W_per_m2_K = 200.0;

constexpr std::string_view points_mend =
    "write pairs such as 800 C 320 C/h, 500 C 130 C/h, from a log with the elements off";

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t end = std::min(text.find(separator), text.size());
    parts.push_back(trimmed(text.substr(0, end)));
    if (end == text.size()) return parts;
    text.remove_prefix(end + 1);
  }
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Where the second number of "800 C 320 C/h" begins: the first digit after a unit's letter.
std::size_t second_number(std::string_view pair) {
  const auto letter = std::find_if(
      pair.begin(), pair.end(), [](char c) { return c == 'C' || c == 'F' || c == 'K'; });
  auto second = std::find_if(letter, pair.end(), is_digit);
  if (second != pair.end() && *(second - 1) == '-') --second;
  return static_cast<std::size_t>(second - pair.begin());
}

NaturalCooling::Point read_point(std::string_view pair, const Place& place) {
  const std::size_t second = second_number(pair);
  if (second == pair.size()) {
    throw Error{
        place, fmt::format("{} is not a temperature and a rate", in_quotes(pair)), points_mend};
  }
  const Temperature temperature = read_temperature(trimmed(pair.substr(0, second)), place);
  const Rate rate = read_rate(trimmed(pair.substr(second)), place);
  if (!(temperature.in_C() <= hottest_point_C)) {
    throw Error{place,
                fmt::format("{} is above {:.0f} C", in_quotes(pair), hottest_point_C),
                "check the digits and the degrees"};
  }
  const double rate_K_per_h = rate.in_K_per_h();
  if (!(rate_K_per_h >= slowest_fall_K_per_h && rate_K_per_h <= fastest_fall_K_per_h)) {
    throw Error{place,
                fmt::format("{}: a rate of falling lies between {} and {} C/h",
                            in_quotes(pair),
                            slowest_fall_K_per_h,
                            fastest_fall_K_per_h),
                "write it without a sign; per hour, not per minute?"};
  }
  return {temperature, rate};
}

/// The points, checked against each other and the room; one stand-in point where they are bad.
NaturalCooling read_natural_cooling(Settings& settings, Temperature room) {
  constexpr std::string_view key = "natural_cooling";
  const NaturalCooling stand_in{
      {{room + TemperatureDifference::from_K(100.0), Rate::from_K_per_h(10.0)}}, room};
  const Entry* const entry = settings.need(key, points_mend);
  if (entry == nullptr) return stand_in;
  std::vector<NaturalCooling::Point> points;
  bool good = true;
  for (const std::string_view pair : split(entry->value, ',')) {
    try {
      points.push_back(read_point(pair, entry->value_place));
    } catch (const Error& error) {
      settings.problem(error);
      good = false;
    }
  }
  if (!good) return stand_in;
  std::sort(points.begin(), points.end(), [](const auto& a, const auto& b) {
    return a.temperature < b.temperature;
  });
  const auto refuse = [&](std::string_view what, std::string_view mend) {
    settings.problem(key, what, mend);
    good = false;
  };
  if (!((points.front().temperature - room).in_K() >= point_above_room_K)) {
    refuse(fmt::format("the point at {:.0f} C is not above the room of {:.0f} C",
                       points.front().temperature.in_C(),
                       room.in_C()),
           "leave it out, the kiln slows towards the room by itself");
  }
  if (!(points.back().temperature.in_C() >= lowest_top_point_C)) {
    refuse(fmt::format("no point is at {:.0f} C or above", lowest_top_point_C),
           "add points of the hot kiln");
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].temperature > points[i - 1].temperature) continue;
    refuse(fmt::format("two points at {:.0f} C", points[i].temperature.in_C()),
           "leave one of them out");
  }
  return good ? NaturalCooling{std::move(points), room} : stand_in;
}

void check_range(Settings& settings,
                 std::string_view key,
                 double value,
                 double least,
                 double most,
                 std::string_view unit) {
  if (value >= least && value <= most) return;
  settings.problem(
      key,
      fmt::format("{} {:.6g}{} is outside {:g} to {:g}{}", key, value, unit, least, most, unit),
      "check the digits and the unit");
}

}  // namespace

Kiln parse_kiln(std::string_view contents, const std::string& path) {
  Settings settings{parse_entries(contents, path), path, known_keys};
  Temperature room = settings.value("room", Temperature::from_C(20.0), read_temperature);
  check_range(settings, "room", room.in_C(), coldest_room_C, hottest_room_C, " C");
  if (!(room.in_C() >= coldest_room_C && room.in_C() <= hottest_room_C)) {
    room = Temperature::from_C(20.0);  // so that the points are still checked
  }
  Kiln kiln{.name = std::filesystem::path{path}.stem().string(),
            .title = "",
            .natural_cooling = read_natural_cooling(settings, room),
            .assumed = {}};
  kiln.title =
      settings.value("title", kiln.name, [](auto text, auto&) { return std::string{text}; });
  kiln.fastest_heating = settings.value("fastest_heating", kiln.fastest_heating, read_rate);
  kiln.film_coefficient_W_per_m2_K = settings.value(
      "film_coefficient", kiln.film_coefficient_W_per_m2_K, read_film_coefficient_W_per_m2_K);
  kiln.emissivity = settings.value("emissivity", kiln.emissivity, read_number);
  check_range(settings,
              "fastest_heating",
              kiln.fastest_heating.in_K_per_h(),
              slowest_heating_K_per_h,
              fastest_heating_K_per_h,
              " C/h");
  check_range(settings,
              "film_coefficient",
              kiln.film_coefficient_W_per_m2_K,
              least_film_W_per_m2_K,
              most_film_W_per_m2_K,
              " W/(m2 K)");
  check_range(settings, "emissivity", kiln.emissivity, 0.0, 1.0, "");
  kiln.sensors_differ =
      settings.value("sensors_differ", kiln.sensors_differ, read_temperature_difference);
  check_range(settings, "sensors_differ", kiln.sensors_differ.in_K(), 0.0, most_differ_K, " C");
  if (settings.find("sensor_uncertainty") != nullptr) {
    constexpr double least_K = 0.1;
    kiln.sensor_uncertainty = settings.value(
        "sensor_uncertainty", TemperatureDifference::from_K(1.0), read_temperature_difference);
    check_range(settings,
                "sensor_uncertainty",
                kiln.sensor_uncertainty->in_K(),
                least_K,
                most_differ_K,
                " C");
  }
  if (settings.find("exchange_uncertainty") != nullptr) {
    kiln.exchange_uncertainty = settings.value("exchange_uncertainty", 0.1, read_uncertain_share);
  }
  const bool known_from = settings.find("known_from") != nullptr;
  const bool known_to = settings.find("known_to") != nullptr;
  const Temperature highest = settings.value("known_from", room, read_temperature);
  const Temperature lowest = settings.value("known_to", room, read_temperature);
  if (known_from != known_to || (known_from && !(lowest < highest))) {
    settings.problem(known_from ? "known_from" : "known_to",
                     "known_from and known_to go together, the hotter first",
                     "write where the log of its fall began and ended, or leave both out");
  }
  settings.finish();

  if (known_from) {
    kiln.assumed.push_back(fmt::format(
        "kiln {}: its own fall above {:.0f} C and below {:.0f} C, where none was logged, "
        "continued (assumed)",
        kiln.name,
        highest.in_C(),
        lowest.in_C()));
  }
  const auto assume = [&](std::string_view key, const std::string& value) {
    if (settings.find(key) == nullptr) {
      kiln.assumed.push_back(fmt::format("kiln {}: {} (assumed)", key, value));
    }
  };
  assume("room", fmt::format("{:.0f} C", room.in_C()));
  assume("fastest_heating", fmt::format("{:.0f} C/h", kiln.fastest_heating.in_K_per_h()));
  assume("film_coefficient", fmt::format("{:g} W/(m2 K)", kiln.film_coefficient_W_per_m2_K));
  assume("emissivity", fmt::format("{:g}", kiln.emissivity));
  return kiln;
}

Kiln read_kiln(const std::string& path) {
  return parse_kiln(read_text_file(path, largest_entries_bytes), path);
}

TemperatureDifference sensor_tolerance(Temperature reading) {
  constexpr double least_K = 2.2;
  constexpr double share_of_reading_C = 0.0075;
  return TemperatureDifference::from_K(std::max(least_K, share_of_reading_C * reading.in_C()));
}

TemperatureDifference sensor_tolerance(const Kiln& kiln, Temperature reading) {
  return std::max(kiln.sensor_uncertainty.value_or(sensor_tolerance(reading)), kiln.sensors_differ);
}

const char* sensor_tolerance_from(const Kiln& kiln, Temperature reading) {
  const auto otherwise = kiln.sensor_uncertainty.value_or(sensor_tolerance(reading));
  if (kiln.sensors_differ > otherwise) return "its two sensors differ so";
  return kiln.sensor_uncertainty ? "the kiln's file" : "type K, ASTM E230";
}

}  // namespace thickset
