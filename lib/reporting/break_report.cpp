#include "reporting/break_report.h"

#include <fmt/format.h>

#include "reporting/cautions.h"
#include "reporting/display.h"

namespace thickset {
namespace {

struct CauseWords {
  const char* key;
  const char* name;
  const char* told_by;
};

CauseWords words_of(BreakCause cause) {
  switch (cause) {
    case BreakCause::heating_shock:
      return {
          "heating-shock",
          "heated too fast",
          "edges that softened after the break, and a log of the heat-up: most such breaks are "
          "made below 300 °C. Were the edges sharp, and the glass went on to soften, it was not "
          "this."};
    case BreakCause::cooling_shock:
      return {"cooling-shock",
              "cooled or opened too fast",
              "a log of the cooling through `thickset check`, and how warm the middle was when the "
              "kiln was opened."};
    case BreakCause::stress_left:
      return {"stress-left",
              "stress that annealing left",
              "light between crossed polarisers in what is whole yet, looking along the faces: "
              "`thickset reading`. A break lets much of it out, so little light in small pieces "
              "tells nothing."};
    case BreakCause::mismatch:
      return {"mismatch",
              "two glasses that shrink unlike",
              "light that hugs the boundary of the two between crossed polarisers, and the two "
              "fired alone the same way. No annealing cures it."};
    case BreakCause::stuck:
      return {"stuck",
              "stuck to shelf or mould",
              "bits of mould or shelf in the glass where the cracks meet."};
    case BreakCause::gripped:
      return {"gripped",
              "squeezed by mould or core, or thick beside thin",
              "cracks that begin in an inner corner, round a core, or where thick meets thin; a "
              "hard core or an undercut."};
    case BreakCause::damage_from_work:
      return {"damage-from-work",
              "a blow, a clamp, the heat of a saw or a lap",
              "a bruise where the crack begins; whether the water failed; whether the same tool "
              "cracks a piece that shows no light."};
  }
  return {"", "", ""};
}

const char* sentence(BreakSign sign) {
  switch (sign) {
    case BreakSign::edges_sharp: return "sharp edges";
    case BreakSign::edges_rounded: return "rounded edges";
    case BreakSign::path_straight: return "a crack straight through";
    case BreakSign::path_hooked: return "a crack that curves or hooks";
    case BreakSign::path_along_boundary: return "a crack along a boundary of two glasses";
    case BreakSign::path_from_a_spot: return "cracks that run from one spot";
    case BreakSign::path_from_corner: return "a crack from an inner corner or a core";
    case BreakSign::when_heating: return "seen while heating";
    case BreakSign::when_cooling: return "seen while cooling";
    case BreakSign::when_opening: return "found or heard at opening";
    case BreakSign::when_cold_work: return "under cold work";
    case BreakSign::when_later: return "days to years later";
    case BreakSign::fit_perfect: return "pieces that fit perfectly";
    case BreakSign::fit_slightly_off: return "pieces that no longer fit";
    case BreakSign::light_at_boundary: return "light that hugs a boundary";
    case BreakSign::light_all_over: return "light all over";
    case BreakSign::light_none: return "no light";
  }
  return "";
}

const char* question_in_words(BreakQuestion question) {
  switch (question) {
    case BreakQuestion::edges:
      return "are the edges of the crack sharp, or rounded? (--edges sharp, rounded)";
    case BreakQuestion::path:
      return "which way does the crack run? (--path straight, hooked, along-boundary, from-a-spot, "
             "from-corner)";
    case BreakQuestion::when:
      return "when did it break? (--when heating, cooling, opening, cold-work, later)";
    case BreakQuestion::fit: return "do the pieces still fit? (--fits perfectly, slightly-off)";
    case BreakQuestion::light:
      return "where is light between crossed polarisers, the piece seen along its faces? (--light "
             "at-boundary, all-over, none)";
  }
  return "";
}

std::string joined(const std::vector<BreakSign>& signs, BreakCause cause) {
  std::string text;
  for (const BreakSign sign : signs) {
    const int points = points_of(sign)[static_cast<std::size_t>(cause)];
    const bool strong = points >= 2 || points <= -2;
    text += fmt::format(
        "{}{}{}", text.empty() ? "" : ", ", sentence(sign), strong ? " (strongly)" : "");
  }
  return text;
}

std::string signed_number(int points) {
  return points == 0 ? "0" : fmt::format("{:+d}", points);
}

std::string cause_section(int rank, const RankedCause& ranked) {
  const CauseWords words = words_of(ranked.cause);
  std::string text =
      wrapped(fmt::format("{}. {} ({})", rank, words.name, signed_number(ranked.points))) + '\n';
  const auto line = [&](const char* head, const std::string& body) {
    if (!body.empty()) text += wrapped(fmt::format("   {:<10} {}", head, body), 79, 14) + '\n';
  };
  line("for:", joined(ranked.speak_for, ranked.cause));
  line("against:", joined(ranked.speak_against, ranked.cause));
  line("told by:", words.told_by);
  return text;
}

/// The leading cause, or those that share the lead.
std::string leaders(const BreakRanking& ranking) {
  std::string text;
  for (const RankedCause& ranked : ranking.causes) {
    if (ranked.points < ranking.causes.front().points) break;
    text += fmt::format("{}{}", text.empty() ? "" : "; or ", words_of(ranked.cause).name);
  }
  return text;
}

}  // namespace

const char* word(BreakQuestion question) {
  switch (question) {
    case BreakQuestion::edges: return "edges";
    case BreakQuestion::path: return "path";
    case BreakQuestion::when: return "when";
    case BreakQuestion::fit: return "fits";
    case BreakQuestion::light: return "light";
  }
  return "";
}

const char* word(BreakSign sign) {
  switch (sign) {
    case BreakSign::edges_sharp: return "sharp";
    case BreakSign::edges_rounded: return "rounded";
    case BreakSign::path_straight: return "straight";
    case BreakSign::path_hooked: return "hooked";
    case BreakSign::path_along_boundary: return "along-boundary";
    case BreakSign::path_from_a_spot: return "from-a-spot";
    case BreakSign::path_from_corner: return "from-corner";
    case BreakSign::when_heating: return "heating";
    case BreakSign::when_cooling: return "cooling";
    case BreakSign::when_opening: return "opening";
    case BreakSign::when_cold_work: return "cold-work";
    case BreakSign::when_later: return "later";
    case BreakSign::fit_perfect: return "perfectly";
    case BreakSign::fit_slightly_off: return "slightly-off";
    case BreakSign::light_at_boundary: return "at-boundary";
    case BreakSign::light_all_over: return "all-over";
    case BreakSign::light_none: return "none";
  }
  return "";
}

std::string break_text(std::span<const BreakSign> signs, const BreakRanking& ranking) {
  std::string text =
      ranking.signs_disagree
          ? wrapped(
                "These signs do not go together: each cause has something against it. Look "
                "again; a piece that was fired after it broke has rounded edges whatever "
                "broke it.")
          : wrapped(fmt::format("Look first at: {}. This is no verdict.", leaders(ranking)));
  text += "\n\nSeen: ";
  std::string seen;
  for (const BreakSign sign : signs)
    seen += (seen.empty() ? "" : ", ") + std::string{sentence(sign)};
  text = text + wrapped(seen, 72) + "\n\nBy what speaks for them:\n";
  int rank = 0;
  std::string rest;
  for (const RankedCause& ranked : ranking.causes) {
    if (ranked.points > 0) {
      text += cause_section(++rank, ranked);
    } else {
      rest += fmt::format("{}{} ({})",
                          rest.empty() ? "" : ", ",
                          words_of(ranked.cause).name,
                          signed_number(ranked.points));
    }
  }
  if (rank == 0) text += "  none\n";
  if (!rest.empty()) text += wrapped("Less by these signs: " + rest + ".") + '\n';
  text += '\n';
  if (ranking.next) {
    text +=
        wrapped(fmt::format("What would help most next: {}", question_in_words(*ranking.next))) +
        '\n';
  } else {
    text += wrapped(
                "Every question is answered; a log of the firing and a witness piece of clear "
                "glass would tell more.") +
            '\n';
  }
  text += '\n' +
          wrapped(
              "How it is counted: a sign that speaks for a cause counts 1, strongly 2; against "
              "it -1 or -2. Every one of them is common practice, no source was found. Two "
              "causes often work together: stress that is left makes a smaller shock enough.") +
          "\n\n" +
          wrapped(
              "If it is still in the kiln: do not reheat, do not open; stay clear, let it cool "
              "closed. Pieces can burst when touched.") +
          '\n';
  return text + '\n' + short_cautions();
}

std::string break_csv(const BreakRanking& ranking) {
  std::string text = "rank,cause,points\n";
  int rank = 0;
  for (const RankedCause& ranked : ranking.causes) {
    text += fmt::format("{},{},{}\n", ++rank, words_of(ranked.cause).key, ranked.points);
  }
  return text;
}

std::string break_keys(const BreakRanking& ranking) {
  std::string text;
  int rank = 0;
  for (const RankedCause& ranked : ranking.causes) {
    text += fmt::format("cause_{} = {}\n", ++rank, words_of(ranked.cause).key);
    text += fmt::format("cause_{}_points = {}\n", rank, ranked.points);
  }
  text += fmt::format("signs_disagree = {}\n", ranking.signs_disagree ? "yes" : "no");
  return text + fmt::format("next_question = {}\n", ranking.next ? word(*ranking.next) : "none");
}

}  // namespace thickset
