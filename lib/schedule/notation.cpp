#include "schedule/notation.h"

#include <cassert>
#include <charconv>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "base/csv.h"
#include "base/entries.h"
#include "base/problems.h"
#include "base/text.h"
#include "base/text_file.h"
#include "schedule/log_rows.h"

namespace thickset {

namespace {

constexpr double lowest_C = -20.0;
constexpr double highest_C = 1400.0;
constexpr double smallest_rate_K_per_h = 0.001;  // 9 K a year
constexpr double largest_rate_K_per_h = 9999.0;
constexpr double longest_min = 1000.0 * 24.0 * 60.0;
constexpr std::size_t most_program_rows = 1000;
constexpr const char* as_fast_word = "asap";

/// What a header says.
struct Form {
  Notation notation;
  Degrees degrees;
};

struct KnownHeader {
  std::string text;
  Form form;
};

const std::vector<KnownHeader>& known_headers() {
  static const std::vector<KnownHeader> known = {
      {"target_C,rate_C_per_h,hold_min", {Notation::rate, Degrees::celsius}},
      {"target_F,rate_F_per_h,hold_min", {Notation::rate, Degrees::fahrenheit}},
      {"target_C,minutes", {Notation::time, Degrees::celsius}},
      {"target_F,minutes", {Notation::time, Degrees::fahrenheit}},
  };
  return known;
}

std::string nearest_header(const std::string& text) {
  std::vector<std::string> names;
  for (const KnownHeader& known : known_headers()) names.push_back(known.text);
  const std::string nearest = nearest_name(text, names);
  if (!nearest.empty()) return fmt::format("did you mean {}?", nearest);
  return fmt::format("write {}; the header of a log is such as time,air_C",
                     fmt::join(names, " or "));
}

Form read_header(const std::vector<CsvField>& header, std::size_t first_column) {
  std::string text;
  for (std::size_t i = first_column; i < header.size(); ++i) {
    text += (i == first_column ? "" : ",") + header[i].text;
  }
  for (const KnownHeader& known : known_headers()) {
    if (text == known.text) return known.form;
  }
  const Place& place = header.front().place;
  const bool has_C = text.find("target_C") != text.npos || text.find("rate_C") != text.npos;
  const bool has_F = text.find("target_F") != text.npos || text.find("rate_F") != text.npos;
  if (has_C && has_F) {
    throw Error{place,
                fmt::format("the header {} mixes C and F", in_quotes(text)),
                "write target and rate in the same degrees"};
  }
  throw Error{place,
              fmt::format("the header {} is no form of a program", in_quotes(text)),
              nearest_header(text)};
}

/// The minutes of "5:30"; nullopt for anything else.
std::optional<int> hours_and_minutes(std::string_view text) {
  const std::size_t colon = text.find(':');
  constexpr std::size_t most_digits = 4;
  if (colon == text.npos || colon == 0 || colon > most_digits || text.size() != colon + 3)
    return std::nullopt;
  int hours = 0, past = 0;
  const char* const mid = text.data() + colon;
  const char* const end = text.data() + text.size();
  if (std::from_chars(text.data(), mid, hours).ptr != mid ||
      std::from_chars(mid + 1, end, past).ptr != end || hours < 0 || past < 0 || past > 59)
    return std::nullopt;
  return 60 * hours + past;
}

double read_cell(const CsvField& field, std::string_view column, bool comma_is_decimal) {
  const std::string& text = field.text;
  const std::optional<double> value = parse_log_number(text, comma_is_decimal);
  if (!value) {
    if (const auto time = hours_and_minutes(text); time && column.find("min") != column.npos) {
      throw Error{field.place,
                  fmt::format("{} in {} is hours and minutes", in_quotes(text), column),
                  fmt::format("write {}, in minutes", *time)};
    }
    throw Error{field.place,
                fmt::format("{} in {} is not a number", in_quotes(text), column),
                "write the number alone, the header gives its unit"};
  }
  return *value;
}

/// Reads the rows of one form; each function looks at one cell.
class RowReader {
 public:
  RowReader(Form form, std::size_t first_column, bool comma_is_decimal)
      : form_{form}, first_{first_column}, comma_is_decimal_{comma_is_decimal} {}

  void read(const std::vector<CsvField>& row) {
    const Temperature target = read_target(row[first_]);
    const CsvField& pace = row[first_ + 1];
    form_.notation == Notation::rate ? read_rate_row(target, pace, row[first_ + 2])
                                     : read_time_row(target, pace);
    at_ = target;
    first_row_ = false;
  }

  Program program() && { return std::move(program_); }
  void begin() {
    program_.notation = form_.notation;
    program_.degrees = form_.degrees;
  }
  /// A row that could not be read leaves the temperature before the next one unknown.
  void skip() {
    at_.reset();
    first_row_ = false;
  }

