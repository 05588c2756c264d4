#include "checking/limits.h"

#include <array>
#include <cctype>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "units/read_quantity.h"

namespace thickset {

namespace {

constexpr double smallest_grade_nm_per_cm = 0.5;
constexpr double largest_grade_nm_per_cm = 1000.0;
constexpr double smallest_tension_MPa = 0.2;
constexpr double largest_tension_MPa = 7.0;
constexpr double raw_MPa = 3.0;
constexpr double ground_MPa = 4.0;

struct Word {
  std::string_view word;
  double value;
  const char* reason;
};

constexpr std::array<Word, 3> grades = {{
    {"coarse", 20.0, "coarse: above it an anneal is coarse, ISO 10110-18"},
    {"fine", 10.0, "fine: below it an anneal is fine, ISO 10110-18"},
    {"precision", 5.0, "precision: for precision work, ISO 10110-18"},
}};

constexpr std::array<Word, 2> surfaces = {{
    {"raw", raw_MPa, "raw or unknown cast surface, assumed"},
    {"ground", ground_MPa, "ground all over, assumed"},
}};

/// The word that was typed; nullptr where the text is no word. `mend` says what is known.
template <std::size_t count>
const Word* find_word(std::string_view text,
                      const Place& place,
                      const std::array<Word, count>& words,
                      std::string_view mend) {
  const std::string_view typed = trimmed(text);
  for (const Word& known : words) {
    if (typed == known.word) return &known;
  }
  const bool is_word = !typed.empty() && std::isalpha(static_cast<unsigned char>(typed[0])) != 0;
  if (is_word) throw Error{place, in_quotes(typed) + " is not known", std::string{mend}};
  return nullptr;
}

std::string reason_of_typed_tension(double tension_MPa) {
  if (tension_MPa > ground_MPa) {
    return "as typed: only for flaw-free faces without re-entrant corners; annealed glass carries "
           "6.9 MPa under long load";
  }
  if (tension_MPa > raw_MPa) return "as typed: more than raw or unknown cast surfaces are given";
  return "as typed";
}

}  // namespace

Limit<Retardation> read_grade(std::string_view text, const Place& place) {
  const Word* const word =
      find_word(text, place, grades, "write coarse, fine, precision, or nm/cm such as 20nm/cm");
  if (word != nullptr) return {Retardation::from_nm_per_cm(word->value), word->reason};
  const Retardation grade = read_retardation(text, place);
  const double nm_per_cm = grade.in_nm_per_cm();
  if (!(nm_per_cm >= smallest_grade_nm_per_cm && nm_per_cm <= largest_grade_nm_per_cm)) {
    throw Error{place,
                fmt::format("{:g} nm/cm is outside {:g} to {:g} nm/cm",
                            nm_per_cm,
                            smallest_grade_nm_per_cm,
                            largest_grade_nm_per_cm),
                "2 nm/cm is for precision optics, 10 a fine anneal, 20 the default"};
  }
  return {grade, "as typed"};
}

Limit<Stress> read_tension(std::string_view text, const Place& place) {
  const Word* const word = find_word(
      text, place, surfaces, "write raw (3 MPa), ground (4 MPa), or a stress such as 3MPa");
  if (word != nullptr) return {Stress::from_MPa(word->value), word->reason};
  const Stress tension = read_stress_within(
      text, place, Stress::from_MPa(smallest_tension_MPa), Stress::from_MPa(largest_tension_MPa));
  const double tension_MPa = tension.in_MPa();
  if (!(tension_MPa >= smallest_tension_MPa && tension_MPa <= largest_tension_MPa)) {
    throw Error{place,
                fmt::format("{:g} MPa is outside {:g} to {:g} MPa",
                            tension_MPa,
                            smallest_tension_MPa,
                            largest_tension_MPa),
                "annealed glass carries about 7 MPa for long at best, without flaws or inner "
                "corners"};
  }
  return {tension, reason_of_typed_tension(tension_MPa)};
}

}  // namespace thickset
