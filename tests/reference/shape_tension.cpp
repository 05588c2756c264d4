// Permanent (annealing) tension and cooling surface tension of simple bodies.
//
// A body cools steadily, so T = -(R/kappa) u with -Laplace(u) = 1 inside and u = 0 on the surface.
// The field is set up stress free and then disappears; the stress left behind (the permanent
// stress) is the thermal stress of the temperature change theta = -u.  While an elastic body cools
// the stress is exactly the reverse.  All stresses are in units of E*alpha*R/(kappa*(1-nu)),
// lengths in units of the side named in each table.  s = largest principal permanent stress at the
// centre, and
//     d_perm = sqrt(24 s)      thickness of the slab with the same permanent centre tension
//     d_steady = sqrt(8 umax)  thickness of the slab with the same steady temperature difference
//     surf = (surface tension while cooling) / (d_steady^2/12)
//
// Table e: the same while the field still grows, t after an even body began to cool at a steady
// rate: its largest surface tension, and what it has above that of the slab of the same steady
// difference times 1.13 (bars, prism, blocks; 1 for cylinders), as a share of the slab's steady
// one.
//
// Method: Ritz-Galerkin with global polynomials (Legendre products), one symmetric part only.
//
// - bars: u from (1-x^2)(1-y^2) P P; Airy function from (1-x^2)^2 (1-y^2)^2 P P (clamped plate);
// - triangle: u from L r^(2i) L^j (exact in steady cooling); Airy function from L^2 r^(2i) L^j, L =
// product of the area coordinates;
// - blocks: displacements P P P with the natural (traction-free) boundary condition;
// - cylinders: the same in (r,z).
//
// The stress at traction-free right-angled edges is bounded, so the convergence at the centre is
// fast. s1 s2 s3 are the centre stresses along x, y, z (bars: a, b, axis; blocks: a, b, c;
// cylinders: r, theta, z).
//
// Build: cmake --build build --target shape_tension   (not part of the default build)
// Use:   build/tests/shape_tension [nu=0.22] [extra=0] [tables=abcd, e]
// extra: functions more per direction, -2 .. 2, to see the convergence.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include <Eigen/Dense>

using Mat = Eigen::MatrixXd;
using Vec = Eigen::VectorXd;
using M3 = Eigen::Matrix3d;
using Place = std::array<double, 3>;

double nu = 0.22;                                        // Poisson ratio
int extra = 0;                                           // extra functions per direction
double since = std::numeric_limits<double>::infinity();  // the start of cooling, * kappa

struct Rule {
  Vec x, w;
};  // Gauss-Legendre on [-1,1] (Golub-Welsch)
Rule gauss(int n) {
  Mat J = Mat::Zero(n, n);
  for (int k = 1; k < n; ++k) J(k, k - 1) = J(k - 1, k) = k / std::sqrt(4.0 * k * k - 1);
  Eigen::SelfAdjointEigenSolver<Mat> es(J);
  return {es.eigenvalues(), 2 * es.eigenvectors().row(0).cwiseAbs2().transpose()};
}