 private:
  Temperature read_target(const CsvField& field) const {
    const std::string column = fmt::format("target_{}", letter(form_.degrees));
    if (field.text.empty()) {
      throw Error{
          field.place, fmt::format("{} is empty", column), "write the temperature to reach"};
    }
    const double value = read_cell(field, column, comma_is_decimal_);
    const Temperature target = from_degrees(value, form_.degrees);
    if (!(target.in_C() >= lowest_C && target.in_C() <= highest_C)) {
      throw Error{field.place,
                  fmt::format("target {} {} is outside {:.0f} to {:.0f} {}",
                              value,
                              letter(form_.degrees),
                              in_degrees(Temperature::from_C(lowest_C), form_.degrees),
                              in_degrees(Temperature::from_C(highest_C), form_.degrees),
                              letter(form_.degrees)),
                  "check the digits and the degrees in the header"};
    }
    return target;
  }

  Rate read_rate_cell(const CsvField& field, Temperature target) const {
    const std::string column = fmt::format("rate_{}_per_h", letter(form_.degrees));
    const double value = read_cell(field, column, comma_is_decimal_);
    const Rate rate = rate_from_degrees_per_h(std::abs(value), form_.degrees);
    if (value == 0.0) {
      throw Error{
          field.place,
          "a rate of 0 never arrives",
          fmt::format("write how fast to go, or {} for the kiln's own pace; delete the row where "
                      "its 0 only marks the end of the program",
                      as_fast_word)};
    }
    if (rate.in_K_per_h() < smallest_rate_K_per_h) {
      throw Error{field.place,
                  fmt::format("rate {} {}/h takes years", field.text, letter(form_.degrees)),
                  "check the digits"};
    }
    if (rate.in_K_per_h() > largest_rate_K_per_h) {
      throw Error{
          field.place,
          fmt::format("rate {} {}/h is above {:.0f}",
                      value,
                      letter(form_.degrees),
                      in_degrees_per_h(Rate::from_K_per_h(largest_rate_K_per_h), form_.degrees)),
          fmt::format("write {} for the kiln's own pace", as_fast_word)};
    }
    const bool is_signed = field.text.starts_with('-') || field.text.starts_with('+');
    if (is_signed && at_ && *at_ != target && (value > 0.0) != (target > *at_)) {
      throw Error{field.place,
                  fmt::format("the sign of rate {} does not fit a step that {}",
                              field.text,
                              target > *at_ ? "heats" : "cools"),
                  "leave the sign out, or check the target"};
    }
    return rate;
  }

  Duration read_minutes(const CsvField& field, std::string_view column) const {
    const double value = read_cell(field, column, comma_is_decimal_);
    if (value < 0.0) {
      throw Error{field.place,
                  fmt::format("{} {}: times run backwards", column, field.text),
                  "write how long the step takes"};
    }
    if (value > longest_min) {
      throw Error{field.place,
                  fmt::format("{} {} is over 1000 days", column, field.text),
                  "check the digits"};
    }
    return minutes(value);
  }

  void read_rate_row(Temperature target, const CsvField& pace, const CsvField& hold_field) {
    const Duration hold =
        hold_field.text.empty() ? Duration{0.0} : read_minutes(hold_field, "hold_min");
    if (!pace.text.empty()) {
      const Pace read =
          pace.text == as_fast_word ? Pace{AsFastAsPossible{}} : Pace{read_rate_cell(pace, target)};
      program_.steps.push_back({target, read, hold, pace.place, ""});
      return;
    }
    if (!first_row_) {
      throw Error{pace.place,
                  "the rate is empty; only a first row, the start, has none",
                  fmt::format("write how fast to go, or {}", as_fast_word)};
    }
    if (hold.count() > 0.0) {
      throw Error{hold_field.place,
                  "a start row has no hold",
                  "write the hold as a row of its own, with a rate"};
    }
    program_.start = target;
  }

  void read_time_row(Temperature target, const CsvField& pace) {
    if (pace.text.empty()) {
      throw Error{pace.place,
                  "minutes is empty",
                  fmt::format("write how long the step takes, or {}", as_fast_word)};
    }
    if (pace.text == as_fast_word) {
      program_.steps.push_back({target, AsFastAsPossible{}, Duration{0.0}, pace.place, ""});
      return;
    }
    const Duration time = read_minutes(pace, "minutes");
    if (time.count() > 0.0) {
      program_.steps.push_back({target, time, Duration{0.0}, pace.place, ""});
      return;
    }
    if (!first_row_) {
      throw Error{pace.place,
                  "0 minutes; only a first row, the start, takes no time",
                  fmt::format("write how long the step takes, or {}; delete the row where its 0 "
                              "only marks the end of the program",
                              as_fast_word)};
    }
    program_.start = target;
  }

