#include "numerics/lattice_rows.h"

#include "numerics/lanes.h"

namespace thickset::lattice_rows {
namespace {

// Partial sums side by side, so that a sum of products becomes vector code without reordering.
constexpr Size side_by_side = 8;

template <class Number>
inline Number plain_sum(const Number* x, Size row, Size plane) {
  return ((x[-1] + x[1]) + (x[-row] + x[row])) + (x[-plane] + x[plane]);
}

template <class Number>
inline Number sum(const Number* x, Size row, Size plane, const Faces& faces, Size i) {
  return ((faces.x[i - 1] * x[i - 1] + faces.x[i] * x[i + 1]) +
          (faces.y[i - row] * x[i - row] + faces.y[i] * x[i + row])) +
         (faces.z[i - plane] * x[i - plane] + faces.z[i] * x[i + plane]);
}

template <class A, class B>
inline double dot_by_lanes(Size n, const A* a, const B* b) {
  double part[side_by_side] = {};
  Size i = 0;
  for (; i + side_by_side <= n; i += side_by_side) {
    for (Size l = 0; l < side_by_side; ++l) {
      part[l] += static_cast<double>(a[i + l]) * static_cast<double>(b[i + l]);
    }
  }
  double total = 0.0;
  for (; i < n; ++i) total += static_cast<double>(a[i]) * static_cast<double>(b[i]);
  for (const double p : part) total += p;
  return total;
}

}  // namespace

THICKSET_FOUR_AT_ONCE
void jacobi(Size n,
            float w,
            Around<float> from,
            const float* __restrict b,
            const float* __restrict inverse,
            float* __restrict out) {
  const float* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  const float keep = 1.0F - w;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    out[i] = keep * x[i] + w * inverse[i] * (b[i] + plain_sum(x + i, row, plane));
  }
}

THICKSET_FOUR_AT_ONCE
void jacobi(Size n,
            float w,
            Around<float> from,
            Faces faces,
            const float* __restrict b,
            const float* __restrict inverse,
            float* __restrict out) {
  const float* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  const float keep = 1.0F - w;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    out[i] = keep * x[i] + w * inverse[i] * (b[i] + sum(x, row, plane, faces, i));
  }
}

THICKSET_FOUR_AT_ONCE
void jacobi_from_zero(Size n,
                      float w,
                      const float* __restrict b,
                      const float* __restrict inverse,
                      float* __restrict out) {
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) out[i] = w * inverse[i] * b[i];
}

THICKSET_FOUR_AT_ONCE
void residual(Size n,
              Around<float> from,
              const float* __restrict b,
              const float* __restrict diagonal,
              float* __restrict out) {
  const float* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    const float d = diagonal[i];
    const float rest = b[i] + plain_sum(x + i, row, plane) - d * x[i];
    out[i] = d > 0.0F ? rest : 0.0F;
  }
}

THICKSET_FOUR_AT_ONCE
void residual(Size n,
              Around<float> from,
              Faces faces,
              const float* __restrict b,
              const float* __restrict diagonal,
              float* __restrict out) {
  const float* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    const float d = diagonal[i];
    const float rest = b[i] + sum(x, row, plane, faces, i) - d * x[i];
    out[i] = d > 0.0F ? rest : 0.0F;
  }
}

THICKSET_FOUR_AT_ONCE
void apply(Size n, Around<double> from, const float* __restrict diagonal, double* __restrict out) {
  const double* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    const double d = static_cast<double>(diagonal[i]);
    const double all = d * x[i] - plain_sum(x + i, row, plane);
    out[i] = d > 0.0 ? all : 0.0;
  }
}

THICKSET_FOUR_AT_ONCE
void apply(Size n,
           Around<double> from,
           Faces faces,
           const float* __restrict diagonal,
           double* __restrict out) {
  const double* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    const double d = static_cast<double>(diagonal[i]);
    const double all = d * x[i] - sum(x, row, plane, faces, i);
    out[i] = d > 0.0 ? all : 0.0;
  }
}

THICKSET_FOUR_AT_ONCE
void gather(Size n, Around<float> from, float* __restrict out) {
  const float* const __restrict x = from.x;
  const Size row = from.row;
  const Size plane = from.plane;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    const float* const at = x + i;
    const float beside = (at[-row] + at[row]) + (at[-plane] + at[plane]);
    const float corners =
        (at[-row - plane] + at[row - plane]) + (at[-row + plane] + at[row + plane]);
    out[i] = 0.25F * at[0] + 0.125F * beside + 0.0625F * corners;
  }
}