// Rows: points; columns: P_0..P_{n-1}; [d] = d-th derivative.
struct Table {
  Mat d[3];
};
Table legendre(const Vec& x, int n) {
  Table t;
  for (auto& m : t.d) m = Mat::Zero(x.size(), n);
  for (int i = 0; i < x.size(); ++i) {
    auto &a = t.d[0], &b = t.d[1], &c = t.d[2];
    a(i, 0) = 1, a(i, 1) = x[i], b(i, 1) = 1;
    for (int k = 1; k + 1 < n; ++k) {
      a(i, k + 1) = ((2 * k + 1) * x[i] * a(i, k) - k * a(i, k - 1)) / (k + 1);
      b(i, k + 1) = b(i, k - 1) + (2 * k + 1) * a(i, k);
      c(i, k + 1) = c(i, k - 1) + (2 * k + 1) * b(i, k);
    }
  }
  return t;
}
// n functions of one parity (0 even, 1 odd), times (1-x^2)^bubble; derivatives scaled to
// half-length h.
Table family(const Vec& x, int n, int parity, int bubble, double h) {
  Table p = legendre(x, 2 * n + 1), r;
  for (auto& m : r.d) m.resize(x.size(), n);
  for (int i = 0; i < x.size(); ++i) {
    double q = 1 - x[i] * x[i], b0 = std::pow(q, bubble), b1 = 0, b2 = 0;
    if (bubble == 1) b1 = -2 * x[i], b2 = -2;
    if (bubble == 2) b1 = -4 * x[i] * q, b2 = -4 * q + 8 * x[i] * x[i];
    for (int j = 0; j < n; ++j) {
      int k = 2 * j + parity;
      double f = p.d[0](i, k), g = p.d[1](i, k), s = p.d[2](i, k);
      r.d[0](i, j) = b0 * f;
      r.d[1](i, j) = (b1 * f + b0 * g) / h;
      r.d[2](i, j) = (b2 * f + 2 * b1 * g + b0 * s) / (h * h);
    }
  }
  return r;
}
Vec solve(Mat A, Vec b) {  // symmetric positive, scaled to unit diagonal
  Vec s = A.diagonal().cwiseSqrt().cwiseInverse();
  A = s.asDiagonal() * A * s.asDiagonal();
  return s.asDiagonal() * Eigen::LDLT<Mat>(A).solve(s.asDiagonal() * b);
}
// u from mass M, stiffness K and load: M u_t + K u = load, u = 0 at the start.
Vec field(const Mat& K, const Mat& M, const Vec& load) {
  if (std::isinf(since)) return solve(K, load);
  const Eigen::GeneralizedSelfAdjointEigenSolver<Mat> modes{K, M};
  Vec c = modes.eigenvectors().transpose() * load;
  for (int i = 0; i < c.size(); ++i) {
    c[i] *= -std::expm1(-modes.eigenvalues()[i] * since) / modes.eigenvalues()[i];
  }
  return modes.eigenvectors() * c;
}
Mat kron(const Mat& A, const Mat& B) {
  Mat K(A.rows() * B.rows(), A.cols() * B.cols());
  for (int i = 0; i < A.rows(); ++i)
    for (int j = 0; j < A.cols(); ++j)
      K.block(i * B.rows(), j * B.cols(), B.rows(), B.cols()) = A(i, j) * B;
  return K;
}
M3 tensor(double x, double y, double z, double xy = 0, double xz = 0, double yz = 0) {
  return M3{{x, xy, xz}, {xy, y, yz}, {xz, yz, z}};
}
double high(const M3& s) {
  return Eigen::SelfAdjointEigenSolver<M3>(s, Eigen::EigenvaluesOnly).eigenvalues()[2];
}

struct Result {
  double umax, umean;
  M3 centre;     // permanent stress at the centre
  Place face{};  // cooling tension at the centres of the x, y, z faces
  double body = -1,
         surf = -1;  // largest permanent tension anywhere; largest cooling tension on the surface
  Place where{},
      swhere{};  // their places (among the sampled points), as fractions of the half-lengths
  double dperm() const { return std::sqrt(24 * high(centre)); }
  double dsteady() const { return std::sqrt(8 * umax); }
  double ratio(double s) const { return s / (2 * umax / 3); }
  void sample(const M3& s, bool onSurface, Place at) {
    if (high(s) > body * (1 + 1e-6)) body = high(s), where = at;
    if (onSurface && high(-s) > surf * (1 + 1e-6)) surf = high(-s), swhere = at;
  }
};
Vec samples(int m) {  // 0 .. 1, denser near 1
  Vec v(m + 1);
  for (int i = 0; i <= m; ++i) v[i] = std::sin(0.5 * std::numbers::pi * i / m);
  return v;
}
// Axial stress of a long bar with free ends: nu (sx+sy) + (1-nu)(u - mean u).
double axial(double inPlaneSum, double u, double mean) {
  return nu * inPlaneSum + (1 - nu) * (u - mean);
}
int terms(int base, double aspect) {
  return base + extra + int(std::lround(2.5 * std::sqrt(aspect)));
}

