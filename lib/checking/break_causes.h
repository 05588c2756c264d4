#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

/// Likely causes of a break, ranked by what was seen. Never a verdict.
namespace thickset {

enum class BreakCause {
  heating_shock,    ///< heated too fast: the core was pulled
  cooling_shock,    ///< cooled or opened too fast: the surface was pulled
  stress_left,      ///< permanent stress that annealing left
  mismatch,         ///< two glasses that shrink unlike
  stuck,            ///< held by shelf or mould in one spot
  gripped,          ///< squeezed by mould or core, or thick beside thin
  damage_from_work  ///< a blow, a clamp, the heat of a saw or a lap
};
inline constexpr int break_causes = 7;

/// What may be asked about a broken piece.
enum class BreakQuestion { edges, path, when, fit, light };
inline constexpr int break_questions = 5;

/// Answers to the questions, in their order.
enum class BreakSign {
  edges_sharp,
  edges_rounded,
  path_straight,
  path_hooked,
  path_along_boundary,
  path_from_a_spot,
  path_from_corner,
  when_heating,
  when_cooling,
  when_opening,
  when_cold_work,
  when_later,
  fit_perfect,
  fit_slightly_off,
  light_at_boundary,
  light_all_over,
  light_none
};
inline constexpr int break_signs = 17;

BreakQuestion question_of(BreakSign sign);

/// The points a sign gives to each cause: 1 speaks for it, 2 strongly, -1 and -2 against it.
/// Source: common practice, no source.
std::array<int, break_causes> points_of(BreakSign sign);

struct RankedCause {
  BreakCause cause;
  int points = 0;                        ///< sum over the signs
  std::vector<BreakSign> speak_for;      ///< strongest first
  std::vector<BreakSign> speak_against;  ///< likewise
};

struct BreakRanking {
  std::vector<RankedCause> causes;  ///< all, most points first; equal ones in the enum's order
  /// What to find out next; nothing where every question is answered.
  std::optional<BreakQuestion> next;
  /// No cause has more for it than against it and nothing strongly against it: a sign may be
  /// misread.
  bool signs_disagree = false;
};

/// Causes by the sum of their points.
///
/// The next question is the one whose answers can move the leading causes apart the most: over
/// every pair of those within one point of the first, or of the first two, the widest range of the
/// difference that its answers make, summed.
///
/// In:     at least one sign, at most one of each question.
BreakRanking rank_causes(std::span<const BreakSign> signs);

}  // namespace thickset
