// The readers as targets: bytes are taken as they are, without the gate of read_text_file, which is
// a target of its own.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "base/entries.h"
#include "base/error.h"
#include "base/text.h"
#include "base/text_file.h"
#include "checking/limits.h"
#include "fuzz/target.h"
#include "geometry/meshed_solid.h"
#include "geometry/read_piece.h"
#include "geometry/read_shape.h"
#include "geometry/read_solid.h"
#include "geometry/read_stl.h"
#include "glass/read_glass.h"
#include "glass/read_relaxation.h"
#include "kiln/kiln.h"
#include "kiln/kiln_from_log.h"
#include "material/mould.h"
#include "material/wall.h"
#include "reporting/firing_record.h"
#include "sampling/how_sure.h"
#include "sampling/sample_file.h"
#include "schedule/log_rows.h"
#include "schedule/log_times.h"
#include "schedule/notation.h"
#include "schedule/read_controller.h"
#include "schedule/read_log.h"
#include "simulation/casting.h"
#include "simulation/walls.h"
#include "temporary_folder.h"
#include "units/read_quantity.h"

namespace thickset::fuzz {
namespace {

constexpr const char* source = "a file";

/// Runs a reader. Its Error is an answer, and has to be one that a terminal can show.
template <class Read>
void read_or_refuse(Read&& read) {
  try {
    read();
  } catch (const Error& error) {
    const std::string_view what = error.what();
    demand(!what.empty(), "an Error without a word");
    demand(first_not_utf8(what) == what.npos && first_control(what) == what.npos,
           "an Error that disturbs a terminal");
  }
}

void demand_finite(double value) {
  demand(std::isfinite(value), "a number that is none was read");
}

/// The lines of a text, empty ones where it has fewer.
template <std::size_t n>
std::array<std::string_view, n> lines_of(std::string_view text) {
  std::array<std::string_view, n> lines;
  for (std::string_view& line : lines) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

const std::string& data_folder() {
  static const std::string folder = std::string{THICKSET_SOURCE} + "/data/";
  return folder;
}

/// Whatever is asked for; a name that is not there is refused before.
Glass one_glass(const std::string& name, const Place& place) {
  static const Glass glass = read_glass(data_folder() + "glasses/soda-lime-float.glass");
  if (name.empty() || name.front() == '?') throw Error{place, "no such glass", ""};
  return glass;
}
Mould one_mould(const std::string& name, const Place& place) {
  static const Mould mould = read_mould(data_folder() + "moulds/plaster-silica.mould");
  if (name.empty() || name.front() == '?') throw Error{place, "no such mould", ""};
  return mould;
}

void text(std::string_view bytes) {
  demand(count_characters(bytes) <= bytes.size(), "more characters than bytes");
  demand(trimmed(bytes).size() <= bytes.size(), "trimming adds");
  for (const std::string& words : {shown(bytes), in_quotes(bytes)}) {
    demand(first_not_utf8(words) == words.npos && first_control(words) == words.npos,
           "what is shown disturbs a terminal");
  }
}

void text_file(std::string_view bytes) {
  static const TemporaryFolder folder;
  const std::string path = folder.file("a file", bytes);
  read_or_refuse([&] {
    const std::string read = read_text_file(path, 1u << 16);
    demand(first_not_utf8(read) == read.npos && first_control(read) == read.npos,
           "a text file with what is no text");
  });
}

void entries(std::string_view bytes) {
  read_or_refuse([&] {
    for (const Entry& entry : parse_entries(bytes, source)) {
      demand(!entry.key.empty() && !entry.value.empty(), "an entry without key or value");
      nearest_name(entry.key, {"title", "conductivity", entry.value});
    }
  });
}

void csv(std::string_view bytes) {
  read_or_refuse([&] {
    const CsvTable table = parse_csv(bytes, source);
    for (const auto& row : table.rows) {
      demand(row.size() == table.header.size(), "a row of another length than the header");
    }
  });
}

void glass(std::string_view bytes) {
  read_or_refuse([&] {
    const Glass glass = parse_glass(bytes, "a.glass");
    assumed_values(glass);
    for (double T_K = 250.0; T_K < 1500.0; T_K += 50.0) {
      demand_finite(glass.viscosity.log10_viscosity_Pa_s(Temperature::from_K(T_K)));
      const double a_m2_per_s = glass.diffusivity_m2_per_s(T_K);
      demand(std::isfinite(a_m2_per_s) && a_m2_per_s > 0.0, "heat does not spread in a glass");
    }
  });
}

void mould(std::string_view bytes) {
  read_or_refuse([&] { parse_mould(bytes, "a.mould"); });
}

void kiln(std::string_view bytes) {
  read_or_refuse([&] { parse_kiln(bytes, "a.kiln"); });
}

void controller(std::string_view bytes) {
  read_or_refuse([&] {
    for (const Controller& set : settings_of(parse_controller(bytes, "a.controller"))) {
      demand(!setting_name(set).empty(), "a setting without a name");
    }
  });
}

/// Solids by their measures that pass all checks are the work of `piece`; no mesh is there.
void casting(std::string_view bytes) {
  if (may_need_grid(bytes)) return;
  read_or_refuse([&] { parse_casting(bytes, "no such folder/a.casting", one_glass, one_mould); });
}

void program(std::string_view bytes) {
  read_or_refuse([&] {
    const Program program = parse_program(bytes, source);
    const Program again = parse_program(write_program(program), source);
    demand(again.steps.size() == program.steps.size(), "a program written is read otherwise");
    const Temperature start = Temperature::from_C(20.0);
    legs(program, start);
    for (const Notation notation : {Notation::rate, Notation::time}) {
      for (const Degrees degrees : {Degrees::celsius, Degrees::fahrenheit}) {
        in_notation(program, notation, degrees, start);
      }
    }
  });
}

void log(std::string_view bytes) {
  looks_like_log(bytes);
  read_or_refuse([&] {
    const FiringLog log = parse_log(bytes, source);
    demand(log.time_s.size() == log.T_K.size() && log.time_s.size() >= 2, "a log without readings");
    demand_finite(log.interval_s);
    demand_finite(log.resolution_K);
    for (std::size_t i = 0; i < log.time_s.size(); ++i) {
      demand_finite(log.T_K[i]);
      demand_finite(log.time_s[i]);
      demand(i == 0 || log.time_s[i] > log.time_s[i - 1], "the times of a log do not rise");
    }
    kiln_from_log(log, {}, Temperature::from_C(20.0), {}, Degrees::celsius, {source});
  });
}

void log_fields(std::string_view bytes) {
  if (const auto time = parse_dated_time(bytes)) demand_finite(time->local_s);
  if (const auto time_s = parse_clock_time(bytes)) demand_finite(*time_s);
  parse_date(bytes);
  for (const bool comma : {false, true}) {
    if (const auto number = parse_log_number(bytes, comma)) demand_finite(*number);
  }
  says_no_reading(bytes);
}

/// A reader of a text with a unit, and what it read in SI.
template <auto read, auto in_SI>
void read_number_with(std::string_view text) {
  read_or_refuse([&] {
    demand_finite(static_cast<double>(std::invoke(in_SI, read(text, Place{"--quantity"}))));
  });
}
template <auto read>
void read_word_with(std::string_view text) {
  read_or_refuse([&] { read(text, Place{"--quantity"}); });
}

/// The first byte says which: a letter for each, in this order. The rest is read.
void quantity(std::string_view bytes) {
  constexpr std::identity itself;
  constexpr void (*readers[])(std::string_view) = {
      read_number_with<read_temperature, &Temperature::in_K>,
      read_number_with<read_temperature_difference, &TemperatureDifference::in_K>,
      read_number_with<read_length, &Length::in_m>,
      read_number_with<read_duration, [](Duration d) { return in_s(d); }>,
      read_number_with<read_rate, &Rate::in_K_per_s>,
      read_number_with<read_stress, &Stress::in_Pa>,
      read_number_with<read_retardation, &Retardation::in_nm_per_cm>,
      read_number_with<read_light_length_m, itself>,
      read_number_with<read_angle_rad, itself>,
      read_number_with<read_expansion_per_K, itself>,
      read_number_with<read_density_kg_per_m3, itself>,
      read_number_with<read_conductivity_W_per_m_K, itself>,
      read_number_with<read_heat_capacity_J_per_kg_K, itself>,
      read_number_with<read_absorption_per_m, itself>,
      read_number_with<read_film_coefficient_W_per_m2_K, itself>,
      read_number_with<read_resistance_m2_K_per_W, itself>,
      read_number_with<read_stress_optical_per_Pa, itself>,
      read_number_with<read_number, itself>,
      read_number_with<read_whole_number, itself>,
      read_word_with<read_grade>,
      read_word_with<read_tension>,
      read_word_with<read_mean_shear_time>,
      read_word_with<read_activation_share>,
      read_word_with<read_bulk>,
      read_word_with<read_sides>,
      read_word_with<read_mesh_unit>,
  };
  if (bytes.empty()) return;
  readers[static_cast<unsigned char>(bytes.front() - 'a') % std::size(readers)](bytes.substr(1));
}

ShapeWords shape_words(const std::array<std::string_view, 5>& lines) {
  return {.kind = lines[0],
          .size = lines[1],
          .faces = lines[2],
          .kind_place = {"--shape"},
          .size_place = {"--size"},
          .faces_place = {"--faces"},
          .inside = lines[3],
          .insulated = lines[4],
          .inside_place = {"--inside"},
          .insulated_place = {"--insulated"}};
}

/// Lines: kind, size, faces, inside, insulated sides.
void shape(std::string_view bytes) {
  read_or_refuse([&] {
    const Shape shape = read_shape(shape_words(lines_of<5>(bytes)));
    demand(!describe(shape, Lengths::millimetre).empty(), "a shape without a name");
  });
}

/// The same of solids by their measures, up to the field of one.
void piece(std::string_view bytes) {
  read_or_refuse([&] { parse_piece(shape_words(lines_of<5>(bytes))); });
}

/// Lines: all round, top, bottom, whether it grips; of a slab and of a ball.
void walls(std::string_view bytes) {
  const auto lines = lines_of<4>(bytes);
  const auto word = [](std::string_view line, const char* name) {
    return line.empty() ? std::nullopt : std::optional{PlacedText{std::string{line}, Place{name}}};
  };
  const WallWords words{.mould = word(lines[0], "--mould"),
                        .top = word(lines[1], "--top"),
                        .bottom = word(lines[2], "--bottom"),
                        .grips = word(lines[3], "--mould-grips")};
  for (const std::string_view kind : {"slab", "ball"}) {
    read_or_refuse([&] {
      const Shape shape = read_shape(shape_words({kind, "50mm"}));
      const auto read = read_walls(words, shape, one_mould);
      if (read) demand(!describe(*read, shape, Lengths::inch).empty(), "walls without a word");
    });
  }
  read_or_refuse([&] { read_wall(lines[0], {"--mould"}, one_mould); });
}

void record(std::string_view bytes) {
  looks_like_record(bytes);
  read_or_refuse([&] {
    const FiringRecord read = parse_record(bytes, source);
    const FiringRecord again = parse_record(write_record(read), source);
    demand(again.files.size() == read.files.size() && again.options.size() == read.options.size(),
           "a record written is read otherwise");
  });
}

void samples(std::string_view bytes) {
  read_or_refuse([&] {
    const std::vector<StudyPart> part{read_samples(bytes, source)};
    const StudyPart whole = gathered(part);
    how_sure(whole.study, whole.samples);
  });
}

void stl(std::string_view bytes) {
  read_or_refuse([&] {
    const TriangleSoup soup = parse_stl(bytes, source);
    demand(soup.corners.size() % 3 == 0, "a triangle without its corners");
    for (const Eigen::Vector3d& corner : soup.corners) demand_finite(corner.sum());
  });
}

/// With all checks of the mesh and its measures, without a field.
void solid(std::string_view bytes) {
  read_or_refuse([&] { make_solid(parse_stl(bytes, source), Lengths::millimetre, {source}, {}); });
}

constexpr Target targets[] = {
    {"text", text},         {"text_file", text_file},
    {"entries", entries},   {"csv", csv},
    {"glass", glass},       {"mould", mould},
    {"kiln", kiln},         {"controller", controller},
    {"casting", casting},   {"program", program},
    {"log", log},           {"log_fields", log_fields},
    {"quantity", quantity}, {"shape", shape},
    {"piece", piece},       {"walls", walls},
    {"record", record},     {"samples", samples},
    {"stl", stl},           {"solid", solid},
};

}  // namespace

std::span<const Target> reader_targets() {
  return targets;
}

}  // namespace thickset::fuzz
