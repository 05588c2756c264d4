#include "bench/reference_relaxation.h"

#include <cassert>
#include <cmath>
#include <numeric>

#include <ida/ida.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

namespace thickset::bench {
namespace {

constexpr long most_steps = 10'000'000;

// Absolute tolerance over the relative one. Of 1, 10 and 100 MPa the second lets IDA keep to the
// goal in the least time.
constexpr double absolute_K = 1.0;
constexpr double absolute_MPa = 10.0;
constexpr double absolute_strain = 1e-3;

/// Simpson's rule over 0..1, as weights that sum to one.
std::vector<double> simpson(std::size_t nodes) {
  assert(nodes % 2 == 1);
  std::vector<double> weight(nodes, 0.0);
  for (std::size_t i = 0; i + 2 < nodes; i += 2) {
    weight[i] += 1.0;
    weight[i + 1] += 4.0;
    weight[i + 2] += 1.0;
  }
  for (double& w : weight) w /= 3.0 * static_cast<double>(nodes - 1);
  return weight;
}

/// Writes a matrix by columns, top down.
class Columns {
 public:
  explicit Columns(SUNMatrix matrix)
      : start_{SUNSparseMatrix_IndexPointers(matrix)},
        row_{SUNSparseMatrix_IndexValues(matrix)},
        value_{SUNSparseMatrix_Data(matrix)} {}
  void next_column() { start_[column_++] = entry_; }
  void add(std::size_t row, double value) {
    row_[entry_] = static_cast<sunindextype>(row);
    value_[entry_++] = value;
  }

