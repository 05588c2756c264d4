// Broken files by the thousand: none may crash the reader or the checks, or keep it long. Run with
// the sanitizers too (DEVELOPERS.md).

#include <cstddef>
#include <ctime>
#include <iterator>
#include <random>
#include <string>
#include <string_view>
#include <utility>

#include <doctest/doctest.h>

#include "base/error.h"
#include "geometry/read_solid.h"
#include "geometry/read_stl.h"
#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

using Random = std::mt19937;

std::size_t below(Random& random, std::size_t end) {
  return end == 0 ? 0 : random() % end;
}

/// One change: a byte, a bit, a piece cut out, doubled or moved, an end lost, a word put in.
void mutate(std::string& bytes, Random& random) {
  static constexpr std::string_view words[] = {
      "solid", "facet", "endsolid\n", "vertex 1 2 3", "nan", "1e999", "-", "\xEF\xBB\xBF"};
  const std::size_t at = below(random, bytes.size());
  const std::size_t length = below(random, 60);
  switch (random() % 8) {
    case 0:
      if (!bytes.empty()) bytes[at] = static_cast<char>(random() % 256);
      break;
    case 1:
      if (!bytes.empty()) {
        bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ 1u << random() % 8);
      }
      break;
    case 2: bytes.erase(at, length); break;
    case 3: bytes.insert(at, bytes.substr(below(random, bytes.size()), length)); break;
    case 4: bytes.resize(at); break;
    case 5: bytes.insert(at, words[below(random, std::size(words))]); break;
    case 6:  // a piece of a binary file put at another triangle's place
      if (bytes.size() > 184) {
        const std::size_t n = (bytes.size() - 84) / 50;
        bytes.replace(84 + 50 * below(random, n), 50, bytes.substr(84 + 50 * below(random, n), 50));
      }
      break;
    default:  // the sign and exponent of one coordinate
      if (bytes.size() > 184) {
        const std::size_t n = (bytes.size() - 84) / 50;
        bytes[84 + 50 * below(random, n) + 15 + 4 * below(random, 9)] =
            static_cast<char>(random() % 256);
      }
  }
}

/// Whether the reader takes the bytes; throws what is not an Error.
bool is_read(std::string_view bytes) {
  try {
    static_cast<void>(parse_stl(bytes, "a.stl"));
    return true;
  } catch (const Error&) {
    return false;
  }
}

/// The same of all checks and measures.
bool makes_solid(std::string_view bytes) {
  try {
    static_cast<void>(make_solid(parse_stl(bytes, "a.stl"), Lengths::millimetre, {"a.stl"}, {}));
    return true;
  } catch (const Error&) {
    return false;
  }
}

std::string mutated(Random& random) {
  static const std::string seeds[] = {binary_stl(ball(45.0, 6)),
                                      text_stl(ball(45.0, 4)),
                                      binary_stl(torus(80.0, 25.0, 8), "solid"),
                                      text_stl(box(75.0, 50.0, 120.0, 2)),
                                      binary_stl(tilted(prism(5, 40.0, 90.0)))};
  std::string bytes = seeds[below(random, std::size(seeds))];
  const std::size_t n_changes = 1 + below(random, 4);
  for (std::size_t k = 0; k < n_changes; ++k) mutate(bytes, random);
  return bytes;
}

}  // namespace

TEST_CASE("mutated stl: thousands of broken files are read or refused, each within a second") {
  constexpr double longest_s = 1.0;
  Random random{20};  // the same sequence on every machine
  int n_read = 0;
  int n_refused = 0;
  for (int i = 0; i < 5000; ++i) {
    const std::string bytes = mutated(random);
    CAPTURE(i);
    const std::clock_t start = std::clock();  // of this program alone, however busy the machine
    bool read = false;
    CHECK_NOTHROW(read = is_read(bytes));
    const double taken_s = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    CHECK(taken_s < longest_s);
    ++(read ? n_read : n_refused);
  }
  // Both ends are come to often, else the changes test nothing.
  CHECK(n_read > 500);
  CHECK(n_refused > 500);
}

TEST_CASE("mutated stl: what is read ends in a solid or one error") {
  Random random{22};
  int n_solids = 0;
  int n_errors = 0;
  for (int i = 0; i < 400; ++i) {
    const std::string bytes = mutated(random);
    if (!is_read(bytes)) continue;
    CAPTURE(i);
    bool solid = false;
    CHECK_NOTHROW(solid = makes_solid(bytes));
    ++(solid ? n_solids : n_errors);
  }
  CHECK(n_solids > 5);
  CHECK(n_errors > 40);
}

TEST_CASE("mutated stl: random bytes are no solid") {
  Random random{21};
  for (int i = 0; i < 1000; ++i) {
    std::string bytes(below(random, 600), '\0');
    for (char& c : bytes) c = static_cast<char>(random() % 256);
    if (i % 2 == 0) bytes.insert(0, "solid ");
    CHECK_FALSE(makes_solid(bytes));
  }
}