// ---- (a) long rectangular bar, sides a and b
// ------------------------------------------------------
Result bar(double a, double b) {
  int nx = terms(7, a), ny = terms(7, b);
  Rule g = gauss(2 * std::max(nx, ny) + 6);
  auto W = g.w.asDiagonal();
  auto f = [&](int n, int bub, double h) { return family(g.x, n, 0, bub, h); };
  Table ux = f(nx, 1, a / 2), uy = f(ny, 1, b / 2), px = f(nx, 2, a / 2), py = f(ny, 2, b / 2);
  auto in = [&](const Table& t, int i, int j) -> Mat { return t.d[i].transpose() * W * t.d[j]; };
  auto load = [&](const Table& t) -> Mat { return t.d[0].transpose() * g.w; };
  auto cross = [&](const Table& t, int i, const Table& s) -> Mat {
    return t.d[i].transpose() * W * s.d[i];
  };
  Vec fu = kron(load(ux), load(uy));
  Vec cu = field(kron(in(ux, 1, 1), in(uy, 0, 0)) + kron(in(ux, 0, 0), in(uy, 1, 1)),
                 kron(in(ux, 0, 0), in(uy, 0, 0)),
                 fu);
  Vec fp = (kron(cross(px, 1, ux), cross(py, 0, uy)) + kron(cross(px, 0, ux), cross(py, 1, uy))) *
           cu;  // the Airy function's load is Laplace(u)
  Vec cp = solve(kron(in(px, 2, 2), in(py, 0, 0)) + kron(in(px, 0, 0), in(py, 2, 2)) +
                     kron(in(px, 2, 0), in(py, 0, 2)) + kron(in(px, 0, 2), in(py, 2, 0)),
                 -fp);
  Result r{};
  r.umean = fu.dot(cu) / 4;
  auto at = [&](double x, double y) {
    Vec X = Vec::Constant(1, x), Y = Vec::Constant(1, y);
    Table tx = family(X, nx, 0, 2, a / 2), ty = family(Y, ny, 0, 2, b / 2);
    double u = (kron(family(X, nx, 0, 1, 1).d[0], family(Y, ny, 0, 1, 1).d[0]) * cu)(0);
    r.umax = std::max(r.umax, u);
    double sx = (kron(tx.d[0], ty.d[2]) * cp)(0), sy = (kron(tx.d[2], ty.d[0]) * cp)(0);
    double xy = -(kron(tx.d[1], ty.d[1]) * cp)(0);
    return tensor(sx, sy, axial(sx + sy, u, r.umean), xy);
  };
  r.centre = at(0, 0);
  r.face = {high(-at(1, 0)), high(-at(0, 1)), 0};
  for (double x : samples(16))
    for (double y : samples(32)) r.sample(at(x, y), x == 1 || y == 1, {x, y, 0});
  return r;
}

