#pragma once

#include <array>
#include <functional>
#include <vector>

#include "numerics/elastic_cubes.h"
#include "numerics/lattice.h"
#include "numerics/zeroed_array.h"

namespace thickset {

/// An elastic solid of cubes, each filled to a share, free all round, under strains that it would
/// like to take: no outer forces. Young's modulus 1, sides of the cubes 1.
///
/// Conjugate gradients with a multigrid cycle: coarse cubes hold eight fine ones, filled by their
/// mean; displacements of coarse corners carry over by straight lines. What the solid does as a
/// rigid body stays open and does not matter to strains.
/// Error: of second order in the spacing inside; the surface is where the filled shares say.
/// No allocation after construction.
/// Source: [ZT00] chapters 8, 12 (bricks), [TOS01] (multigrid), [PDR07] (cubes filled to a share).
class ElasticLattice {
 public:
  /// filled: share of the cube between node (i, j, k) and (i + 1, j + 1, k + 1), at the index of
  /// the former; none in the outermost layer of nodes.
  ElasticLattice(Lattice nodes, ZeroedArray<float> filled, double poisson_ratio);

  struct Outcome {
    int iterations;
    double relative_residual;
    bool reached;
  };
  using Told = std::function<void(int iteration, double relative_residual)>;

  /// Finds displacements for a free expansion of each cube, the same in all directions.
  /// In: expansion, at the index of the cube.
  Outcome solve(const float* expansion, double relative_residual_tol, const Told& told = {});

  /// Stress in the middle of a cube, tension positive, after solve().
  Eigen::Matrix3d stress(std::ptrdiff_t cube, double expansion) const;

  const Lattice& nodes() const { return levels_.front().nodes; }
  const ZeroedArray<float>& filled() const { return levels_.front().filled; }

 private:
  template <class Number>
  struct Vector {
    std::array<ZeroedArray<Number>, 3> component;
    Components<Number> from(std::ptrdiff_t n) {
      return {component[0].data() + n, component[1].data() + n, component[2].data() + n};
    }
    Components<const Number> from(std::ptrdiff_t n) const {
      return {component[0].data() + n, component[1].data() + n, component[2].data() + n};
    }
  };
  struct Row {
    std::ptrdiff_t first;
    std::int32_t length;
  };
  struct Level {
    Level(Lattice lattice, ZeroedArray<float> shares, double corner_stiffness);
    std::vector<Row> rows_where(const ZeroedArray<float>& positive) const;
    Lattice nodes;
    ZeroedArray<float> filled, inverse_diagonal;
    std::vector<Row> cubes;    ///< rows of cubes that are filled
    std::vector<Row> corners;  ///< rows of nodes that belong to one
    Vector<float> x, b, ax;
  };

  template <class Number>
  void apply(const Level& level, const Vector<Number>& x, Vector<Number>& ax) const;
  template <class Number>
  static Vector<Number> zero(const Lattice& nodes);
  void set_load(const float* expansion);
  void cycle(std::size_t level);
  void jacobi(Level& level, float weight) const;
  void smooth_from_zero(Level& level) const;
  void restrict_residual(Level& fine, Level& coarse) const;
  void add_correction(const Level& coarse, Level& fine) const;

  double poisson_ratio_;
  ElasticCube cube_;
  std::array<float, 2> weights_;  // of the two Jacobi steps
  std::vector<Level> levels_;
  Vector<double> x_, r_, p_, q_;
};

}  // namespace thickset
