#include "completion.h"

#include <set>

#include <fmt/format.h>
#include <boost/program_options/options_description.hpp>

#include "command_options.h"
#include "command_table.h"
#include "inputs.h"

namespace thickset::cli {
namespace {

namespace po = boost::program_options;

/// Options whose value is a name from `list`.
struct NamedOption {
  const char* option;
  DataKind kind;
};
constexpr NamedOption named_options[] = {{"glass", glasses},
                                         {"casting", castings},
                                         {"kiln", kilns},
                                         {"controller", controllers}};
constexpr DataKind kinds[] = {glasses, castings, moulds, kilns, controllers};
constexpr const char* help_topics = "cautions manual completion";

std::string command_names() {
  std::string names;
  for (const CommandInfo& info : all_commands()) names += std::string{info.name} + ' ';
  return names + "help";
}

std::string option_names(Command command) {
  std::string names;
  for (const po::options_description& group : groups_of(command)) {
    for (const auto& option : group.options()) {
      names += (names.empty() ? "--" : " --") + option->long_name();
    }
  }
  return names;
}

/// In single quotes, which the three shells take as they are but for `quote` inside.
std::string quoted(const std::string& text, const char* quote) {
  std::string shown = "'";
  for (const char c : text) shown += c == '\'' ? std::string{quote} : std::string{c};
  return shown + '\'';
}

/// The branches of a case on the option before the word: which names to ask for.
std::string cases_of_names() {
  std::string text;
  for (const NamedOption& named : named_options) {
    text += fmt::format("    --{}) kind={} ;;\n", named.option, named.kind.folder);
  }
  return text;
}

std::string kinds_listed() {
  std::string text;
  for (const DataKind& kind : kinds) text += (text.empty() ? "" : " ") + std::string{kind.folder};
  return text;
}

std::string bash_script() {
  std::string text = fmt::format(
      R"(# Completion of thickset for bash.
_thickset() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}}
  local program=${{COMP_WORDS[0]}} candidates= kind=
  # "--name=value" comes as three words.
  if [[ $word == = ]]; then
    word=
  elif [[ $before == = ]]; then
    before=${{COMP_WORDS[COMP_CWORD-2]}}
  fi
  case $before in
{}  esac
  if (( COMP_CWORD == 1 )); then
    candidates='{}'
  elif [[ -n $kind ]]; then
    candidates=$("$program" help completion "$kind" 2>/dev/null)
  else
    case ${{COMP_WORDS[1]}} in
)",
      cases_of_names(),
      command_names());
  for (const CommandInfo& info : all_commands()) {
    const bool lists = info.command == Command::list;
    text += fmt::format("      {}) candidates='{}{}' ;;\n",
                        info.name,
                        option_names(info.command),
                        lists ? ' ' + kinds_listed() : "");
  }
  return text + fmt::format(R"(      help) candidates='{} {}' ;;
    esac
    [[ ${{COMP_WORDS[1]}} == help && $before == completion ]] && candidates='bash zsh fish'
  fi
  COMPREPLY=($(compgen -W "$candidates" -- "$word"))
}}
complete -o default -F _thickset thickset
)",
                            command_names(),
                            help_topics);
}

std::string zsh_script() {
  std::string text = fmt::format(
      R"(#compdef thickset
# Completion of thickset for zsh.
_thickset() {{
  local -a candidates
  local kind=
  case $words[CURRENT-1] in
{}  esac
  if (( CURRENT == 2 )); then
    candidates=(
)",
      cases_of_names());
  for (const CommandInfo& info : all_commands()) {
    text +=
        fmt::format("      {}\n", quoted(fmt::format("{}:{}", info.name, info.answers), "'\\''"));
  }
  text += R"zsh(      'help:what a command takes'
    )
    _describe command candidates
    return
  fi
  if [[ -n $kind ]]; then
    candidates=(${(f)"$($words[1] help completion $kind 2>/dev/null)"})
    compadd -a candidates
    _files
    return
  fi
  case $words[2] in
)zsh";
  for (const CommandInfo& info : all_commands()) {
    const bool lists = info.command == Command::list;
    text += fmt::format("    {}) candidates=({}{}) ;;\n",
                        info.name,
                        option_names(info.command),
                        lists ? ' ' + kinds_listed() : "");
  }
  return text + fmt::format(R"(    help) candidates=({} {}) ;;
  esac
  compadd -a candidates
  [[ $words[CURRENT] == -* ]] || _files
}}
if [[ $funcstack[1] == _thickset ]]; then
  _thickset "$@"
else
  compdef _thickset thickset
fi
)",
                            command_names(),
                            help_topics);
}

std::string fish_script() {
  const char* const quote = "\\'";
  std::string text = "# Completion of thickset for fish.\n";
  for (const CommandInfo& info : all_commands()) {
    text += fmt::format("complete -c thickset -n __fish_use_subcommand -f -a {} -d {}\n",
                        info.name,
                        quoted(info.answers, quote));
  }
  text += fmt::format(
      "complete -c thickset -n __fish_use_subcommand -f -a help -d 'what a command takes'\n"
      "complete -c thickset -n '__fish_seen_subcommand_from help' -f -a '{} {}'\n"
      "complete -c thickset -n '__fish_seen_subcommand_from list' -f -a '{}'\n",
      command_names(),
      help_topics,
      kinds_listed());
  for (const CommandInfo& info : all_commands()) {
    for (const po::options_description& group : groups_of(info.command)) {
      for (const auto& option : group.options()) {
        std::string value = option->semantic()->max_tokens() > 0 ? " -r" : "";
        for (const NamedOption& named : named_options) {
          if (option->long_name() != named.option) continue;
          value +=
              fmt::format(" -a '(thickset help completion {} 2>/dev/null)'", named.kind.folder);
        }
        text +=
            fmt::format("complete -c thickset -n '__fish_seen_subcommand_from {}' -l {}{} -d {}\n",
                        info.name,
                        option->long_name(),
                        value,
                        quoted(option->description(), quote));
      }
    }
  }
  return text;
}

}  // namespace

bool is_completion_topic(const std::string& topic) {
  for (const DataKind& kind : kinds) {
    if (topic == kind.folder) return true;
  }
  return topic == "bash" || topic == "zsh" || topic == "fish";
}

std::string completion_text(const std::string& topic) {
  if (topic == "bash") return bash_script();
  if (topic == "zsh") return zsh_script();
  if (topic == "fish") return fish_script();
  std::string text;
  for (const DataKind& kind : kinds) {
    if (topic != kind.folder) continue;
    for (const std::string& name : names_of(kind)) text += name + '\n';
  }
  return text;
}

}  // namespace thickset::cli