// ---- (b) long equilateral prism of side 1
// ---------------------------------------------------------
struct Jet {  // value and derivatives up to second order in (x,y)
  double v = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
  Jet operator*(const Jet& o) const {
    return {v * o.v,
            x * o.v + v * o.x,
            y * o.v + v * o.y,
            xx * o.v + 2 * x * o.x + v * o.xx,
            xy * o.v + x * o.y + y * o.x + v * o.xy,
            yy * o.v + 2 * y * o.y + v * o.yy};
  }
};
Result triangle() {
  const double h =
      std::sqrt(3.0) / 2;  // height; the centroid is the origin, one vertex at (0, 2h/3)
  int n = 6 + extra;
  auto basis = [&](double x, double y) {
    auto lam = [&](double nx, double ny) {
      return Jet{1.0 / 3 + (nx * x + ny * y) / h, nx / h, ny / h};
    };
    Jet L = lam(0, 1) * lam(h, -0.5) * lam(-h, -0.5), r2{x * x + y * y, 2 * x, 2 * y, 2, 0, 2};
    for (double* p : {&L.v, &L.x, &L.y, &L.xx, &L.xy, &L.yy}) *p *= 27;
    std::vector<Jet> out{L};  // out[0]: 27 L; u = h^2 L exactly
    for (int i = 0; i <= n; ++i)
      for (int j = 0; 2 * i + 3 * j <= 2 * n; ++j) {
        Jet f = L * L;
        for (int k = 0; k < i; ++k) f = f * r2;
        for (int k = 0; k < j; ++k) f = f * L;
        out.push_back(f);
      }
    return out;
  };
  auto bubbles = [&](double x, double y) {  // 27 L r^(2i) L^j
    auto lam = [&](double nx, double ny) {
      return Jet{1.0 / 3 + (nx * x + ny * y) / h, nx / h, ny / h};
    };
    Jet L = lam(0, 1) * lam(h, -0.5) * lam(-h, -0.5), r2{x * x + y * y, 2 * x, 2 * y, 2, 0, 2};
    for (double* p : {&L.v, &L.x, &L.y, &L.xx, &L.xy, &L.yy}) *p *= 27;
    std::vector<Jet> out;
    for (int i = 0; i <= n; ++i)
      for (int j = 0; 2 * i + 3 * j <= 2 * n; ++j) {
        Jet f = L;
        for (int k = 0; k < i; ++k) f = f * r2;
        for (int k = 0; k < j; ++k) f = f * L;
        out.push_back(f);
      }
    return out;
  };
  int nf = int(basis(0, 0).size()) - 1;
  Mat K = Mat::Zero(nf, nf), Ku = K, Mu = K, C = K;
  Vec fu = Vec::Zero(nf);
  Result r{};
  Rule g = gauss(2 * n + 10);
  for (int i = 0; i < g.x.size(); ++i)
    for (int j = 0; j < g.x.size();
         ++j) {  // half the triangle is enough; t = fraction from the apex
      double t = (1 + g.x[i]) / 2, x = t * 0.5 * (1 + g.x[j]) / 2, y = 2 * h / 3 - t * h;
      double w = g.w[i] * g.w[j] * t / 2;  // normalised: sums to 1
      auto b = basis(x, y);
      auto v = bubbles(x, y);
      Vec lap(nf), px(nf), py(nf), u(nf), ux(nf), uy(nf);
      for (int k = 0; k < nf; ++k) {
        lap[k] = b[k + 1].xx + b[k + 1].yy, px[k] = b[k + 1].x, py[k] = b[k + 1].y;
        u[k] = v[k].v, ux[k] = v[k].x, uy[k] = v[k].y;
      }
      K += w * lap * lap.transpose();
      Ku += w * (ux * ux.transpose() + uy * uy.transpose());
      Mu += w * u * u.transpose(), fu += w * u;
      C += w * (px * ux.transpose() + py * uy.transpose());
    }
  Vec cu = field(Ku, Mu, fu), c = solve(K, -C * cu);
  r.umean = fu.dot(cu);
  auto at = [&](double x, double y) {
    auto b = basis(x, y);
    double sx = 0, sy = 0, xy = 0;
    for (int k = 0; k < nf; ++k)
      sx += c[k] * b[k + 1].yy, sy += c[k] * b[k + 1].xx, xy -= c[k] * b[k + 1].xy;
    auto v = bubbles(x, y);
    double u = 0;
    for (int k = 0; k < nf; ++k) u += cu[k] * v[k].v;
    r.umax = std::max(r.umax, u);
    return tensor(sx, sy, axial(sx + sy, u, r.umean), xy);
  };
  r.centre = at(0, 0);
  r.face = {high(-at(0, -h / 3)), 0, 0};
  for (int i = 0; i <= 60; ++i)
    for (int j = 0; j <= 30; ++j) {
      double t = i / 60.0, x = t * 0.5 * j / 30.0, y = 2 * h / 3 - t * h;
      r.sample(at(x, y), i == 60 || j == 30, {x, y, 0});
    }
  return r;
}