THICKSET_FOUR_AT_ONCE
void thin_out(Size n, const float* __restrict x, float* __restrict out) {
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) out[i] = 2.0F * x[2 * i] + (x[2 * i - 1] + x[2 * i + 1]);
}

THICKSET_FOUR_AT_ONCE
void mean_of_four(Size n,
                  float w,
                  const float* a,
                  const float* b,
                  const float* c,
                  const float* d,
                  float* __restrict out) {
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) out[i] = w * ((a[i] + b[i]) + (c[i] + d[i]));
}

THICKSET_FOUR_AT_ONCE
void spread(Size n,
            const float* __restrict coarse,
            const float* __restrict inverse,
            float* __restrict x) {
  const Size pairs = n / 2;
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < pairs; ++i) {
    const float even = coarse[i];
    const float odd = 0.5F * (coarse[i] + coarse[i + 1]);
    x[2 * i] += inverse[2 * i] > 0.0F ? even : 0.0F;
    x[2 * i + 1] += inverse[2 * i + 1] > 0.0F ? odd : 0.0F;
  }
}

THICKSET_FOUR_AT_ONCE
double dot(Size n, const double* a, const double* b) {
  return dot_by_lanes(n, a, b);
}

THICKSET_FOUR_AT_ONCE
double dot(Size n, const double* a, const float* b) {
  return dot_by_lanes(n, a, b);
}

THICKSET_FOUR_AT_ONCE
double dot(Size n, const float* a, const float* b) {
  return dot_by_lanes(n, a, b);
}

THICKSET_FOUR_AT_ONCE
Products products(Size n, const float* mass, const double* x, const double* p) {
  double xx[side_by_side] = {};
  double xp[side_by_side] = {};
  double pp[side_by_side] = {};
  for (Size i = 0; i < n; i += side_by_side) {
    const Size some = n - i < side_by_side ? n - i : side_by_side;
    for (Size l = 0; l < some; ++l) {
      const double m = static_cast<double>(mass[i + l]);
      xx[l] += m * x[i + l] * x[i + l];
      xp[l] += m * x[i + l] * p[i + l];
      pp[l] += m * p[i + l] * p[i + l];
    }
  }
  Products all{};
  for (Size l = 0; l < side_by_side; ++l) {
    all.xx += xx[l];
    all.xp += xp[l];
    all.pp += pp[l];
  }
  return all;
}

THICKSET_FOUR_AT_ONCE
void add(Size n, double alpha, const double* __restrict p, double* __restrict x) {
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) x[i] += alpha * p[i];
}

THICKSET_FOUR_AT_ONCE
double add_and_copy(Size n,
                    double alpha,
                    const double* __restrict q,
                    double* __restrict r,
                    float* __restrict copy) {
  double part[side_by_side] = {};
  Size i = 0;
  for (; i + side_by_side <= n; i += side_by_side) {
    for (Size l = 0; l < side_by_side; ++l) {
      const double now = r[i + l] + alpha * q[i + l];
      r[i + l] = now;
      copy[i + l] = static_cast<float>(now);
      part[l] += now * now;
    }
  }
  double total = 0.0;
  for (; i < n; ++i) {
    r[i] += alpha * q[i];
    copy[i] = static_cast<float>(r[i]);
    total += r[i] * r[i];
  }
  for (const double p : part) total += p;
  return total;
}

THICKSET_FOUR_AT_ONCE
void add_and_turn(Size n,
                  double alpha,
                  double beta,
                  const float* __restrict z,
                  double* __restrict p,
                  double* __restrict x) {
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) {
    x[i] += alpha * p[i];
    p[i] = static_cast<double>(z[i]) + beta * p[i];
  }
}

THICKSET_FOUR_AT_ONCE
void turn(Size n, double beta, const float* __restrict z, double* __restrict p) {
  THICKSET_ROUNDS_APART
  for (Size i = 0; i < n; ++i) p[i] = static_cast<double>(z[i]) + beta * p[i];
}

}  // namespace thickset::lattice_rows
