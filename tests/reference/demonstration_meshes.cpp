// The demonstration models in data/meshes: a pyramid on a foot, a bowl, a head of joined balls.
// They are inventions of this project. Sizes in mm.
//
// Build: cmake --build build --target demonstration_meshes   (not part of the default build)
// Use:   build/tests/demonstration_meshes data/meshes

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <map>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include <Eigen/Geometry>

using Point = Eigen::Vector3d;

struct Surface {
  std::vector<Point> corners;  // three a triangle, counter-clockwise seen from outside
  void add(const Point& a, const Point& b, const Point& c) {
    corners.insert(corners.end(), {a, b, c});
  }
  void add(const Point& a, const Point& b, const Point& c, const Point& d) {
    add(a, b, c);
    add(a, c, d);
  }
};

// Binary STL: a head of 80 bytes, the number of triangles, 50 bytes for each.
bool write(const std::string& path, const std::string& name, const Surface& surface) {
  std::string bytes = "thickset demonstration model, mm: " + name;
  bytes.resize(80, ' ');
  const auto append = [&](std::uint32_t number) {
    for (int i = 0; i < 4; ++i) bytes += static_cast<char>(number >> 8 * i & 0xFFu);
  };
  append(static_cast<std::uint32_t>(surface.corners.size() / 3));
  for (std::size_t i = 0; i < surface.corners.size(); i += 3) {
    bytes.append(12, '\0');  // the normal: left to the reader
    for (std::size_t corner = i; corner < i + 3; ++corner) {
      for (const double x : surface.corners[corner]) {
        append(std::bit_cast<std::uint32_t>(static_cast<float>(x)));
      }
    }
    bytes.append(2, '\0');
  }
  std::FILE* const file = std::fopen(path.c_str(), "wb");
  if (file == nullptr) return false;
  const bool written = std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size();
  return std::fclose(file) == 0 && written;
}

// A plate 130 x 130 x 18 with a pyramid on it, 100 x 100 and 132 high.
Surface pyramid() {
  const auto square = [](double half, double z) {
    return std::array<Point, 4>{
        Point{-half, -half, z}, {half, -half, z}, {half, half, z}, {-half, half, z}};
  };
  const auto under = square(65.0, 0.0);
  const auto rim = square(65.0, 18.0);
  const auto base = square(50.0, 18.0);
  const Point top{0.0, 0.0, 150.0};
  Surface surface;
  surface.add(under[3], under[2], under[1], under[0]);
  for (std::size_t i = 0; i < 4; ++i) {
    const std::size_t next = (i + 1) % 4;
    surface.add(under[i], under[next], rim[next], rim[i]);
    surface.add(rim[i], rim[next], base[next], base[i]);
    surface.add(base[i], base[next], top);
  }
  return surface;
}

// Turned about the z axis: two ellipses, a round rim of radius 12, and a foot of radius 40.
Surface bowl() {
  struct Turned {
    double r, z;
  };
  constexpr double half_pi = std::numbers::pi / 2.0;
  std::vector<Turned> profile{{40.0, 0.0}};  // from below outwards, up, and inwards to the axis
  const double first = std::asin(0.4);
  for (int i = 0; i <= 16; ++i) {
    const double t = first + (half_pi - first) * i / 16;
    profile.push_back({100.0 * std::sin(t), 85.0 - 85.0 * std::cos(t)});
  }
  for (int i = 1; i < 10; ++i) {
    const double t = std::numbers::pi * i / 10;
    profile.push_back({88.0 + 12.0 * std::cos(t), 85.0 + 12.0 * std::sin(t)});
  }
  for (int i = 18; i >= 1; --i) {
    const double t = half_pi * i / 18;
    profile.push_back({76.0 * std::sin(t), 85.0 - 61.0 * std::cos(t)});
  }
  constexpr int n = 96;
  const auto at = [&](const Turned& p, int k) -> Point {
    const double around = 2.0 * std::numbers::pi * (k % n) / n;
    return {p.r * std::cos(around), p.r * std::sin(around), p.z};
  };
  Surface surface;
  for (int k = 0; k < n; ++k) {
    surface.add({0.0, 0.0, 0.0}, at(profile.front(), k + 1), at(profile.front(), k));
    for (std::size_t i = 0; i + 1 < profile.size(); ++i) {
      surface.add(at(profile[i], k),
                  at(profile[i], k + 1),
                  at(profile[i + 1], k + 1),
                  at(profile[i + 1], k));
    }
    surface.add({0.0, 0.0, 24.0}, at(profile.back(), k), at(profile.back(), k + 1));
  }
  return surface;
}