// ---- (c) block a x b x c
// --------------------------------------------------------------------------
Result block(Place side) {
  const double mu = 0.5 / (1 + nu), la = nu / ((1 + nu) * (1 - 2 * nu)),
               beta = 1 / (1 - 2 * nu);  // E = alpha = 1
  int n[3];
  Table t[3][3];  // [dimension][0 even, 1 odd displacement families, 2 bubble family for u]
  Rule g = gauss(36 + 2 * extra);
  auto make = [&](const Vec& x, int d, int kind) {
    return family(x, n[d], kind == 1, kind == 2, side[d] / 2);
  };
  for (int d = 0; d < 3; ++d) n[d] = terms(6, side[d] / side[0]);
  for (int d = 0; d < 3; ++d)
    for (int k = 0; k < 3; ++k) t[d][k] = make(g.x, d, k);
  auto in = [&](int d, int k1, int d1, int k2, int d2) -> Mat {
    return t[d][k1].d[d1].transpose() * g.w.asDiagonal() * t[d][k2].d[d2];
  };
  // integral of (d_p of a function of kinds k1) * (d_q of one of kinds k2); p or q = -1: no
  // derivative
  auto form = [&](std::array<int, 3> k1, int p, std::array<int, 3> k2, int q) {
    auto f = [&](int d) { return in(d, k1[d], p == d, k2[d], q == d); };
    return kron(f(0), kron(f(1), f(2)));
  };
  const std::array<int, 3> bub{2, 2, 2},
      kind[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};  // component c odd in c
  auto ones = [&](int d) -> Mat { return t[d][2].d[0].transpose() * g.w; };
  Vec fu = kron(ones(0), kron(ones(1), ones(2)));
  Vec cu = field(form(bub, 0, bub, 0) + form(bub, 1, bub, 1) + form(bub, 2, bub, 2),
                 form(bub, -1, bub, -1),
                 fu);
  int m = n[0] * n[1] * n[2];
  Mat K(3 * m, 3 * m);
  Vec F(3 * m);
  for (int c = 0; c < 3; ++c) {
    F.segment(c * m, m) = -beta * (form(kind[c], c, bub, -1) * cu);
    for (int e = 0; e < 3; ++e) {
      auto K_ce = K.block(c * m, e * m, m, m);
      K_ce = la * form(kind[c], c, kind[e], e) + mu * form(kind[c], e, kind[e], c);
      for (int d = 0; d < 3 && c == e; ++d) K_ce += mu * form(kind[c], d, kind[c], d);
    }
  }
  Vec s = K.diagonal().cwiseSqrt().cwiseInverse();
  K = s.asDiagonal() * K * s.asDiagonal();
  Vec U = s.asDiagonal() * Eigen::LLT<Eigen::Ref<Mat>>(K).solve(s.asDiagonal() * F);
  Result r{};
  r.umean = fu.dot(cu) / 8;
  auto at = [&](double x, double y, double z) {
    double xi[3] = {x, y, z};
    Table p[3][3];
    for (int d = 0; d < 3; ++d)
      for (int k = 0; k < 3; ++k) p[d][k] = make(Vec::Constant(1, xi[d]), d, k);
    auto row = [&](const std::array<int, 3>& k, int q) {
      return kron(p[0][k[0]].d[q == 0], kron(p[1][k[1]].d[q == 1], p[2][k[2]].d[q == 2]));
    };
    M3 G;
    for (int c = 0; c < 3; ++c)
      for (int d = 0; d < 3; ++d) G(c, d) = (row(kind[c], d) * U.segment(c * m, m))(0);
    double u = (row(bub, -1) * cu)(0);
    r.umax = std::max(r.umax, u);
    return M3((1 - nu) * (mu * (G + G.transpose()) + (la * G.trace() + beta * u) * M3::Identity()));
  };
  r.centre = at(0, 0, 0);
  r.face = {high(-at(1, 0, 0)), high(-at(0, 1, 0)), high(-at(0, 0, 1))};
  Vec v = samples(10);
  for (double x : v)
    for (double y : v)
      for (double z : v) r.sample(at(x, y, z), x == 1 || y == 1 || z == 1, {x, y, z});
  return r;
}

