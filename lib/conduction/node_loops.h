#pragma once

#include <cstdint>
#include <limits>

#include <Eigen/Core>

#include "material/thermal_law.h"
#include "numerics/lanes.h"

/// The loops over all nodes that conduction's time goes into: plain, without branches, so that
/// compilers can make vector code of them. Arrays hold n values, or a whole number of `fours`, and
/// do not overlap; those marked "guarded" can be read one before the first and one after the last,
/// where a factor of zero meets them.
namespace thickset::conduction::nodes {

using Eigen::Index;

inline constexpr int summed = 5;  ///< increments that enter a sum, one after the other in memory

/// Two sums of increments with their weights, the first added to `base`.
void sum_increments(Index fours,
                    const double* increments,
                    const double* first_weight,
                    const double* second_weight,
                    const double* base,
                    double* first,
                    double* second);

/// The piece of a law that each node is in, as columns.
struct PieceColumns {
  const double* from_K;
  const double* to_K;
  const double* a;
  const double* b;
  const double* c;
  const double* offset;

  bool cover(Index node, double T) const { return T >= from_K[node] && T < to_K[node]; }
};

/// Of nodes that fill up a four: their temperature, at which they have no enthalpy.
inline constexpr double filling_K = 1000.0;

class Pieces {
 public:
  /// For so many nodes, filled up to a whole number of fours; what fills up has a law of 1 whose
  /// integral is 0 at filling_K.
  explicit Pieces(Index nodes) : values_{Eigen::ArrayXXd::Zero(filled_up(nodes), 6)} {
    const Index filling = values_.rows() - nodes;
    values_.col(1).tail(filling) = std::numeric_limits<double>::infinity();
    values_.col(2) = 1.0;
    values_.col(5).tail(filling) = -filling_K;
  }

  /// Takes the pieces of a law that cover the temperatures of `count` nodes from `first` on.
  void follow(const ThermalLaw& law, Index first, Index count, const Eigen::ArrayXd& T_K);

  PieceColumns columns() const {
    const auto column = [&](Index i) { return values_.col(i).data(); };
    return {column(0), column(1), column(2), column(3), column(4), column(5)};
  }

 private:
  Eigen::ArrayXXd values_;
};

/// Of the glass at T_K: 1/c_p, half of c_p'/c_p, k/c_p in kg/(m s), integral of k dT.
void find_properties(Index fours,
                     const PieceColumns& capacity,
                     const PieceColumns& conductivity,
                     const double* T_K,
                     double* by_capacity_kg_K_per_J,
                     double* bend_per_K,
                     double* flow_per_enthalpy,
                     double* kirchhoff_W_per_m);

/// What a step knows of its start, to find temperatures by.
struct Start {
  const double* enthalpy_J_per_kg;
  const double* T_K;
  const double* by_capacity_kg_K_per_J;
  const double* bend_per_K;
};
/// Temperatures, and the integral of k dT, of enthalpies: the parabola of the start and one
/// correction by Newton's method. `missed` is 1 where that was more than `largest_K`, or the pieces
/// do not cover the temperature, else 0. Returns whether none was missed.
bool find_temperatures(Index fours,
                       const PieceColumns& capacity,
                       const PieceColumns& conductivity,
                       const Start& start,
                       const double* enthalpy_J_per_kg,
                       double largest_K,
                       double* T_K,
                       double* kirchhoff_W_per_m,
                       std::int64_t* missed);

/// A tridiagonal matrix by rows.
struct Rows {
  const double* lower;
  const double* diagonal;
  const double* upper;
};

/// Net heat into each cell from its neighbours, and M times `past`.
///
/// gap: areas over spacing, gap[i] between nodes i - 1 and i; zero at both ends, and one more than
/// nodes. kirchhoff and past are guarded.
void balance(Index fours,
             const double* gap_per_m,
             const double* kirchhoff_W_per_m,
             Rows mass,
             const double* past,
             double* into_W_per_m2);

/// M per_s - J, where J is the derivative of balance() by the enthalpies; flow_per_enthalpy is
/// guarded.
void build_matrix(Index n,
                  const double* gap_per_m,
                  const double* flow_per_enthalpy,
                  Rows mass,
                  double per_s,
                  double* lower,
                  double* diagonal,
                  double* upper);

}  // namespace thickset::conduction::nodes