// Below zero inside. Balls joined by -k log sum exp(-distance / k), k = 4 mm, cut flat at z = 0.
double head_at(const Point& p) {
  struct Ball {
    Point middle;
    double radius;
  };
  static const std::vector<Ball> balls{
      {{0.0, 4.0, 100.0}, 54.0},   // skull
      {{0.0, -16.0, 70.0}, 42.0},  // face
      {{0.0, -30.0, 48.0}, 20.0},  // chin
      {{0.0, -58.0, 78.0}, 9.0},   // nose
      {{-54.0, 6.0, 88.0}, 12.0},  // ears
      {{54.0, 6.0, 88.0}, 12.0},
      {{0.0, 10.0, 34.0}, 34.0},  // neck
      {{0.0, 10.0, 8.0}, 40.0},
  };
  constexpr double k = 4.0;
  double sum = 0.0;
  for (const Ball& ball : balls) sum += std::exp(-((p - ball.middle).norm() - ball.radius) / k);
  return std::max(-k * std::log(sum), -p.z());
}

// Marching tetrahedra: a grid of cubes, each in six tetrahedra round a diagonal; in each the
// surface is one triangle or two. Neighbours share faces and so corners, and the surface is closed.
Surface head() {
  constexpr double spacing = 5.5;
  const Point low{-80.3, -80.3, -7.3};  // no corner of the grid on z = 0
  const Eigen::Vector3i counts{30, 30, 32};
  const auto place = [&](const Eigen::Vector3i& node) -> Point {
    return low + spacing * node.cast<double>();
  };
  const auto number = [&](const Eigen::Vector3i& node) {
    return (node.z() * counts.y() + node.y()) * counts.x() + node.x();
  };
  std::vector<double> value(static_cast<std::size_t>(counts.prod()));
  const auto value_at = [&](const Eigen::Vector3i& node) -> double& {
    return value[static_cast<std::size_t>(number(node))];
  };
  Eigen::Vector3i node;
  const auto for_each_node = [&](const Eigen::Vector3i& end, auto&& visit) {
    for (node.z() = 0; node.z() < end.z(); ++node.z())
      for (node.y() = 0; node.y() < end.y(); ++node.y())
        for (node.x() = 0; node.x() < end.x(); ++node.x()) visit();
  };
  for_each_node(counts, [&] { value_at(node) = head_at(place(node)); });

  // Where the surface cuts the edge between two nodes, by bisection; once for each edge.
  std::map<std::pair<int, int>, Point> cuts;
  const auto cut = [&](Eigen::Vector3i in, Eigen::Vector3i out) {
    const auto [entry, is_new] =
        cuts.try_emplace(std::minmax(number(in), number(out)), Point::Zero());
    if (is_new) {
      Point a = place(in);
      Point b = place(out);
      for (int i = 0; i < 50; ++i) {
        const Point middle = 0.5 * (a + b);
        (head_at(middle) < 0.0 ? a : b) = middle;
      }
      entry->second = a;
    }
    return entry->second;
  };

  Surface surface;
  const auto tetrahedron = [&](const std::array<Eigen::Vector3i, 4>& nodes) {
    std::vector<Eigen::Vector3i> in, out;
    for (const Eigen::Vector3i& n : nodes) (value_at(n) < 0.0 ? in : out).push_back(n);
    if (in.empty() || out.empty()) return;
    const Point inside = place(in.front());
    const auto add = [&](const Point& a, const Point& b, const Point& c) {
      const Point across = (b - a).cross(c - a);
      if (across.dot(inside - a) < 0.0) {
        surface.add(a, b, c);
      } else {
        surface.add(a, c, b);
      }
    };
    if (in.size() == 1) return add(cut(in[0], out[0]), cut(in[0], out[1]), cut(in[0], out[2]));
    if (in.size() == 3) return add(cut(in[0], out[0]), cut(in[1], out[0]), cut(in[2], out[0]));
    const Point a = cut(in[0], out[0]);
    const Point b = cut(in[0], out[1]);
    const Point c = cut(in[1], out[1]);
    const Point d = cut(in[1], out[0]);
    add(a, b, c);
    add(a, c, d);
  };
  constexpr int orders[6][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
  for_each_node(counts - Eigen::Vector3i::Ones(), [&] {
    for (const auto& order : orders) {
      std::array<Eigen::Vector3i, 4> nodes;
      nodes[0] = node;
      for (std::size_t i = 0; i < 3; ++i) {
        nodes[i + 1] = nodes[i] + Eigen::Vector3i::Unit(order[i]);
      }
      tetrahedron(nodes);
    }
  });
  return surface;
}

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "use: demonstration_meshes FOLDER\n");
    return 2;
  }
  const std::string folder = std::string{argv[1]} + "/";
  const bool written = write(folder + "pyramid-with-foot.stl", "pyramid with a foot", pyramid()) &&
                       write(folder + "bowl.stl", "bowl", bowl()) &&
                       write(folder + "head.stl", "head of joined balls", head());
  if (!written) std::fprintf(stderr, "cannot write into %s\n", argv[1]);
  return written ? 0 : 2;
}
