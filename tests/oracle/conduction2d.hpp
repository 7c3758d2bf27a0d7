// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

/// Steady heat conduction in two dimensions, for tests only: finite volumes on a graded rectangular mesh.
namespace oracle {

/// Cells dx by dy with conductivity k; conductances to fixed temperatures (films, edges) are added per cell.
struct Grid {
  std::vector<double> dx, dy;
  std::vector<double> k, g, gt;  ///< per cell: conductivity, conductance to fixed air, that times its temperature

  Grid(std::vector<double> x, std::vector<double> y)
      : dx(std::move(x)), dy(std::move(y)), k(dx.size() * dy.size(), 1.0), g(k.size(), 0.0), gt(k.size(), 0.0) {}
  std::size_t at(std::size_t i, std::size_t j) const { return j * dx.size() + i; }
  void fix(std::size_t cell, double conductance, double t) {
    g[cell] += conductance;
    gt[cell] += conductance * t;
  }
  /// Two half cells in series (harmonic mean).
  double east(std::size_t i, std::size_t j) const {
    return 2 * dy[j] / (dx[i] / k[at(i, j)] + dx[i + 1] / k[at(i + 1, j)]);
  }
  double north(std::size_t i, std::size_t j) const {
    return 2 * dx[i] / (dy[j] / k[at(i, j)] + dy[j + 1] / k[at(i, j + 1)]);
  }
};

/// Temperatures of the cells, by a banded Cholesky factor; cells run along x first, so keep x the shorter side.
inline std::vector<double> solve(const Grid& m) {
  const std::size_t nx = m.dx.size(), n = m.k.size(), w = nx + 1;
  std::vector<double> a(n * w, 0.0), t = m.gt;  // a[r * w + d]: row r, column r - d
  for (std::size_t r = 0; r < n; ++r) a[r * w] += m.g[r];
  auto join = [&](std::size_t p, std::size_t q, double c) {
    a[p * w] += c;
    a[q * w] += c;
    a[q * w + (q - p)] -= c;
  };
  for (std::size_t j = 0; j < m.dy.size(); ++j)
    for (std::size_t i = 0; i < nx; ++i) {
      if (i + 1 < nx) join(m.at(i, j), m.at(i + 1, j), m.east(i, j));
      if (j + 1 < m.dy.size()) join(m.at(i, j), m.at(i, j + 1), m.north(i, j));
    }
  for (std::size_t r = 0; r < n; ++r) {
    const std::size_t first = r >= nx ? r - nx : 0;
    for (std::size_t c = first; c <= r; ++c) {
      double s = a[r * w + (r - c)];
      for (std::size_t q = first; q < c; ++q)
        if (c - q < w) s -= a[r * w + (r - q)] * a[c * w + (c - q)];
      a[r * w + (r - c)] = c == r ? std::sqrt(s) : s / a[c * w];
    }
    for (std::size_t c = first; c < r; ++c) t[r] -= a[r * w + (r - c)] * t[c];
    t[r] /= a[r * w];
  }
  for (std::size_t r = n; r-- > 0;) {
    t[r] /= a[r * w];
    for (std::size_t d = 1; d < w && d <= r; ++d) t[r - d] -= a[r * w + d] * t[r];
  }
  return t;
}

}  // namespace oracle
