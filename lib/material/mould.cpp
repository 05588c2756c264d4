#include "material/mould.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/entries.h"
#include "base/problems.h"
#include "base/text.h"
#include "base/text_file.h"
#include "material/read_thermal_law.h"
#include "units/read_quantity.h"

namespace thickset {
namespace {

// From loose fibre to dense shelves; wider than any material that glass is cast in or stands on.
constexpr double lightest_kg_per_m3 = 20.0;
constexpr double densest_kg_per_m3 = 8000.0;
constexpr ThermalLimits conductivity_limits{0.01, 50.0};
constexpr ThermalLimits heat_capacity_limits{100.0, 3000.0};

using Lines = std::map<std::string, std::vector<Entry>>;

const std::vector<std::string> known_keys =
    {"title", "status", "density", "conductivity", "conductivity_uncertainty", "heat_capacity"};

bool may_repeat(const std::string& key) {
  return key == "conductivity" || key == "heat_capacity";
}

Lines lines_by_key(const std::vector<Entry>& entries, Problems& problems) {
  Lines lines;
  for (const Entry& entry : entries) {
    if (std::find(known_keys.begin(), known_keys.end(), entry.key) == known_keys.end()) {
      const std::string nearest = nearest_name(entry.key, known_keys);
      problems.add(entry.key_place,
                   fmt::format("{} is not a known key", in_quotes(entry.key)),
                   nearest.empty() ? fmt::format("known are {}", fmt::join(known_keys, ", "))
                                   : fmt::format("did you mean {}?", nearest));
      continue;
    }
    std::vector<Entry>& of_key = lines[entry.key];
    if (!of_key.empty() && !may_repeat(entry.key)) {
      problems.add(
          entry.key_place, fmt::format("{} is given twice", entry.key), "leave one of them out");
      continue;
    }
    of_key.push_back(entry);
  }
  return lines;
}

std::string source_of(const Entry& entry) {
  if (entry.source.empty()) return "no source given";
  return fmt::format("[{}]{}{}", entry.source, entry.locator.empty() ? "" : " ", entry.locator);
}

double read_density(const Entry& entry) {
  const double density = read_density_kg_per_m3(entry.value, entry.value_place);
  if (density >= lightest_kg_per_m3 && density <= densest_kg_per_m3) return density;
  throw Error{entry.value_place,
              fmt::format("density {:g} kg/m3 is outside {:g} to {:g} kg/m3",
                          density,
                          lightest_kg_per_m3,
                          densest_kg_per_m3),
              "check the number and its unit"};
}

Mould::Status read_status(const Entry& entry) {
  if (entry.value == "published") return Mould::Status::published;
  if (entry.value == "from-memory") return Mould::Status::from_memory;
  if (entry.value == "assumed") return Mould::Status::assumed;
  throw Error{entry.value_place,
              fmt::format("{} is no value of status", in_quotes(entry.value)),
              "write published, from-memory or assumed"};
}

/// What `read` makes of a key's lines; nothing, and a problem, where it is missing or bad.
template <class Read>
auto need(const Lines& lines,
          const std::string& key,
          const char* example,
          const std::string& path,
          Problems& problems,
          const Read& read)
    -> std::optional<
        std::pair<decltype(read(std::declval<const std::vector<Entry>&>())), std::string>> {
  const auto found = lines.find(key);
  if (found == lines.end()) {
    problems.add(Place{path},
                 fmt::format("{} is missing", key),
                 fmt::format("add a line such as \"{} = {}\"", key, example));
    return std::nullopt;
  }
  try {
    return {{read(found->second), source_of(found->second.front())}};
  } catch (const Error& error) {
    problems.add(error);
    return std::nullopt;
  }
}

}  // namespace

Mould Mould::with_conductivity_times(double factor) const {
  Mould changed = *this;
  changed.conductivity_W_per_m_K = conductivity_W_per_m_K.times(factor);
  return changed;
}

const char* name_of(Mould::Status status) {
  switch (status) {
    case Mould::Status::published: return "published";
    case Mould::Status::from_memory: return "from memory";
    case Mould::Status::assumed: return "assumed";
  }
  return "";
}

Mould parse_mould(std::string_view text, const std::string& path) {
  Problems problems;
  const Lines lines = lines_by_key(parse_entries(text, path), problems);
  const auto density =
      need(lines, "density", "1100 kg/m3", path, problems, [](const std::vector<Entry>& entries) {
        return read_density(entries.front());
      });
  const auto law = [&](const char* key,
                       const char* example,
                       ThermalQuantity quantity,
                       const ThermalLimits& limits) {
    return need(lines, key, example, path, problems, [&](const std::vector<Entry>& entries) {
      return read_thermal_law(entries, quantity, limits);
    });
  };
  const auto conductivity =
      law("conductivity", "0.35 W/(m K)", ThermalQuantity::conductivity, conductivity_limits);
  const auto heat_capacity =
      law("heat_capacity", "1000 J/(kg K)", ThermalQuantity::heat_capacity, heat_capacity_limits);
  const auto status =
      need(lines, "status", "assumed", path, problems, [](const std::vector<Entry>& e) {
        return read_status(e.front());
      });
  std::optional<double> uncertainty;
  if (const auto found = lines.find("conductivity_uncertainty"); found != lines.end()) {
    const Entry& entry = found->second.front();
    uncertainty =
        problems.collect([&] { return read_uncertain_share(entry.value, entry.value_place); }, 0.0);
  }
  problems.throw_if_any();

  const std::string name = std::filesystem::path{path}.stem().string();
  const auto title = lines.find("title");
  return {.name = name,
          .title = title == lines.end() ? name : title->second.front().value,
          .status = status->first,
          .density_kg_per_m3 = density->first,
          .conductivity_W_per_m_K = conductivity->first,
          .heat_capacity_J_per_kg_K = heat_capacity->first,
          .density_source = density->second,
          .conductivity_source = conductivity->second,
          .heat_capacity_source = heat_capacity->second,
          .conductivity_uncertainty = uncertainty};
}

Mould read_mould(const std::string& path) {
  return parse_mould(read_text_file(path, largest_entries_bytes), path);
}

}  // namespace thickset
