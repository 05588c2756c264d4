#include "checking/break_causes.h"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <cstdlib>

namespace thickset {
namespace {

struct Row {
  BreakSign sign;
  BreakQuestion question;
  std::array<int, break_causes> points;
};

using enum BreakSign;
using enum BreakQuestion;

// Causes in the order of BreakCause: heating, cooling, stress left, mismatch, stuck, gripped, work.
constexpr std::array<Row, break_signs> rows = {{
    // Glass that softens after it broke rounds its edges; a heat-up broken off leaves them sharp.
    {edges_sharp, edges, {-1, 1, 1, 0, 0, 0, 1}},
    {edges_rounded, edges, {2, -2, -2, -2, -2, -2, -2}},
    {path_straight, path, {1, 2, -1, -1, -1, 0, 0}},
    {path_hooked, path, {0, -1, 2, 0, -1, 0, -1}},
    {path_along_boundary, path, {-1, -1, -1, 2, -1, 0, -1}},
    {path_from_a_spot, path, {-1, -1, -1, -1, 2, 0, 1}},
    {path_from_corner, path, {0, 1, 0, -1, 0, 2, 0}},
    // Heating pulls at the core, where tension that is left pulls already.
    {when_heating, when, {2, -2, 1, 0, -1, -1, -2}},
    {when_cooling, when, {-2, 2, 0, 1, 1, 1, -2}},
    // Found broken then, it may have broken at any time in the kiln.
    {when_opening, when, {0, 2, 1, 1, 1, 1, -2}},
    {when_cold_work, when, {-2, -1, 2, 1, -1, -1, 2}},
    {when_later, when, {-2, -1, 2, 2, -1, -1, 1}},
    {fit_perfect, fit, {-1, 0, 0, 0, 0, 0, 0}},
    {fit_slightly_off, fit, {2, -1, -1, -1, -1, -1, -2}},
    {light_at_boundary, light, {0, 0, -1, 2, 0, 0, 0}},
    {light_all_over, light, {0, 0, 2, -1, 0, 0, 0}},
    {light_none, light, {0, 0, -2, -2, 0, 0, 1}},
}};

const Row& row_of(BreakSign sign) {
  return *std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.sign == sign; });
}

int points_for(const Row& row, BreakCause cause) {
  return row.points[static_cast<std::size_t>(cause)];
}

/// How far the answers to a question can move two causes apart: the range of the difference.
int parts(BreakQuestion question, BreakCause a, BreakCause b) {
  int least = 0, most = 0;
  bool first = true;
  for (const Row& row : rows) {
    if (row.question != question) continue;
    const int difference = points_for(row, a) - points_for(row, b);
    least = first ? difference : std::min(least, difference);
    most = first ? difference : std::max(most, difference);
    first = false;
  }
  return most - least;
}

std::optional<BreakQuestion> next_question(const std::vector<RankedCause>& causes,
                                           std::span<const BreakSign> signs) {
  std::size_t leading = 2;
  while (leading < causes.size() && causes[leading].points >= causes.front().points - 1) ++leading;
  std::optional<BreakQuestion> best;
  int best_sum = 0;
  for (const BreakQuestion question : {light, edges, path, when, fit}) {
    const bool answered = std::any_of(
        signs.begin(), signs.end(), [&](BreakSign sign) { return question_of(sign) == question; });
    if (answered) continue;
    int sum = 0;
    for (std::size_t i = 0; i < leading; ++i) {
      for (std::size_t j = i + 1; j < leading; ++j) {
        sum += parts(question, causes[i].cause, causes[j].cause);
      }
    }
    if (best && sum <= best_sum) continue;
    best = question;
    best_sum = sum;
  }
  return best;
}

/// Strongest first, otherwise as they came.
void sort_by_strength(std::vector<BreakSign>& signs, BreakCause cause) {
  std::stable_sort(signs.begin(), signs.end(), [&](BreakSign a, BreakSign b) {
    return std::abs(points_for(row_of(a), cause)) > std::abs(points_for(row_of(b), cause));
  });
}

}  // namespace

BreakQuestion question_of(BreakSign sign) {
  return row_of(sign).question;
}

std::array<int, break_causes> points_of(BreakSign sign) {
  return row_of(sign).points;
}

BreakRanking rank_causes(std::span<const BreakSign> signs) {
  assert(!signs.empty());
  BreakRanking ranking;
  ranking.signs_disagree = true;
  for (int i = 0; i < break_causes; ++i) {
    RankedCause ranked{
        .cause = static_cast<BreakCause>(i), .points = 0, .speak_for = {}, .speak_against = {}};
    bool strongly_against = false;
    for (const BreakSign sign : signs) {
      const int points = points_for(row_of(sign), ranked.cause);
      ranked.points += points;
      if (points > 0) ranked.speak_for.push_back(sign);
      if (points < 0) ranked.speak_against.push_back(sign);
      if (points <= -2) strongly_against = true;
    }
    if (!strongly_against && ranked.points > 0) ranking.signs_disagree = false;
    sort_by_strength(ranked.speak_for, ranked.cause);
    sort_by_strength(ranked.speak_against, ranked.cause);
    ranking.causes.push_back(ranked);
  }
  std::stable_sort(ranking.causes.begin(),
                   ranking.causes.end(),
                   [](const RankedCause& a, const RankedCause& b) { return a.points > b.points; });
  ranking.next = next_question(ranking.causes, signs);
  return ranking;
}

}  // namespace thickset
