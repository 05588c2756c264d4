#pragma once

#include <cstddef>

/// Loops over one row of a lattice: n nodes in a sequence, their neighbours `row` and `plane` away.
/// The operator is diagonal(i) x(i) - sum over the six neighbours of link x(neighbour). Links are 1
/// in the plain loops, else numbers: face.x[i] links i with the next node in x. Where diagonal and
/// inverse are 0 there is no unknown, and x stays 0.
namespace thickset::lattice_rows {

using Size = std::ptrdiff_t;

template <class Number>
struct Around {
  const Number* x;
  Size row, plane;
};

struct Faces {
  const float *x, *y, *z;
};

/// out = (1 - w) x + w inverse (b + neighbours): one weighted Jacobi step.
void jacobi(Size n, float w, Around<float> from, const float* b, const float* inverse, float* out);
void jacobi(Size n,
            float w,
            Around<float> from,
            Faces faces,
            const float* b,
            const float* inverse,
            float* out);

/// out = w inverse b: the same from x = 0.
void jacobi_from_zero(Size n, float w, const float* b, const float* inverse, float* out);

/// out = b - A x, 0 where there is no unknown.
void residual(Size n, Around<float> from, const float* b, const float* diagonal, float* out);
void residual(Size n,
              Around<float> from,
              Faces faces,
              const float* b,
              const float* diagonal,
              float* out);

/// out = A x, 0 where there is no unknown.
void apply(Size n, Around<double> from, const float* diagonal, double* out);
void apply(Size n, Around<double> from, Faces faces, const float* diagonal, double* out);

/// out(i) = sum of the nine rows around, with weights 1/2 for the middle and 1/4 beside it, in both
/// directions.
void gather(Size n, Around<float> from, float* out);

/// out(i) = 2 x(2i) + x(2i - 1) + x(2i + 1).
void thin_out(Size n, const float* x, float* out);

/// out(i) = w (a(i) + b(i) + c(i) + d(i)).
void mean_of_four(Size n,
                  float w,
                  const float* a,
                  const float* b,
                  const float* c,
                  const float* d,
                  float* out);

/// x(i) += the straight line through coarse(i / 2) where inverse is not 0; n and i = 0 even.
void spread(Size n, const float* coarse, const float* inverse, float* x);

double dot(Size n, const double* a, const double* b);
double dot(Size n, const double* a, const float* b);
double dot(Size n, const float* a, const float* b);

/// Inner products of two vectors x, p, weighted by mass.
struct Products {
  double xx, xp, pp;
};
Products products(Size n, const float* mass, const double* x, const double* p);

/// x += alpha p
void add(Size n, double alpha, const double* p, double* x);
/// r += alpha q, copy = r; gives the square of the new r.
double add_and_copy(Size n, double alpha, const double* q, double* r, float* copy);
/// x += alpha p; p = z + beta p
void add_and_turn(Size n, double alpha, double beta, const float* z, double* p, double* x);
/// p = z + beta p
void turn(Size n, double beta, const float* z, double* p);

}  // namespace thickset::lattice_rows
