#include "manual.h"

#include <sstream>

#include <fmt/format.h>
#include <boost/program_options/options_description.hpp>

#include "command_options.h"
#include "command_table.h"
#include "reporting/cautions.h"

namespace thickset::cli {
namespace {

namespace po = boost::program_options;

std::string bold(const std::string& text) {
  return fmt::format("\\fB{}\\fR", troff_line(text));
}

/// The lines of a text, each on its own; troff fills them.
std::string lines(const std::string& text) {
  std::istringstream from{text};
  std::string shown;
  for (std::string line; std::getline(from, line);) {
    if (!line.empty()) shown += troff_line(line) + '\n';
  }
  return shown;
}

/// What hangs under a label that is troff text already.
std::string hanging(const std::string& label, const std::string& text) {
  return fmt::format(".TP\n{}\n{}", label, lines(text));
}

std::string option_entry(const po::option_description& option) {
  const bool takes_value = option.semantic()->max_tokens() > 0;
  return hanging(bold("--" + option.long_name()) + (takes_value ? " \\fIVALUE\\fR" : ""),
                 option.description());
}

std::string shown_example(const std::string& example) {
  return fmt::format(".PP\n.nf\n.RS 4\n{}.RE\n.fi\n", lines(example));
}

std::string command_section(const CommandInfo& info) {
  std::string text = fmt::format(".SS {}\n{}{}\n.PP\n{}",
                                 info.name,
                                 bold(fmt::format("thickset {}", info.name)),
                                 *info.operand != '\0' ? ' ' + troff_line(info.operand) : "",
                                 lines(info.answers));
  for (const po::options_description& group : groups_of(info.command)) {
    if (group.options().empty()) continue;
    std::ostringstream whole;
    whole << group;  // the caption is told nowhere else; it is the first line, with a colon
    const std::string shown = whole.str();
    text += ".PP\n" + lines(shown.substr(0, shown.find('\n')));
    for (const auto& option : group.options()) text += option_entry(*option);
  }
  return text;
}

/// What a program and a log look like.
std::string file_form(const FileForm& form) {
  std::string text = ".PP\n" + lines(form.what) + ".PP\n.nf\n.RS 4\n";
  for (const FileLine& line : form.lines) {
    text += lines(fmt::format("{:<32} {}", line.text, line.meaning));
  }
  return text + ".RE\n.fi\n.PP\n" + lines(form.more);
}

std::string files_section() {
  std::string forms;
  for (const FileForm& form : files_of(Command::check)) forms += file_form(form);
  return ".SH FILES\n" + forms +
         hanging(bold("glasses/*.glass, castings/*.casting, moulds/*.mould"),
                 "What is cast and what lies against it, in the data folder. `thickset list` names "
                 "them.") +
         hanging(bold("kilns/*.kiln, controllers/*.controller"),
                 "What fires it, in the data folder. A name with a slash in it is a file of your "
                 "own.") +
         hanging(bold("programs/*.csv, logs/*.csv"), "Programs and logs to try, invented.") +
         ".SH ENVIRONMENT\n" +
         hanging(bold("THICKSET_DATA"),
                 "The data folder, where it is not the one beside the program.") +
         hanging(bold("XDG_DATA_HOME"),
                 "Its thickset folder holds glasses, castings, moulds, kilns and controllers of "
                 "your own, found by name before those of the data folder. Unset, empty or "
                 "relative: .local/share of your home.");
}

}  // namespace

std::string troff_line(const std::string& text) {
  std::string shown;
  if (!text.empty() && (text[0] == '.' || text[0] == '\'')) shown = "\\&";
  for (const char c : text) {
    switch (c) {
      case '\\': shown += "\\e"; break;
      case '-': shown += "\\-"; break;
      case '`': shown += "\\(ga"; break;
      case '\'': shown += "\\(aq"; break;
      case '^': shown += "\\(ha"; break;
      case '~': shown += "\\(ti"; break;
      default: shown += c;
    }
  }
  return shown;
}

std::string manual_page() {
  std::string text = fmt::format(
      ".TH THICKSET 1 \"\" \"thickset {}\" \"User Commands\"\n"
      ".SH NAME\nthickset \\- annealing and cooling of thick glass castings\n"
      ".SH SYNOPSIS\n\\fBthickset\\fR \\fICOMMAND\\fR [\\fIoptions\\fR]\n.PP\n"
      "\\fBthickset help\\fR [\\fICOMMAND\\fR | \\fBcautions\\fR | \\fBmanual\\fR]\n"
      ".SH DESCRIPTION\n{}.PP\n{}",
      THICKSET_VERSION,
      lines("thickset works out how hot and how long to hold a thick glass casting, how fast each\n"
            "stage of its cooling may be, and what to key into the controller. It checks programs\n"
            "and logs of firings. It simulates; its answers are estimates."),
      lines("Every quantity carries its unit: 75mm or 3in, 513C or 955F, 9C/h, 20nm/cm, 3MPa.\n"
            "Options are written as --name value or --name=value.") +
          lines(standard_input_words()));
  text += ".SH COMMANDS\n";
  for (const CommandInfo& info : all_commands()) text += command_section(info);
  text += ".SH EXIT STATUS\n";
  for (const ExitMeaning& exit : exit_meanings()) {
    text += hanging(bold(std::to_string(exit.status)), exit.meaning);
  }
  text += files_section() + ".SH EXAMPLES\n";
  for (const CommandInfo& info : all_commands()) {
    text += ".PP\n" + lines(info.answers) + shown_example(info.example);
  }
  return text + ".SH CAUTIONS\n" + lines(whole_cautions());
}

}  // namespace thickset::cli
