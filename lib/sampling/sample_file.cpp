#include "sampling/sample_file.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/csv.h"
#include "base/error.h"
#include "base/text.h"

namespace thickset {
namespace {

constexpr std::string_view header = "sample,residual_nm_per_cm,tension_MPa,relaxes";
constexpr std::string_view mend_of_file = "name files that `thickset sure --out` has written";

constexpr double largest_stress = 1e6;  // MPa or nm/cm: no glass holds a thousandth

/// Without line breaks, whatever a title holds.
std::string in_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

/// A part of a line that has several, whatever a file's name in it holds.
std::string as_part(std::string text) {
  std::replace(text.begin(), text.end(), ';', ',');
  std::replace(text.begin(), text.end(), '"', '\'');
  return in_one_line(std::move(text));
}

std::string title_line(const Study& study) {
  return fmt::format("# title = {}\n", in_one_line(study.title));
}

/// All that the parts of one study have in common: a title may name its files differently.
std::string study_lines(const Study& study) {
  std::string text = fmt::format(
      "# grade_nm_per_cm = {}\n"
      "# tension_limit_MPa = {}\n"
      "# bulk = {}\n"
      "# samples = {}\n"
      "# given_residual_nm_per_cm = {}\n"
      "# given_tension_MPa = {}\n"
      "# given_relaxes = {}\n",
      study.grade_nm_per_cm,
      study.tension_limit_MPa,
      name_of(study.bulk),
      study.samples,
      study.as_given.residual_nm_per_cm,
      study.as_given.tension_MPa,
      study.as_given.relaxes ? "yes" : "no");
  for (const UncertainInput& input : study.inputs) {
    text += fmt::format("# input_{} = {}; {}; {}; {}\n",
                        key_of(input.what),
                        input.half_width,
                        input.assumed ? "assumed" : "known",
                        as_part(input.range),
                        as_part(input.from));
  }
  return text;
}

/// Whole texts alone: "12" and "0.5", not "12 mm".
template <class Number>
std::optional<Number> number_of(std::string_view text) {
  Number value{};
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

/// One line "# key = value".
struct StudyLine {
  std::string_view key, value;
  Place place;

  double number() const {
    const std::optional<double> read = number_of<double>(value);
    if (!read || !(*read >= 0.0 && *read <= largest_stress)) refuse();
    return *read;
  }
  [[noreturn]] void refuse() const {
    throw Error{place,
                fmt::format("{} is no value of {}", in_quotes(value), in_quotes(key)),
                std::string{mend_of_file}};
  }
};

UncertainInput read_input(const StudyLine& line, UncertainValue what) {
  std::string_view rest = line.value;
  const auto next = [&] {
    const std::size_t end = std::min(rest.find(';'), rest.size());
    const std::string_view part = trimmed(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
    return part;
  };
  const std::optional<double> half_width = number_of<double>(next());
  const std::string_view assumed = next();
  UncertainInput input{.what = what,
                       .half_width = half_width.value_or(0.0),
                       .range = std::string{next()},
                       .from = std::string{next()},
                       .assumed = assumed == "assumed"};
  const bool is_width = half_width && *half_width > 0.0 && std::isfinite(*half_width);
  if (!is_width || (assumed != "assumed" && assumed != "known")) line.refuse();
  return input;
}

void read_line(const StudyLine& line, Study& study) {
  if (line.key == "title") {
    study.title = line.value;
  } else if (line.key == "grade_nm_per_cm") {
    study.grade_nm_per_cm = line.number();
  } else if (line.key == "tension_limit_MPa") {
    study.tension_limit_MPa = line.number();
  } else if (line.key == "given_residual_nm_per_cm") {
    study.as_given.residual_nm_per_cm = line.number();
  } else if (line.key == "given_tension_MPa") {
    study.as_given.tension_MPa = line.number();
  } else if (line.key == "given_relaxes") {
    study.as_given.relaxes = line.value == "yes";
  } else if (line.key == "samples") {
    const auto samples = number_of<std::uint64_t>(line.value);
    if (!samples || *samples < fewest_samples || *samples > most_samples) line.refuse();
    study.samples = *samples;
  } else if (line.key == "bulk") {
    const auto known = std::find_if(
        all_bulks.begin(), all_bulks.end(), [&](Bulk bulk) { return line.value == name_of(bulk); });
    if (known == all_bulks.end()) line.refuse();
    study.bulk = *known;
  } else {
    for (const UncertainValue what : all_uncertain_values()) {
      if (line.key == fmt::format("input_{}", key_of(what))) {
        const bool again =
            std::any_of(study.inputs.begin(), study.inputs.end(), [&](const UncertainInput& known) {
              return known.what == what;
            });
        if (again) line.refuse();
        study.inputs.push_back(read_input(line, what));
      }
    }
  }
}

Study read_study(std::string_view text, const std::string& source) {
  Study study;
  for (int number = 1; !text.empty(); ++number) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!line.starts_with("# ")) continue;
    const std::size_t equals = line.find('=');
    if (equals == line.npos) continue;
    read_line({trimmed(line.substr(2, equals - 2)),
               trimmed(line.substr(equals + 1)),
               Place{source, number}},
              study);
  }
  if (study.samples == 0 || study.inputs.empty() || !(study.grade_nm_per_cm > 0.0) ||
      !(study.tension_limit_MPa > 0.0)) {
    throw Error{Place{source}, "is no part of a study", std::string{mend_of_file}};
  }
  return study;
}

Sample read_row(const std::vector<CsvField>& row, const Study& study) {
  const auto refuse = [](const CsvField& field, std::string_view what) {
    throw Error{field.place,
                fmt::format("{} is not {}", in_quotes(field.text), what),
                "compute this part again"};
  };
  const auto number = number_of<std::uint64_t>(row[0].text);
  if (!number || *number >= study.samples) refuse(row[0], "the number of a sample of this study");
  const auto value = [&](const CsvField& field) {
    const std::optional<double> read = number_of<double>(field.text);
    if (!read || !(*read >= 0.0 && *read <= largest_stress)) refuse(field, "a stress");
    return read.value_or(0.0);
  };
  if (row[3].text != "yes" && row[3].text != "no") refuse(row[3], "yes or no");
  return {.number = number.value_or(0),
          .residual_nm_per_cm = value(row[1]),
          .tension_MPa = value(row[2]),
          .relaxes = row[3].text == "yes"};
}

/// The part that holds just these numbers, by the coarsest cut that has one.
std::string how_to_compute(std::uint64_t samples, const SampleRange& missing) {
  constexpr std::uint64_t finest_cut = 10'000;
  for (std::uint64_t parts = 2; parts <= std::min(finest_cut, samples); ++parts) {
    const std::uint64_t guess = missing.first * parts / samples + 1;
    for (std::uint64_t part = guess; part <= std::min(guess + 1, parts); ++part) {
      const SampleRange range = slice_of(samples, part, parts);
      if (range.first == missing.first && range.end == missing.end) {
        return fmt::format("compute that part: --slice {}/{}", part, parts);
      }
    }
  }
  return "compute the parts that were left out, cut as the others were";
}

}  // namespace

std::string write_samples(const Study& study, std::span<const Sample> samples) {
  std::string text =
      "# thickset: samples of a study; `thickset sure --gather` reads all its parts\n";
  text += title_line(study) + study_lines(study);
  text += fmt::format("{}\n", header);
  for (const Sample& sample : samples) {
    text += fmt::format("{},{},{},{}\n",
                        sample.number,
                        sample.residual_nm_per_cm,
                        sample.tension_MPa,
                        sample.relaxes ? "yes" : "no");
  }
  return text;
}

StudyPart read_samples(std::string_view text, const std::string& source) {
  StudyPart part{.study = read_study(text, source), .samples = {}, .source = source};
  const CsvTable table = parse_csv(text, source);
  std::string names;
  for (const CsvField& field : table.header) names += (names.empty() ? "" : ",") + field.text;
  if (names != header) {
    throw Error{table.header.front().place,
                fmt::format("its header is not \"{}\"", header),
                std::string{mend_of_file}};
  }
  for (const std::vector<CsvField>& row : table.rows) {
    part.samples.push_back(read_row(row, part.study));
  }
  return part;
}

StudyPart gathered(std::span<const StudyPart> parts) {
  StudyPart whole{.study = parts.front().study, .samples = {}, .source = parts.front().source};
  std::vector<std::pair<std::uint64_t, std::size_t>> from;  // number, part
  for (std::size_t p = 0; p < parts.size(); ++p) {
    if (study_lines(parts[p].study) != study_lines(whole.study)) {
      throw Error{Place{parts[p].source},
                  fmt::format("is of another study than {}", whole.source),
                  "its first lines differ: gather parts of one program, casting, kiln, version and "
                  "number of samples"};
    }
    for (const Sample& sample : parts[p].samples) {
      whole.samples.push_back(sample);
      from.emplace_back(sample.number, p);
    }
  }
  std::sort(from.begin(), from.end());
  for (std::size_t i = 1; i < from.size(); ++i) {
    if (from[i].first != from[i - 1].first) continue;
    throw Error{
        Place{parts[from[i].second].source},
        fmt::format(
            "holds sample {}, which {} holds too", from[i].first, parts[from[i - 1].second].source),
        "name each part once"};
  }
  const std::uint64_t missing = whole.study.samples - from.size();
  if (missing > 0) {
    std::uint64_t first = 0;
    while (first < from.size() && from[first].first == first) ++first;
    const std::uint64_t end = first < from.size() ? from[first].first : whole.study.samples;
    throw Error{Place{whole.source},
                fmt::format("{} of the {} samples of its study are in no part, the first of them "
                            "number {} to {}",
                            missing,
                            whole.study.samples,
                            first,
                            end - 1),
                how_to_compute(whole.study.samples, {first, end})};
  }
  std::sort(whole.samples.begin(), whole.samples.end(), [](const Sample& a, const Sample& b) {
    return a.number < b.number;
  });
  return whole;
}

}  // namespace thickset
