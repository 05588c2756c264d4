#include "reporting/firing_record.h"

#include <algorithm>
#include <initializer_list>
#include <utility>

#include <fmt/format.h>

#include "base/problems.h"
#include "base/text.h"

namespace thickset {
namespace {

constexpr std::string_view first_word = "thickset record ";
constexpr std::string_view form = "1";
constexpr std::string_view last_line = "[end]";
constexpr const char* kinds[] = {"glass", "casting", "mould", "kiln", "controller", "input"};

constexpr const char* words_for_people =
    "# One firing: what was asked, the files it was asked of, what came out.\n"
    "# `thickset check FILE` computes it again from what is in here. Lines that begin\n"
    "# with # are for people. An estimate, not a guarantee.\n";

bool is_one_line(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) >= 0x20 && c != 0x7F;
  });
}

std::string line_of(const std::string& name, const std::string& value) {
  if (!is_one_line(name) || !is_one_line(value)) {
    throw Error{
        {.source = "--record"},
        fmt::format(
            "{} {} has a line break or a sign that does not show in it", name, in_quotes(value)),
        "name it otherwise"};
  }
  return fmt::format("{} = {}\n", name, value);
}

/// Reads the lines of a record, each in its section.
class RecordReader {
 public:
  RecordReader(std::string_view text, const std::string& source) : source_{source} {
    int number = 0;
    while (!text.empty()) {
      const std::size_t end = std::min(text.find('\n'), text.size());
      take(text.substr(0, end), ++number);
      text.remove_prefix(std::min(end + 1, text.size()));
    }
    check_whole();
    problems_.throw_if_any();
  }

  FiringRecord record() { return std::move(record_); }

 private:
  void problem(int number, const std::string& what, const std::string& mend) {
    problems_.add(Place{source_, number}, what, mend);
  }

  void take(std::string_view line, int number) {
    if (number == 1) {
      const std::string_view of = trimmed(line.substr(std::min(first_word.size(), line.size())));
      if (of != form) {
        problem(number,
                fmt::format("the record is of form {}, not of form {}", in_quotes(of), form),
                "check it with the program that it names");
      }
      return;
    }
    if (!line.empty() && line.front() == '|') return take_content(line, number);
    const std::string_view content = trimmed(line);
    if (content.empty() || content.front() == '#') return;
    if (ended_) return problem(number, "a line after [end]", "remove it");
    if (content.front() == '[') return begin(content, number);
    const std::size_t sign = content.find('=');
    if (sign == std::string_view::npos || trimmed(content.substr(0, sign)).empty()) {
      return problem(number,
                     fmt::format("{} is not of the form name = value", in_quotes(content)),
                     "put it back as it was written");
    }
    put(std::string{trimmed(content.substr(0, sign))},
        std::string{trimmed(content.substr(sign + 1))},
        number);
  }

  void take_content(std::string_view line, int number) {
    if (section_ != "[file]") {
      return problem(number, "a line of a file outside of [file]", "put it back as it was written");
    }
    const bool spaced = line.size() > 1 && line[1] == ' ';
    record_.files.back().text += std::string{line.substr(spaced ? 2 : 1)} + '\n';
  }

  void begin(std::string_view section, int number) {
    section_ = section;
    if (section == "[file]") {
      record_.files.emplace_back();
      return;
    }
    if (section == last_line) {
      ended_ = true;
      return;
    }
    for (const char* known : {"[firing]", "[options]", "[outcome]"}) {
      if (section == known) return;
    }
    problem(number,
            fmt::format("there is no section {}", in_quotes(section)),
            "write one of [firing], [options], [file], [outcome], [end]");
  }

  void put(const std::string& name, std::string value, int number) {
    const auto field = [&](std::initializer_list<std::pair<const char*, std::string*>> fields) {
      for (const auto& [known, target] : fields) {
        if (name != known) continue;
        *target = std::move(value);
        return;
      }
      problem(number,
              fmt::format("{} has no line {}", section_, in_quotes(name)),
              "put it back as it was written");
    };
    if (section_ == "[firing]") {
      return field({{"written", &record_.written},
                    {"program", &record_.program},
                    {"command", &record_.command},
                    {"operand", &record_.operand}});
    }
    if (section_ == "[file]") {
      FiringRecord::File& file = record_.files.back();
      return field({{"kind", &file.kind}, {"name", &file.name}, {"read_from", &file.read_from}});
    }
    if (section_ == "[options]" || section_ == "[outcome]") {
      std::vector<FiringRecord::Line>& lines =
          section_ == "[options]" ? record_.options : record_.outcome;
      const bool twice = std::any_of(
          lines.begin(), lines.end(), [&](const auto& line) { return line.name == name; });
      if (twice) problem(number, fmt::format("{} stands twice", in_quotes(name)), "remove one");
      lines.push_back({name, std::move(value), number});
      return;
    }
    problem(number, "a line before the first section", "put it back as it was written");
  }

  void check_whole() {
    if (!ended_) problem(0, "has no [end]: it was cut short", "find the whole of it");
    if (record_.command != "check" && record_.command != "now") {
      problem(0,
              fmt::format("its command is {}, not check or now", in_quotes(record_.command)),
              "put it back as it was written");
    }
    for (const FiringRecord::File& file : record_.files) {
      const bool known =
          std::find(std::begin(kinds), std::end(kinds), file.kind) != std::end(kinds);
      if (known && !file.name.empty() && !file.text.empty()) continue;
      problem(0,
              fmt::format("a file of kind {} and name {} is not whole",
                          in_quotes(file.kind),
                          in_quotes(file.name)),
              "put it back as it was written");
    }
  }

  const std::string& source_;
  FiringRecord record_;
  std::string section_;
  bool ended_ = false;
  Problems problems_;
};

}  // namespace

bool looks_like_record(std::string_view text) {
  return text.starts_with(first_word);
}

std::string write_record(const FiringRecord& record) {
  std::string text = fmt::format("{}{}\n{}\n[firing]\n", first_word, form, words_for_people);
  text += line_of("written", record.written) + line_of("program", record.program) +
          line_of("command", record.command);
  if (!record.operand.empty()) text += line_of("operand", record.operand);
  text += "\n[options]\n";
  for (const FiringRecord::Line& option : record.options) {
    text += line_of(option.name, option.value);
  }
  text += "\n[outcome]\n";
  for (const FiringRecord::Line& line : record.outcome) text += line_of(line.name, line.value);
  text += '\n';
  for (const std::string& line : record.for_people) {
    text += line.empty() ? std::string{"#\n"} : "# " + line + '\n';
  }
  for (const FiringRecord::File& file : record.files) {
    text += "\n[file]\n" + line_of("kind", file.kind) + line_of("name", file.name) +
            line_of("read_from", file.read_from);
    std::string_view rest = file.text;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find('\n'), rest.size());
      text += end == 0 ? std::string{"|"} : "| " + std::string{rest.substr(0, end)};
      text += '\n';
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
  }
  return text + '\n' + std::string{last_line} + '\n';
}

FiringRecord parse_record(std::string_view text, const std::string& source) {
  return RecordReader{text, source}.record();
}

}  // namespace thickset
