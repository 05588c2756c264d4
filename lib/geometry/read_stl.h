#pragma once

#include "base/place.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// Triangles as a file lists them: each has its own three corners, and none knows its neighbours.
/// The numbers are the file's; its unit is not written in it.
struct TriangleSoup {
  std::vector<Eigen::Vector3d> corners;  ///< three for each triangle; all finite
};

/// More triangles than this, or a larger file, are refused: 5 million take 250 MB in binary form.
inline constexpr std::size_t most_triangles = 5'000'000;
inline constexpr std::size_t largest_stl_bytes = 256u << 20;

/// Reads an STL file, binary or text; which of the two is decided by what stl_is_binary says.
///
/// The normals in the file are not read, nor the colours: the order of the corners says which side
/// is out, and is checked later.
///
/// Throws: one Error: what read_bytes refuses; a file that is no STL file, cut short or longer than
///         it says, without triangles or with too many; a word that does not belong there; a
///         coordinate that is no number, NaN or infinite.
TriangleSoup read_stl(const std::string& path);

/// The same from bytes; `source` names them in messages.
TriangleSoup parse_stl(std::string_view bytes, const std::string& source);

/// Whether the bytes are to be read as binary STL: their number is the one that the count in bytes
/// 80 to 83 asks for, or they do not begin as text does.
///
/// A binary file may begin with "solid" too. No text has the size that four of its characters, read
/// as a count, ask for: the count would be above 150 million.
bool stl_is_binary(std::string_view bytes);

}  // namespace thickset