  Form form_;
  std::size_t first_;
  bool comma_is_decimal_;
  bool first_row_ = true;
  std::optional<Temperature> at_;
  Program program_;
};

/// The number with the fewest digits, near `near`, that `from_number` turns into `wanted`.
template <class FromNumber>
std::string fewest_digits(double near, double wanted, const FromNumber& from_number) {
  constexpr int most_digits = 17;  // any double is one of its 17-digit numbers
  for (int digits = 1; digits <= most_digits; ++digits) {
    const std::string text = fmt::format("{:.{}e}", near, digits - 1);
    double value = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    if (from_number(value) == wanted) return fmt::format("{}", value);
  }
  for (const double next : {std::nextafter(near, near - 1.0), std::nextafter(near, near + 1.0)}) {
    if (from_number(next) == wanted) return fmt::format("{}", next);
  }
  return fmt::format("{}", near);
}

std::string temperature_digits(Temperature t, Degrees degrees) {
  return fewest_digits(in_degrees(t, degrees), t.in_K(), [degrees](double x) {
    return from_degrees(x, degrees).in_K();
  });
}

std::string rate_digits(Rate rate, Degrees degrees) {
  return fewest_digits(in_degrees_per_h(rate, degrees), rate.in_K_per_s(), [degrees](double x) {
    return rate_from_degrees_per_h(x, degrees).in_K_per_s();
  });
}

std::string minute_digits(Duration time) {
  return fewest_digits(in_min(time), in_s(time), [](double x) { return in_s(minutes(x)); });
}

std::string comment_lines(const std::string& comment) {
  std::string text = "# ";
  for (const char c : comment) text += c == '\n' ? std::string{"\n# "} : std::string{c};
  return text + "\n";
}

std::string step_row(const Step& step, const Program& program) {
  const std::string target = temperature_digits(step.target, program.degrees);
  const bool as_fast = std::holds_alternative<AsFastAsPossible>(step.pace);
  if (program.notation == Notation::time) {
    assert(as_fast || std::holds_alternative<Duration>(step.pace));
    assert(step.hold.count() == 0.0);
    return fmt::format(
        "{},{}\n", target, as_fast ? as_fast_word : minute_digits(std::get<Duration>(step.pace)));
  }
  assert(as_fast || std::holds_alternative<Rate>(step.pace));
  return fmt::format(
      "{},{},{}\n",
      target,
      as_fast ? as_fast_word : rate_digits(std::get<Rate>(step.pace), program.degrees),
      minute_digits(step.hold));
}

Step converted(const Leg& leg, Notation notation) {
  if (std::holds_alternative<AsFastAsPossible>(leg.pace)) return {leg.to, leg.pace, {}, {}, ""};
  const Duration time = *ramp_time(leg.pace, *leg.from, leg.to);
  if (notation == Notation::time) return {leg.to, time, {}, {}, ""};
  if (std::holds_alternative<Rate>(leg.pace)) return {leg.to, leg.pace, {}, {}, ""};
  const double rate_K_per_s = std::abs((leg.to - *leg.from).in_K()) / in_s(time);
  return {leg.to, Rate::from_K_per_s(rate_K_per_s), {}, {}, ""};
}

}  // namespace

Program parse_program(std::string_view text, const std::string& source_name) {
  const CsvTable table = parse_csv(text, source_name);
  const std::size_t first_column = table.header.front().text == "step" ? 1 : 0;
  RowReader reader{read_header(table.header, first_column), first_column, table.separator != ','};
  if (table.rows.size() > most_program_rows) {
    throw Error{table.rows[most_program_rows].front().place,
                fmt::format("a program of more than {} rows", most_program_rows),
                "a log is not a program; write its steps"};
  }
  reader.begin();
  Problems problems;
  for (const std::vector<CsvField>& row : table.rows) {
    try {
      reader.read(row);
    } catch (const Error& error) {
      problems.add(error);
      reader.skip();
    }
  }
  problems.throw_if_any();
  Program program = std::move(reader).program();
  if (program.steps.empty()) {
    throw Error{Place{source_name}, "the program has a start but no step", "add the steps"};
  }
  return program;
}

Program read_program(const std::string& path) {
  return parse_program(read_text_file(path), path);
}

std::string write_program(const Program& program, const std::vector<std::string>& comments) {
  std::string text;
  for (const std::string& comment : comments) text += comment_lines(comment);
  const bool by_rate = program.notation == Notation::rate;
  for (const KnownHeader& known : known_headers()) {
    if (known.form.notation == program.notation && known.form.degrees == program.degrees) {
      text += known.text + "\n";
    }
  }
  if (program.start) {
    text += temperature_digits(*program.start, program.degrees) + (by_rate ? ",,0\n" : ",0\n");
  }
  for (const Step& step : program.steps) {
    if (!step.comment.empty()) text += comment_lines(step.comment);
    text += step_row(step, program);
  }
  return text;
}

Program in_notation(const Program& program, Notation notation, Degrees degrees, Temperature start) {
  Program result;
  result.start = program.start;
  result.notation = notation;
  result.degrees = degrees;
  for (const Leg& leg : legs(program, start)) {
    const Step& step = program.steps[static_cast<std::size_t>(leg.step)];
    std::vector<Step>& steps = result.steps;
    if (!leg.is_hold) {
      steps.push_back(converted(leg, notation));
    } else if (notation == Notation::time) {
      steps.push_back({leg.to, leg.pace, {}, {}, ""});
    } else {
      if (steps.empty()) steps.push_back({leg.to, AsFastAsPossible{}, {}, {}, ""});
      steps.back().hold += std::get<Duration>(leg.pace);
    }
    steps.back().place = step.place;
    if (steps.back().comment.empty()) steps.back().comment = step.comment;
  }
  return result;
}

}  // namespace thickset
