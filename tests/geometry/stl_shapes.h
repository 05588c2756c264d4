#pragma once

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <Eigen/Geometry>

#include "geometry/read_stl.h"

/// Surfaces of simple solids as triangles, and STL files of them as bytes.
namespace thickset::stl_shapes {

using Point = Eigen::Vector3d;

inline void add(TriangleSoup& soup, const Point& a, const Point& b, const Point& c) {
  soup.corners.insert(soup.corners.end(), {a, b, c});
}
/// Four corners, counter-clockwise seen from outside.
inline void add(TriangleSoup& soup,
                const Point& a,
                const Point& b,
                const Point& c,
                const Point& d) {
  add(soup, a, b, c);
  add(soup, a, c, d);
}
inline void append(TriangleSoup& soup, const TriangleSoup& more) {
  soup.corners.insert(soup.corners.end(), more.corners.begin(), more.corners.end());
}

template <class Map>
TriangleSoup mapped(TriangleSoup soup, Map&& map) {
  for (Point& corner : soup.corners) corner = map(corner);
  return soup;
}
inline TriangleSoup moved(const TriangleSoup& soup, const Point& by) {
  return mapped(soup, [&](const Point& p) -> Point { return p + by; });
}
/// Turned about an axis that is none of the three, so that nothing lies along them.
inline TriangleSoup tilted(const TriangleSoup& soup) {
  const Eigen::Matrix3d turn =
      Eigen::AngleAxisd{0.7, Point{1.0, 2.0, 3.0}.normalized()}.toRotationMatrix();
  return mapped(soup, [&](const Point& p) -> Point { return turn * p; });
}
inline TriangleSoup turned_inside_out(TriangleSoup soup) {
  for (std::size_t i = 0; i < soup.corners.size(); i += 3) {
    std::swap(soup.corners[i + 1], soup.corners[i + 2]);
  }
  return soup;
}

/// From the origin to (x, y, z); each face in n x n parts.
inline TriangleSoup box(double x, double y, double z, int n = 1) {
  TriangleSoup soup;
  const Point sides{x, y, z};
  for (int axis = 0; axis < 3; ++axis) {
    Point u = Point::Zero();
    Point v = Point::Zero();
    Point up = Point::Zero();
    const auto at = [&](int i, int k) -> Point { return i * u + k * v; };
    u[(axis + 1) % 3] = sides[(axis + 1) % 3] / n;
    v[(axis + 2) % 3] = sides[(axis + 2) % 3] / n;
    up[axis] = sides[axis];
    for (int i = 0; i < n; ++i) {
      for (int k = 0; k < n; ++k) {
        add(soup, at(i, k), at(i, k + 1), at(i + 1, k + 1), at(i + 1, k));
        add(soup, up + at(i, k), up + at(i + 1, k), up + at(i + 1, k + 1), up + at(i, k + 1));
      }
    }
  }
  return soup;
}

/// About the origin, corners on the ball; n parts from pole to pole, 2 n around.
inline TriangleSoup ball(double radius, int n) {
  TriangleSoup soup;
  const auto at = [&](int i, int k) -> Point {
    if (i == 0 || i == n) return {0.0, 0.0, i == 0 ? radius : -radius};
    const double polar = std::numbers::pi * i / n;
    const double around = std::numbers::pi * (k % (2 * n)) / n;
    return {radius * std::sin(polar) * std::cos(around),
            radius * std::sin(polar) * std::sin(around),
            radius * std::cos(polar)};
  };
  for (int k = 0; k < 2 * n; ++k) {
    add(soup, at(0, 0), at(1, k), at(1, k + 1));
    for (int i = 1; i < n - 1; ++i) {
      add(soup, at(i, k), at(i + 1, k), at(i + 1, k + 1), at(i, k + 1));
    }
    add(soup, at(n - 1, k), at(n, 0), at(n - 1, k + 1));
  }
  return soup;
}

/// An upright prism on a regular n-gon with corners at this radius; a cylinder where n is large.
inline TriangleSoup prism(int n, double radius, double height) {
  TriangleSoup soup;
  const auto at = [&](int k, double z) -> Point {
    const double around = 2.0 * std::numbers::pi * (k % n) / n;
    return {radius * std::cos(around), radius * std::sin(around), z};
  };
  for (int k = 0; k < n; ++k) {
    add(soup, at(k, 0.0), at(k + 1, 0.0), at(k + 1, height), at(k, height));
    add(soup, {0.0, 0.0, 0.0}, at(k + 1, 0.0), at(k, 0.0));
    add(soup, {0.0, 0.0, height}, at(k, height), at(k + 1, height));
  }
  return soup;
}

/// Round the z axis; n parts around, n around the tube.
inline TriangleSoup torus(double ring_radius, double tube_radius, int n) {
  TriangleSoup soup;
  const auto at = [&](int i, int k) -> Point {
    const double around = 2.0 * std::numbers::pi * (i % n) / n;
    const double tube = 2.0 * std::numbers::pi * (k % n) / n;
    const double out = ring_radius + tube_radius * std::cos(tube);
    return {out * std::cos(around), out * std::sin(around), tube_radius * std::sin(tube)};
  };
  for (int i = 0; i < n; ++i) {
    for (int k = 0; k < n; ++k) add(soup, at(i, k), at(i + 1, k), at(i + 1, k + 1), at(i, k + 1));
  }
  return soup;
}

inline void append_number(std::string& bytes, std::uint32_t number) {
  for (int i = 0; i < 4; ++i) bytes += static_cast<char>(number >> 8 * i & 0xFFu);
}

/// Corners rounded to floats of 4 bytes, as the format asks for.
inline std::string binary_stl(const TriangleSoup& soup, const std::string& head = "a test") {
  std::string bytes = head;
  bytes.resize(80, ' ');
  append_number(bytes, static_cast<std::uint32_t>(soup.corners.size() / 3));
  for (std::size_t i = 0; i < soup.corners.size(); i += 3) {
    bytes.append(12, '\0');
    for (std::size_t corner = i; corner < i + 3; ++corner) {
      for (const double number : soup.corners[corner]) {
        append_number(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(number)));
      }
    }
    bytes.append(2, '\0');
  }
  return bytes;
}

inline std::string text_stl(const TriangleSoup& soup) {
  std::string text = "solid a test\n";
  for (std::size_t i = 0; i < soup.corners.size(); i += 3) {
    text += " facet normal 0 0 0\n  outer loop\n";
    for (std::size_t corner = i; corner < i + 3; ++corner) {
      const Point& p = soup.corners[corner];
      text += fmt::format("   vertex {:e} {:e} {:e}\n", p.x(), p.y(), p.z());
    }
    text += "  endloop\n endfacet\n";
  }
  return text + "endsolid a test\n";
}

}  // namespace thickset::stl_shapes
