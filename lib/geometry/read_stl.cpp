#include "geometry/read_stl.h"

#include "base/error.h"
#include "base/text_file.h"
#include "geometry/stl_text.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

#include <fmt/format.h>

namespace thickset {
namespace {

// Binary STL: a head of 80 bytes, the number of triangles, then 50 bytes for each: a normal and
// three corners in floats of 4 bytes, and 2 bytes more. All are little-endian.
constexpr std::size_t head_bytes = 84;
constexpr std::size_t triangle_bytes = 50;
constexpr std::size_t normal_bytes = 12;

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
  std::uint32_t number = 0;
  for (std::size_t i = 4; i-- > 0;) {
    number = number << 8 | static_cast<unsigned char>(bytes[at + i]);
  }
  return number;
}

std::size_t count_in_head(std::string_view bytes) {
  return number_at(bytes, head_bytes - 4);
}

/// "solid" in capitals or not, behind spaces or a byte-order mark, and no NUL where a binary head
/// has one: its count is below 2^24.
bool begins_as_text(std::string_view bytes) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  const std::string_view head = bytes.substr(0, head_bytes);
  if (head.find('\0') != head.npos) return false;
  if (bytes.starts_with(byte_order_mark)) bytes.remove_prefix(byte_order_mark.size());
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  if (first == bytes.npos) return false;
  constexpr std::string_view word = "solid";
  const std::string_view start = bytes.substr(first, word.size());
  return std::equal(start.begin(), start.end(), word.begin(), word.end(), [](char is, char as) {
    return (static_cast<unsigned char>(is) | 0x20u) == static_cast<unsigned char>(as);
  });
}

void check_size(std::string_view bytes, const Place& place) {
  const std::string_view mend = "export the model again as STL, and check that it was saved whole";
  if (bytes.size() < head_bytes) {
    throw Error{
        place,
        fmt::format("is no STL file: {} bytes that do not begin with \"solid\"", bytes.size()),
        mend};
  }
  const std::size_t count = count_in_head(bytes);
  const std::size_t asked = head_bytes + triangle_bytes * count;
  if (asked == bytes.size() && count <= most_triangles) return;
  if (count > most_triangles) {
    throw Error{place,
                fmt::format("is no STL file, or too large: read as one it has {} triangles, more "
                            "than {}",
                            count,
                            most_triangles),
                "export the model again as STL, with fewer triangles if it is so fine"};
  }
  throw Error{place,
              fmt::format("is {}: its head says {} triangles, which take {} bytes, and it has {}",
                          asked > bytes.size() ? "cut short" : "longer than it should be",
                          count,
                          asked,
                          bytes.size()),
              mend};
}

TriangleSoup parse_binary(std::string_view bytes, const Place& place) {
  check_size(bytes, place);
  const std::size_t count = count_in_head(bytes);
  TriangleSoup soup;
  soup.corners.reserve(3 * count);
  for (std::size_t triangle = 0; triangle < count; ++triangle) {
    std::size_t at = head_bytes + triangle * triangle_bytes + normal_bytes;
    for (int corner = 0; corner < 3; ++corner) {
      Eigen::Vector3d point;
      for (int axis = 0; axis < 3; ++axis, at += 4) {
        const float number = std::bit_cast<float>(number_at(bytes, at));
        if (!std::isfinite(number)) {
          throw Error{place,
                      fmt::format("triangle {} (byte {}) has a coordinate that is {}",
                                  triangle + 1,
                                  at,
                                  std::isnan(number) ? "not a number" : "infinite"),
                      "repair the model in the program that made it and export it again"};
        }
        point[axis] = static_cast<double>(number);
      }
      soup.corners.push_back(point);
    }
  }
  return soup;
}

}  // namespace

bool stl_is_binary(std::string_view bytes) {
  if (bytes.size() >= head_bytes &&
      bytes.size() == head_bytes + triangle_bytes * count_in_head(bytes)) {
    return true;
  }
  return !begins_as_text(bytes);
}

TriangleSoup parse_stl(std::string_view bytes, const std::string& source) {
  const Place place{source};
  if (bytes.empty()) throw Error{place, "is empty", "check that it was saved whole"};
  TriangleSoup soup =
      stl_is_binary(bytes) ? parse_binary(bytes, place) : parse_stl_text(bytes, source);
  if (soup.corners.empty()) {
    throw Error{place, "holds no triangles", "export the model again; was anything selected?"};
  }
  return soup;
}

TriangleSoup read_stl(const std::string& path) {
  return parse_stl(read_bytes(path, largest_stl_bytes), path);
}

}  // namespace thickset