// ---- (d) cylinder of diameter D, height H
// ---------------------------------------------------------
Result cylinder(double D, double H) {
  const double mu = 0.5 / (1 + nu), la = nu / ((1 + nu) * (1 - 2 * nu)), beta = 1 / (1 - 2 * nu),
               R = D / 2, h = H / 2;
  double small = std::min(D, H);
  int nr = terms(7, D / small), nz = terms(7, H / small);
  Rule g = gauss(2 * std::max(nr, nz) + 6);
  // values and r-derivatives of P_i(2t-1), t = (r/R)^2, optionally times (1-t)
  auto radial = [&](const Vec& t, bool bubble) {
    Table p = legendre((2 * t.array() - 1).matrix(), nr + 1);
    Mat f = p.d[0].leftCols(nr), ft = 2 * p.d[1].leftCols(nr);
    if (bubble) {
      Vec q = (1 - t.array()).matrix();
      ft = (q.asDiagonal() * ft - f).eval(), f = (q.asDiagonal() * f).eval();
    }
    Vec dtdr = 2 * t.cwiseMax(0).cwiseSqrt() / R;
    return std::pair<Mat, Mat>(f, dtdr.asDiagonal() * ft);
  };
  struct Rows {
    Mat u, ur, uz, B;
  };  // u and gradient; B: err, eth, ezz, grz from (u_r, u_z) coefficients
  auto rows = [&](const Vec& t, const Vec& z) {
    auto [b, br] = radial(t, true);
    auto [p, pr] = radial(t, false);
    Table zb = family(z, nz, 0, 1, h), ze = family(z, nz, 0, 0, h), zo = family(z, nz, 1, 0, h);
    Vec rr = t.cwiseMax(0).cwiseSqrt();  // u_r = (r/R) P_i
    Mat f = rr.asDiagonal() * p, fr = p / R + Mat(rr.asDiagonal() * pr);
    Rows o{kron(b, zb.d[0]), kron(br, zb.d[0]), kron(b, zb.d[1]), {}};
    int np = int(o.u.rows()), m = nr * nz;
    o.B.resize(4 * np, 2 * m);
    o.B.leftCols(m) << kron(fr, ze.d[0]), kron(p / R, ze.d[0]), Mat::Zero(np, m), kron(f, ze.d[1]);
    o.B.rightCols(m) << Mat::Zero(2 * np, m), kron(p, zo.d[1]), kron(pr, zo.d[0]);
    return o;
  };
  Rows q = rows(((g.x.array() + 1) / 2).matrix(), g.x);
  Vec w = kron(Mat(g.w), Mat(g.w)) / 4;  // r dr dz, normalised to 1
  int np = int(w.size());
  auto W = w.asDiagonal();
  Vec cu = field(q.ur.transpose() * W * q.ur + q.uz.transpose() * W * q.uz,
                 q.u.transpose() * W * q.u,
                 q.u.transpose() * w);
  Vec u = q.u * cu;
  Eigen::Matrix4d C = Eigen::Matrix4d::Zero();
  C.topLeftCorner<3, 3>().setConstant(la);
  C.diagonal() << la + 2 * mu, la + 2 * mu, la + 2 * mu, mu;
  Mat CB = Mat::Zero(4 * np, q.B.cols());
  for (int i = 0; i < 4; ++i)
    for (int j = 0; j < 4; ++j)
      if (C(i, j) != 0) CB.middleRows(i * np, np) += C(i, j) * (W * q.B.middleRows(j * np, np));
  Vec wu = -beta * w.cwiseProduct(u), load(4 * np);
  load << wu, wu, wu, Vec::Zero(np);
  Vec U = solve(q.B.transpose() * CB, q.B.transpose() * load);
  Result r{};
  r.umean = w.dot(u);
  auto at = [&](double x, double z) {
    Rows p = rows(Vec::Constant(1, x * x), Vec::Constant(1, z));
    double uu = (p.u * cu)(0);
    r.umax = std::max(r.umax, uu);
    Eigen::Vector4d s = (1 - nu) * (C * (p.B * U) + beta * uu * Eigen::Vector4d(1, 1, 1, 0));
    return tensor(s[0], s[1], s[2], 0, s[3], 0);  // r, theta, z
  };
  r.centre = at(0, 0);
  r.face = {high(-at(1, 0)), high(-at(0, 1)), 0};  // rim, middle of the flat face
  for (double x : samples(16))
    for (double z : samples(16)) r.sample(at(x, z), x == 1 || z == 1, {x, z, 0});
  return r;
}

