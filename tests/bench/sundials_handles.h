#pragma once

#include <memory>
#include <stdexcept>
#include <string>
#include <type_traits>

#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>

/// Owners of what SUNDIALS makes. Source: [HBG05] and the manual of its version 6.
namespace thickset::bench {

static_assert(std::is_same_v<realtype, double>);

inline void check(int flag, const char* what) {
  if (flag < 0) throw std::runtime_error{std::string{what} + ": " + std::to_string(flag)};
}

struct Destroy {
  void operator()(N_Vector vector) const { N_VDestroy(vector); }
  void operator()(SUNMatrix matrix) const { SUNMatDestroy(matrix); }
  void operator()(SUNLinearSolver solver) const { SUNLinSolFree(solver); }
};
using Vector = std::unique_ptr<std::remove_pointer_t<N_Vector>, Destroy>;
using Matrix = std::unique_ptr<std::remove_pointer_t<SUNMatrix>, Destroy>;
using LinearSolver = std::unique_ptr<std::remove_pointer_t<SUNLinearSolver>, Destroy>;

inline double* values(N_Vector vector) {
  return N_VGetArrayPointer(vector);
}
inline double* values(const Vector& vector) {
  return values(vector.get());
}

class Context {
 public:
  Context() { check(SUNContext_Create(nullptr, &context_), "SUNContext_Create"); }
  ~Context() { SUNContext_Free(&context_); }
  Context(const Context&) = delete;
  Context& operator=(const Context&) = delete;
  SUNContext get() const { return context_; }

 private:
  SUNContext context_ = nullptr;
};

}  // namespace thickset::bench