 private:
  sunindextype* start_;
  sunindextype* row_;
  double* value_;
  sunindextype column_ = 0;
  sunindextype entry_ = 0;
};

}  // namespace

ReferenceRelaxation::ReferenceRelaxation(std::size_t nodes)
    : slab_{Slab{}, nodes},
      unknowns_{per_node * nodes + 1},
      thickness_weight_{simpson(nodes)},
      T_K_(nodes),
      heat_(nodes),
      y_{N_VNew_Serial(static_cast<sunindextype>(unknowns_), context_.get())},
      slope_{N_VNew_Serial(static_cast<sunindextype>(unknowns_), context_.get())},
      absolute_{N_VNew_Serial(static_cast<sunindextype>(unknowns_), context_.get())},
      matrix_{SUNSparseMatrix(
          static_cast<sunindextype>(unknowns_),
          static_cast<sunindextype>(unknowns_),
          // A node's own block: the temperature's column with two neighbours, a column of each
          // term, of each branch; and the strain's column.
          static_cast<sunindextype>(nodes * (per_node + 2 + terms * 2 * terms + 3 * terms)),
          CSC_MAT,
          context_.get())},
      linear_{SUNLinSol_KLU(y_.get(), matrix_.get(), context_.get())},
      integrator_{IDACreate(context_.get())} {
  const double weight_sum = std::accumulate(
      relaxation_.structure_weight.begin(), relaxation_.structure_weight.end(), 0.0);
  const double shear_sum = std::accumulate(
      relaxation_.shear_weight_GPa.begin(), relaxation_.shear_weight_GPa.end(), 0.0);
  const double biaxial_MPa =
      1e-6 * relaxation_.youngs_modulus_Pa / (1.0 - relaxation_.poisson_ratio);
  for (std::size_t k = 0; k < terms; ++k) {
    structure_weight_[k] = relaxation_.structure_weight[k] / weight_sum;
    modulus_MPa_[k] = biaxial_MPa * relaxation_.shear_weight_GPa[k] / shear_sum;
  }
  N_VConst(0.0, y_.get());
  N_VConst(0.0, slope_.get());
  check(IDAInit(integrator_, residual, 0.0, y_.get(), slope_.get()), "IDAInit");
  check(IDASetUserData(integrator_, this), "IDASetUserData");
  check(IDASStolerances(integrator_, 1e-5, 1e-5), "IDASStolerances");
  check(IDASetLinearSolver(integrator_, linear_.get(), matrix_.get()), "IDASetLinearSolver");
  check(IDASetJacFn(integrator_, jacobian), "IDASetJacFn");
  check(IDASetMaxNumSteps(integrator_, most_steps), "IDASetMaxNumSteps");
}

ReferenceRelaxation::~ReferenceRelaxation() {
  IDAFree(&integrator_);
}

double ReferenceRelaxation::weighted(const double* node) const {
  double sum = 0.0;
  for (std::size_t k = 0; k < terms; ++k) sum += structure_weight_[k] * node[first_structure + k];
  return sum;
}

ReferenceRelaxation::Clock ReferenceRelaxation::clock(const double* node) const {
  const double T_K = node[0];
  const double fictive_K = weighted(node);
  const double x = relaxation_.x;
  const double activation_K = relaxation_.activation_K;
  const double rate =
      std::exp(activation_K * (1.0 / relaxation_.reference_K - x / T_K - (1.0 - x) / fictive_K));
  return {rate,
          rate * activation_K * x / (T_K * T_K),
          rate * activation_K * (1.0 - x) / (fictive_K * fictive_K)};
}

// With c the cell's capacity, Q the heat into it, phi the clock's rate, F = sum w F_k, e the
// membrane strain, M_j a branch's biaxial modulus:
//   c T' - Q = 0
//   F_k' - phi (T - F_k)/tau_k = 0
//   s_j' - M_j (e' - alpha T' - (alpha_liquid - alpha) F') + phi s_j/tau_j = 0
//   integral of sum_j s_j over the thickness = 0
int ReferenceRelaxation::residual(double time_s,
                                  N_Vector y_vector,
                                  N_Vector slope_vector,
                                  N_Vector out_vector,
                                  void* self) {
  auto& reference = *static_cast<ReferenceRelaxation*>(self);
  const Relaxation& r = reference.relaxation_;
  const std::size_t nodes = reference.slab_.nodes();
  const double* y = values(y_vector);
  const double* slope = values(slope_vector);
  double* out = values(out_vector);
  const double extra_per_K = r.liquid_expansion_per_K - r.expansion_per_K;
  const double strain_rate = slope[reference.unknowns_ - 1];

  std::vector<double>& T_K = reference.T_K_;
  for (std::size_t i = 0; i < nodes; ++i) T_K[i] = y[per_node * i];
  reference.slab_.heat_in(T_K.data(), reference.kiln_.at_K(time_s), reference.heat_.data());

  double force_MPa = 0.0;
  for (std::size_t i = 0; i < nodes; ++i, y += per_node, slope += per_node, out += per_node) {
    const double phi = reference.clock(y).rate;
    out[0] = reference.slab_.capacity(i, y[0]).value * slope[0] - reference.heat_[i];
    const double mechanical_rate =
        strain_rate - r.expansion_per_K * slope[0] - extra_per_K * reference.weighted(slope);
    double stress_MPa = 0.0;
    for (std::size_t k = 0; k < terms; ++k) {
      const std::size_t f = first_structure + k;
      const std::size_t s = first_branch + k;
      out[f] = slope[f] - phi / r.structure_s[k] * (y[0] - y[f]);
      out[s] = slope[s] - reference.modulus_MPa_[k] * mechanical_rate + phi / r.shear_s[k] * y[s];
      stress_MPa += y[s];
    }
    force_MPa += reference.thickness_weight_[i] * stress_MPa;
  }
  out[0] = force_MPa;
  return 0;
}

int ReferenceRelaxation::jacobian(double,
                                  double by_slope,
                                  N_Vector y_vector,
                                  N_Vector slope_vector,
                                  N_Vector,
                                  SUNMatrix matrix,
                                  void* self,
                                  N_Vector,
                                  N_Vector,
                                  N_Vector) {
  const auto& reference = *static_cast<const ReferenceRelaxation*>(self);
  const Relaxation& r = reference.relaxation_;
  const ReferenceSlab& slab = reference.slab_;
  const std::size_t nodes = slab.nodes();
  const std::size_t last_row = reference.unknowns_ - 1;
  const double extra_per_K = r.liquid_expansion_per_K - r.expansion_per_K;
  Columns columns{matrix};
  for (std::size_t i = 0; i < nodes; ++i) {
    const std::size_t row = per_node * i;
    const double* y = values(y_vector) + row;
    const double* slope = values(slope_vector) + row;
    const Clock phi = reference.clock(y);
    const ReferenceSlab::Capacity capacity = slab.capacity(i, y[0]);

    columns.next_column();  // the temperature
    if (i > 0) columns.add(row - per_node, -slab.from_neighbour(y[0]));
    columns.add(row,
                by_slope * capacity.value + slope[0] * capacity.slope - slab.from_itself(i, y[0]));
    for (std::size_t k = 0; k < terms; ++k) {
      const double lag_K = y[0] - y[first_structure + k];
      columns.add(row + first_structure + k, -(phi.by_T * lag_K + phi.rate) / r.structure_s[k]);
    }
    for (std::size_t k = 0; k < terms; ++k) {
      columns.add(row + first_branch + k,
                  reference.modulus_MPa_[k] * r.expansion_per_K * by_slope +
                      phi.by_T * y[first_branch + k] / r.shear_s[k]);
    }
    if (i + 1 < nodes) columns.add(row + per_node, -slab.from_neighbour(y[0]));

    for (std::size_t m = 0; m < terms; ++m) {  // the structure's terms
      columns.next_column();
      const double weight = reference.structure_weight_[m];
      for (std::size_t k = 0; k < terms; ++k) {
        const double lag_K = y[0] - y[first_structure + k];
        const double own = k == m ? by_slope + phi.rate / r.structure_s[k] : 0.0;
        columns.add(row + first_structure + k,
                    own - phi.by_fictive * weight * lag_K / r.structure_s[k]);
      }
      for (std::size_t k = 0; k < terms; ++k) {
        columns.add(row + first_branch + k,
                    weight * (reference.modulus_MPa_[k] * extra_per_K * by_slope +
                              phi.by_fictive * y[first_branch + k] / r.shear_s[k]));
      }
    }
    for (std::size_t k = 0; k < terms; ++k) {  // the stress branches
      columns.next_column();
      columns.add(row + first_branch + k, by_slope + phi.rate / r.shear_s[k]);
      columns.add(last_row, reference.thickness_weight_[i]);
    }
  }
  columns.next_column();  // the membrane strain
  for (std::size_t i = 0; i < nodes; ++i) {
    for (std::size_t k = 0; k < terms; ++k) {
      columns.add(per_node * i + first_branch + k, -reference.modulus_MPa_[k] * by_slope);
    }
  }
  columns.next_column();  // the end
  return 0;
}

double ReferenceRelaxation::solve(double relative_tolerance) {
  const std::size_t nodes = slab_.nodes();
  double* y = values(y_);
  double* absolute = values(absolute_);
  N_VConst(0.0, y_.get());
  N_VConst(0.0, slope_.get());
  for (std::size_t i = 0; i < nodes; ++i) {
    for (std::size_t k = 0; k < per_node; ++k) {
      const bool is_temperature = k < first_branch;
      y[per_node * i + k] = is_temperature ? slab_.start_K() : 0.0;
      absolute[per_node * i + k] =
          relative_tolerance * (is_temperature ? absolute_K : absolute_MPa);
    }
  }
  absolute[unknowns_ - 1] = relative_tolerance * absolute_strain;
  check(IDASVtolerances(integrator_, relative_tolerance, absolute_.get()), "IDASVtolerances");

  // The kiln begins at the glass's temperature, and its course bends but never jumps: values and
  // slopes are consistent at the start and at every corner.
  const auto corners = course();
  steps_ = 0;
  for (std::size_t stretch = 0; stretch < stretches; ++stretch) {
    kiln_ = {corners[stretch], corners[stretch + 1]};
    double time_s = kiln_.from.time_s;
    check(IDAReInit(integrator_, time_s, y_.get(), slope_.get()), "IDAReInit");
    check(IDASetStopTime(integrator_, kiln_.to.time_s), "IDASetStopTime");
    check(IDASolve(integrator_, kiln_.to.time_s, &time_s, y_.get(), slope_.get(), IDA_NORMAL),
          "IDASolve");
    long steps = 0;
    check(IDAGetNumSteps(integrator_, &steps), "IDAGetNumSteps");
    steps_ += steps;
  }
  const double stress_MPa = std::accumulate(y + first_branch, y + first_branch + terms, 0.0);
  return stress_MPa * 1e6 * relaxation_.nm_per_cm_per_Pa;
}

}  // namespace thickset::bench
