#include "reporting/break_report.h"

#include "commands.h"
#include "inputs.h"

namespace thickset::cli {
namespace {

/// The answers that the options of the questions give, in the order of the signs.
std::vector<BreakSign> signs_of(const Typed& typed) {
  std::vector<BreakSign> signs;
  for (int q = 0; q < break_questions; ++q) {
    const auto question = static_cast<BreakQuestion>(q);
    std::vector<std::pair<std::string, BreakSign>> words;
    for (int i = 0; i < break_signs; ++i) {
      const auto sign = static_cast<BreakSign>(i);
      if (question_of(sign) == question) words.emplace_back(word(sign), sign);
    }
    if (const auto sign = typed.choice<BreakSign>(word(question), words)) signs.push_back(*sign);
  }
  return signs;
}

}  // namespace

ExitStatus why(const Options& options) {
  const std::vector<BreakSign> signs = signs_of(options.typed);
  if (signs.empty()) {
    throw Error{{},
                "why needs one sign at least",
                "write for example --edges sharp, --path hooked, --when later"};
  }
  const BreakRanking ranking = rank_causes(signs);
  switch (options.format) {
    case Format::text: deliver(options, break_text(signs, ranking)); break;
    case Format::csv: deliver(options, break_csv(ranking)); break;
    case Format::keys: deliver(options, break_keys(ranking)); break;
  }
  return fine;
}

}  // namespace thickset::cli
