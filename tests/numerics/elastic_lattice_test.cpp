#include "numerics/elastic_lattice.h"

#include <cmath>
#include <utility>
#include <vector>

#include <doctest/doctest.h>
#include <Eigen/Dense>

using namespace thickset;

namespace {

constexpr double glass = 0.22;  // Poisson ratio
constexpr double solver_tol = 1e-7;

struct Solid {
  Lattice nodes;
  ZeroedArray<float> filled, expansion;
};

/// A block of nx x ny x nz cubes, one layer of nodes around it; `expands` gives the free expansion
/// at the middle of a cube.
template <class Expands>
Solid block(int nx, int ny, int nz, const Expands& expands) {
  Solid s{Lattice{{nx + 3, ny + 3, nz + 3}}, {}, {}};
  s.filled = ZeroedArray<float>{s.nodes.size()};
  s.expansion = ZeroedArray<float>{s.nodes.size()};
  for (int k = 1; k <= nz; ++k) {
    for (int j = 1; j <= ny; ++j) {
      for (int i = 1; i <= nx; ++i) {
        const auto cube = static_cast<std::size_t>(s.nodes.index(i, j, k));
        s.filled[cube] = 1.0F;
        s.expansion[cube] = static_cast<float>(
            expands(Eigen::Vector3d(i - 0.5 * (nx + 1), j - 0.5 * (ny + 1), k - 0.5 * (nz + 1))));
      }
    }
  }
  return s;
}

}  // namespace

TEST_CASE("elastic cubes: moving and turning as a whole meets no resistance, stretching does") {
  const ElasticCube cube{glass};
  constexpr std::ptrdiff_t row = 40;
  constexpr std::ptrdiff_t plane = 160;
  const auto resistance = [&](const Eigen::Matrix3d& gradient) {
    std::vector<std::vector<double>> u(3, std::vector<double>(640, 0.0));
    std::vector<std::vector<double>> f(3, std::vector<double>(640, 0.0));
    for (int k = 0; k < 2; ++k) {
      for (int j = 0; j < 2; ++j) {
        for (int i = 0; i < 4; ++i) {
          const Eigen::Vector3d at = gradient * Eigen::Vector3d(i, j, k) + Eigen::Vector3d::Ones();
          for (std::size_t c = 0; c < 3; ++c) {
            u[c][static_cast<std::size_t>(i + j * row + k * plane)] =
                at(static_cast<Eigen::Index>(c));
          }
        }
      }
    }
    const std::vector<float> filled(3, 1.0F);
    elastic_cubes::add_resistance(cube,
                                  3,
                                  row,
                                  plane,
                                  filled.data(),
                                  Components<const double>{u[0].data(), u[1].data(), u[2].data()},
                                  Components<double>{f[0].data(), f[1].data(), f[2].data()});
    double work = 0.0;
    double largest = 0.0;
    for (std::size_t c = 0; c < 3; ++c) {
      for (std::size_t n = 0; n < u[c].size(); ++n) {
        work += u[c][n] * f[c][n];
        largest = std::max(largest, std::abs(f[c][n]));
      }
    }
    return std::pair{work, largest};
  };
  constexpr double rounding = 1e-14;
  Eigen::Matrix3d turn = Eigen::Matrix3d::Zero();
  turn(0, 1) = 1.0;
  turn(1, 0) = -1.0;
  turn(2, 0) = 0.3;
  turn(0, 2) = -0.3;
  CHECK(resistance(turn).second < rounding);
  // Stretched along x, held across: work = strain^2 (lame + 2 shear) volume
  Eigen::Matrix3d stretch = Eigen::Matrix3d::Zero();
  stretch(0, 0) = 0.1;
  const double held = (1.0 - glass) / ((1.0 + glass) * (1.0 - 2.0 * glass));
  CHECK(std::abs(resistance(stretch).first - 3.0 * 0.01 * held) < 10.0 * rounding);
  // Sheared: work = shear angle^2 * shear modulus * volume
  Eigen::Matrix3d shear = Eigen::Matrix3d::Zero();
  shear(0, 1) = 0.1;
  CHECK(std::abs(resistance(shear).first - 3.0 * 0.01 * 0.5 / (1.0 + glass)) < 10.0 * rounding);
}

TEST_CASE("elastic lattice: even and evenly rising expansion leave a free solid without stress") {
  // Evenly rising temperature bends a free solid and does not stress it; cubes bend only nearly so.
  Solid even = block(9, 6, 7, [](const Eigen::Vector3d&) { return 1.0; });
  ElasticLattice solid{even.nodes, std::move(even.filled), glass};
  CHECK(solid.solve(even.expansion.data(), solver_tol).reached);
  CHECK(solid.stress(even.nodes.index(5, 3, 4), 1.0).norm() < 1e-5);

  const auto rising = [](const Eigen::Vector3d& at) { return 0.1 * at.x(); };
  Solid bent = block(16, 16, 16, rising);
  ElasticLattice bending{bent.nodes, std::move(bent.filled), glass};
  CHECK(bending.solve(bent.expansion.data(), solver_tol).reached);
  for (const int i : {4, 8, 13}) {
    const std::ptrdiff_t cube = bent.nodes.index(i, 8, 8);
    const double expansion = static_cast<double>(bent.expansion[static_cast<std::size_t>(cube)]);
    // held, the stress would be expansion / (1 - 2 nu), up to 1.3
    CHECK(bending.stress(cube, expansion).norm() < 0.02);
  }
}

TEST_CASE("elastic lattice: a cross-section carries no force") {
  const auto parabola = [](const Eigen::Vector3d& at) { return -0.02 * at.z() * at.z(); };
  Solid s = block(20, 20, 10, parabola);
  ElasticLattice solid{s.nodes, std::move(s.filled), glass};
  const ElasticLattice::Outcome outcome = solid.solve(s.expansion.data(), solver_tol);
  CHECK(outcome.reached);
  CHECK(outcome.iterations < 30);
  double force = 0.0;
  double size = 0.0;
  for (int k = 1; k <= 10; ++k) {
    for (int j = 1; j <= 20; ++j) {
      const std::ptrdiff_t cube = s.nodes.index(10, j, k);
      const double expansion = static_cast<double>(s.expansion[static_cast<std::size_t>(cube)]);
      const double along = solid.stress(cube, expansion)(0, 0);
      force += along;
      size += std::abs(along);
    }
  }
  CHECK(size > 1.0);
  CHECK(std::abs(force) < 1e-4 * size);
}
