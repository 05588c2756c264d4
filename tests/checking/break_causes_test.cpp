#include <algorithm>
#include <vector>

#include <doctest/doctest.h>

#include "checking/break_causes.h"

using namespace thickset;

namespace {

using Signs = std::vector<BreakSign>;

BreakCause first_of(const Signs& signs) {
  return rank_causes(signs).causes.front().cause;
}

int points_of(const Signs& signs, BreakCause cause) {
  for (const RankedCause& ranked : rank_causes(signs).causes) {
    if (ranked.cause == cause) return ranked.points;
  }
  return -100;
}

}  // namespace

// Common practice, no source: what a table of broken pieces usually says.
TEST_CASE("break: each usual sign leads to its usual cause") {
  CHECK(first_of({BreakSign::edges_rounded}) == BreakCause::heating_shock);
  CHECK(first_of({BreakSign::path_straight, BreakSign::edges_sharp}) == BreakCause::cooling_shock);
  CHECK(first_of({BreakSign::path_hooked, BreakSign::edges_sharp}) == BreakCause::stress_left);
  CHECK(first_of({BreakSign::path_along_boundary}) == BreakCause::mismatch);
  CHECK(first_of({BreakSign::path_from_a_spot}) == BreakCause::stuck);
  CHECK(first_of({BreakSign::path_from_corner}) == BreakCause::gripped);
  CHECK(first_of({BreakSign::fit_slightly_off}) == BreakCause::heating_shock);
  CHECK(first_of({BreakSign::light_at_boundary}) == BreakCause::mismatch);
  CHECK(first_of({BreakSign::light_all_over}) == BreakCause::stress_left);
  CHECK(first_of({BreakSign::when_cold_work, BreakSign::light_none}) ==
        BreakCause::damage_from_work);
}

TEST_CASE("break: points are the sum over the signs, whatever their order") {
  const Signs one_way = {BreakSign::edges_sharp, BreakSign::path_hooked, BreakSign::when_later};
  const Signs other_way = {BreakSign::when_later, BreakSign::edges_sharp, BreakSign::path_hooked};
  for (int i = 0; i < break_causes; ++i) {
    const auto cause = static_cast<BreakCause>(i);
    int sum = 0;
    for (const BreakSign sign : one_way) sum += points_of({sign}, cause);
    CHECK(points_of(one_way, cause) == sum);
    CHECK(points_of(other_way, cause) == sum);
  }
}

TEST_CASE("break: any subset of answers is ranked, all causes once, most points first") {
  std::vector<Signs> answers(break_questions);
  for (int i = 0; i < break_signs; ++i) {
    const auto sign = static_cast<BreakSign>(i);
    answers[static_cast<std::size_t>(question_of(sign))].push_back(sign);
  }
  std::vector<Signs> subsets = {{}};
  for (const Signs& of_one : answers) {
    const std::size_t before = subsets.size();
    for (std::size_t i = 0; i < before; ++i) {
      for (const BreakSign sign : of_one) {
        subsets.push_back(subsets[i]);
        subsets.back().push_back(sign);
      }
    }
  }
  CHECK(subsets.size() == 3 * 6 * 6 * 3 * 4);
  for (const Signs& signs : subsets) {
    if (signs.empty()) continue;
    const BreakRanking ranking = rank_causes(signs);
    REQUIRE(ranking.causes.size() == break_causes);
    CHECK(std::is_sorted(ranking.causes.begin(),
                         ranking.causes.end(),
                         [](const auto& a, const auto& b) { return a.points > b.points; }));
    // What is asked next was not answered; nothing is asked only where all were.
    if (ranking.next) {
      for (const BreakSign sign : signs) CHECK(question_of(sign) != *ranking.next);
    } else {
      CHECK(signs.size() == break_questions);
    }
  }
}

TEST_CASE("break: the next question is the one that can part the leaders most") {
  // Stress left, mismatch and damage lead: over their three pairs light moves 6 + 5 + 5 points.
  CHECK(rank_causes(Signs{BreakSign::when_later}).next == BreakQuestion::light);
  // Then stress left leads mismatch: the path can move 5 points between them, edges 1, fit none.
  CHECK(rank_causes(Signs{BreakSign::when_later, BreakSign::light_all_over}).next ==
        BreakQuestion::path);
}

TEST_CASE("break: signs that exclude each other are said to, others are not") {
  CHECK(rank_causes(Signs{BreakSign::edges_rounded, BreakSign::when_later}).signs_disagree);
  CHECK_FALSE(rank_causes(Signs{BreakSign::edges_sharp, BreakSign::when_later}).signs_disagree);
  CHECK_FALSE(rank_causes(Signs{BreakSign::edges_rounded}).signs_disagree);
}
