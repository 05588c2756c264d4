#include <sstream>

#include <fmt/format.h>
#include <boost/program_options/options_description.hpp>

#include "base/text.h"
#include "command_options.h"
#include "command_table.h"
#include "completion.h"
#include "manual.h"
#include "options.h"
#include "reporting/cautions.h"

namespace thickset::cli {
namespace {

std::string exit_statuses() {
  std::string text = "Exit status:";
  for (const ExitMeaning& exit : exit_meanings()) {
    fmt::format_to(std::back_inserter(text),
                   "{} {} {}",
                   exit.status == exit_meanings().front().status ? "" : ",",
                   exit.status,
                   exit.meaning);
  }
  return text + '.';
}

/// What the files of a command look like, as a group of its page.
std::string file_forms(Command command) {
  std::string text;
  for (const FileForm& form : files_of(command)) {
    fmt::format_to(std::back_inserter(text), "{}  {}\n", text.empty() ? "Files:\n" : "", form.what);
    for (const FileLine& line : form.lines) {
      text += wrapped(fmt::format("    {:<32} {}", line.text, line.meaning), 78, 4) + '\n';
    }
    text += wrapped(fmt::format("  {}", form.more), 78, 2) + '\n';
  }
  return text.empty() ? text : text + '\n';
}

}  // namespace

std::string help_text(const std::string& topic) {
  if (topic == "cautions") return whole_cautions();
  if (topic == "manual") return manual_page();
  if (is_completion_topic(topic)) return completion_text(topic);
  std::string text;
  for (const CommandInfo& info : all_commands()) {
    if (topic != info.name) continue;
    text = fmt::format("thickset {}{}{} [options]\n{}\n\n",
                       info.name,
                       *info.operand != '\0' ? " " : "",
                       info.operand,
                       wrapped(info.answers, 78, 0));
    if (reads_programs(info.command)) text += standard_input_words() + std::string{"\n\n"};
    for (const boost::program_options::options_description& group : groups_of(info.command)) {
      fmt::format_to(std::back_inserter(text), "{}\n", [&] {
        std::ostringstream shown;
        shown << group;
        return shown.str();
      }());
    }
    text += file_forms(info.command);
    return text + wrapped(fmt::format("Example: {}", info.example), 79, 9) + '\n';
  }
  text =
      "thickset: annealing and cooling of thick glass castings.\n\n"
      "thickset COMMAND [options]\n\n";
  for (const CommandInfo& info : all_commands()) {
    text += wrapped(fmt::format("  {:<8} {}", info.name, info.answers), 78, 11) + '\n';
  }
  return text +
         "\nEvery quantity carries its unit: 75mm or 3in, 513C or 955F, 9C/h, 20nm/cm, 3MPa.\n"
         "`thickset COMMAND --help` shows a command's options, `thickset help cautions`\n"
         "the cautions in full, `thickset help manual` a man page,\n"
         "`thickset help completion SHELL` a completion script for bash, zsh or fish.\n" +
         wrapped(exit_statuses(), 79, 0) + "\n\n" + short_cautions();
}

}  // namespace thickset::cli
