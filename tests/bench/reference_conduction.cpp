#include "bench/reference_conduction.h"

#include <array>

#include <cvode/cvode.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>

#include "bench/peaks.h"

namespace thickset::bench {
namespace {

constexpr long most_steps = 10'000'000;
constexpr double absolute_share = 1.0;  // absolute tolerance in K over the relative one

}  // namespace

ReferenceConduction::ReferenceConduction(std::size_t nodes)
    : slab_{Slab{}, nodes},
      T_K_{N_VNew_Serial(static_cast<sunindextype>(nodes), context_.get())},
      rate_K_per_s_{N_VNew_Serial(static_cast<sunindextype>(nodes), context_.get())},
      matrix_{SUNBandMatrix(static_cast<sunindextype>(nodes), 1, 1, context_.get())},
      linear_{SUNLinSol_Band(T_K_.get(), matrix_.get(), context_.get())},
      integrator_{CVodeCreate(CV_BDF, context_.get())} {
  N_VConst(slab_.start_K(), T_K_.get());
  check(CVodeInit(integrator_, rate, 0.0, T_K_.get()), "CVodeInit");
  check(CVodeSetUserData(integrator_, this), "CVodeSetUserData");
  check(CVodeSStolerances(integrator_, 1e-6, 1e-6), "CVodeSStolerances");
  check(CVodeSetLinearSolver(integrator_, linear_.get(), matrix_.get()), "CVodeSetLinearSolver");
  check(CVodeSetJacFn(integrator_, jacobian), "CVodeSetJacFn");
  check(CVodeSetMaxNumSteps(integrator_, most_steps), "CVodeSetMaxNumSteps");
}

ReferenceConduction::~ReferenceConduction() {
  CVodeFree(&integrator_);
}

int ReferenceConduction::rate(double time_s, N_Vector T_K, N_Vector rate_K_per_s, void* self) {
  const auto& reference = *static_cast<const ReferenceConduction*>(self);
  const ReferenceSlab& slab = reference.slab_;
  const double* T = values(T_K);
  double* out = values(rate_K_per_s);
  slab.heat_in(T, reference.kiln_.at_K(time_s), out);
  for (std::size_t i = 0; i < slab.nodes(); ++i) out[i] /= slab.capacity(i, T[i]).value;
  return 0;
}

int ReferenceConduction::jacobian(double,
                                  N_Vector T_K,
                                  N_Vector rate_K_per_s,
                                  SUNMatrix matrix,
                                  void* self,
                                  N_Vector,
                                  N_Vector,
                                  N_Vector) {
  const ReferenceSlab& slab = static_cast<const ReferenceConduction*>(self)->slab_;
  const double* T = values(T_K);
  const double* rates = values(rate_K_per_s);
  const std::size_t last = slab.nodes() - 1;
  for (std::size_t j = 0; j <= last; ++j) {
    // Of column j: entry [0] is the diagonal, [-1] and [1] the rows above and below.
    double* column = SUNBandMatrix_Column(matrix, static_cast<sunindextype>(j));
    const ReferenceSlab::Capacity capacity = slab.capacity(j, T[j]);
    column[0] = (slab.from_itself(j, T[j]) - rates[j] * capacity.slope) / capacity.value;
    const double to_neighbour = slab.from_neighbour(T[j]);
    if (j > 0) column[-1] = to_neighbour / slab.capacity(j - 1, T[j - 1]).value;
    if (j < last) column[1] = to_neighbour / slab.capacity(j + 1, T[j + 1]).value;
  }
  return 0;
}

SixPeaks ReferenceConduction::solve(double relative_tolerance) {
  const auto corners = course();
  const std::size_t surface = slab_.nodes() - 1;
  double* T = values(T_K_);
  double* rates = values(rate_K_per_s_);
  N_VConst(slab_.start_K(), T_K_.get());
  check(CVodeSStolerances(integrator_, relative_tolerance, absolute_share * relative_tolerance),
        "CVodeSStolerances");
  kiln_ = {corners[0], corners[1]};
  rate(corners[0].time_s, T_K_.get(), rate_K_per_s_.get(), this);
  Peak peak{T[0] - T[surface], rates[0] - rates[surface]};
  SixPeaks peaks{};
  steps_ = 0;
  for (std::size_t stretch = 0; stretch < stretches; ++stretch) {
    kiln_ = {corners[stretch], corners[stretch + 1]};
    double time_s = kiln_.from.time_s;
    check(CVodeReInit(integrator_, time_s, T_K_.get()), "CVodeReInit");
    check(CVodeSetStopTime(integrator_, kiln_.to.time_s), "CVodeSetStopTime");
    peak.restart();
    while (time_s < kiln_.to.time_s) {
      const double before_s = time_s;
      check(CVode(integrator_, kiln_.to.time_s, T_K_.get(), &time_s, CV_ONE_STEP), "CVode");
      check(CVodeGetDky(integrator_, time_s, 1, rate_K_per_s_.get()), "CVodeGetDky");
      peak.step(time_s - before_s, T[0] - T[surface], rates[0] - rates[surface]);
      ++steps_;
    }
    peaks[stretch] = peak.largest_K();
  }
  return peaks;
}

}  // namespace thickset::bench