void line(const std::string& name, const Result& r) {
  std::printf(
      "%s,%.5f,%.5f,%.5f,%.5f,%.5f,%.4f,%.4f,%.4f,%.4f,%.2f %.2f %.2f,%.3f,%.3f,%.3f,%.3f,%.2f "
      "%.2f %.2f\n",
      name.c_str(),
      r.umax,
      r.umean,
      r.centre(0, 0),
      r.centre(1, 1),
      r.centre(2, 2),
      r.dperm(),
      r.dsteady(),
      r.dperm() / r.dsteady(),
      std::sqrt(24 * r.body),
      r.where[0],
      r.where[1],
      r.where[2],
      r.ratio(r.face[0]),
      r.ratio(r.face[1]),
      r.ratio(r.face[2]),
      r.ratio(r.surf),
      r.swhere[0],
      r.swhere[1],
      r.swhere[2]);
}
// Surface tension of a slab of thickness d, since the start of steady cooling; [CJ59] 3.4.
double slab_surface(double d) {
  double left = 0;
  for (int k = 1; k < 400; k += 2)
    left +=
        std::exp(-k * k * std::numbers::pi * std::numbers::pi * since / d / d) / std::pow(k, 4.0);
  return d * d / 12 * (1 - 96 / std::pow(std::numbers::pi, 4) * left);
}
// The largest surface tension over that of the slab at the same moment, and when; then in steady
// cooling.
template <class Shape>
void growing(const std::string& name, Shape shape) {
  since = std::numeric_limits<double>::infinity();
  const Result ended = shape();
  const double d = ended.dsteady(), steady = ended.surf / (d * d / 12);
  double most = steady, at = since;
  for (double t = 0.02; t < 2; t *= 1.19) {  // 4 kappa t/d^2
    since = t * d * d / 4;
    const double ratio = shape().surf / slab_surface(d);
    if (ratio > most) most = ratio, at = t;
  }
  since = std::numeric_limits<double>::infinity();
  std::printf("%s,%.4f,%.2f,%.4f\n", name.c_str(), most, at, steady);
  std::fflush(stdout);
}
int main(int argc, char** argv) {
  if (argc > 1) nu = std::atof(argv[1]);
  if (argc > 2) extra = std::atoi(argv[2]);
  std::string which = argc > 3 ? argv[3] : "abcd";
  auto head = [&](char c, const char* key) {
    if (which.find(c) == std::string::npos) return false;
    std::printf(
        "%s,umax,umean,s1,s2,s3,dperm,dsteady,dperm/"
        "dsteady,dperm_body_max,where,surf_face1,surf_face2,surf_face3,surf_max,surf_where\n",
        key);
    return true;
  };
  auto text = [](double v) {
    char b[32];
    return std::snprintf(b, 32, "%.4g", v), std::string(b);
  };
  const std::vector<double> ratios{1, 1.25, 1.5, 2, 3, 4, 6, 12};
  if (head('a', "b/a"))
    for (double k : {1., 1.25, 1.5, 2., 3., 4., 6., 10.}) line(text(k), bar(1, k));
  if (head('b', "shape")) line("triangle", triangle());
  if (head('c', "b/a,c/a"))
    for (double p : ratios)
      for (double q : ratios)
        if (p <= q) line(text(p) + "," + text(q), block({1, p, q}));
  if (head('d', "H/D"))  // unit of length: the smaller of D and H
    for (double k : {0.1, 0.15, 0.2, 0.25, 1. / 3, 0.5, 0.75, 0.85, 1., 1.25, 1.5, 2., 3., 4.})
      line(text(k), cylinder(std::max(1., 1 / k), std::max(1., k)));
  if (which.find('e') != std::string::npos) {
    std::printf("shape,largest surface/slab at any time,4 kappa t/d^2,in steady cooling\n");
    for (double k : {1., 1.1, 1.25, 1.4, 1.5, 1.75, 2., 2.5, 3., 4., 6., 10.})
      growing("bar " + text(k), [k] { return bar(1, k); });
    growing("prism", [] { return triangle(); });
    for (double k : {0.1, 0.25, 1. / 3, 0.5, 0.6, 0.7, 0.75, 0.85, 1., 1.25, 1.5, 2., 3.})
      growing("cylinder H/D " + text(k),
              [k] { return cylinder(std::max(1., 1 / k), std::max(1., k)); });
    for (double p : {1., 1.25, 1.5, 2., 3., 4., 6.})
      for (double q : {1., 1.25, 1.5, 2., 3., 4., 6.})
        if (p <= q)
          growing("block " + text(p) + " " + text(q), [p, q] { return block({1, p, q}); });
  }
}
