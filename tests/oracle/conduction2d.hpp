// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

/// Steady heat conduction in two dimensions, for tests only: cell-centred finite volumes on a
/// graded rectangular mesh. Any consistent units; in the trade's: lengths in inches, k in Btu in/(h
/// ft2 F), R in h ft2 F/Btu, so that R = inches / k.
namespace oracle {

/// Sizes of cells between lines that must be met: `smallest` beside each line, growing by `growth`
/// towards the middle.
inline std::vector<double> graded(const std::vector<double>& lines, double smallest,
                                  double growth) {
  std::vector<double> all;
  for (std::size_t p = 1; p < lines.size(); ++p) {
    const double length = lines[p] - lines[p - 1];
    std::vector<double> half;
    double sum = 0, h = smallest;
    for (; sum < length / 2; h *= growth) {
      half.push_back(h);
      sum += h;
    }
    for (double& one : half) one *= length / 2 / sum;
    all.insert(all.end(), half.begin(), half.end());
    all.insert(all.end(), half.rbegin(), half.rend());
  }
  return all;
}

/// Cells dx by dy with conductivity k, 0 where there is air; conductances to air of a fixed
/// temperature stand per cell.
struct Grid {
  std::vector<double> dx, dy;
  std::vector<double> k, g,
      gt;  ///< per cell: conductivity, conductance to fixed air, that times its temperature

  Grid(std::vector<double> x, std::vector<double> y)
      : dx(std::move(x)),
        dy(std::move(y)),
        k(dx.size() * dy.size(), 1.0),
        g(k.size(), 0.0),
        gt(k.size(), 0.0) {}

  std::size_t at(std::size_t i, std::size_t j) const { return j * dx.size() + i; }
  void fix(std::size_t cell, double conductance, double t) {
    g[cell] += conductance;
    gt[cell] += conductance * t;
  }
  /// Two half cells in series over a face; 0 beside air.
  static double series(double face, double a, double ka, double b, double kb) {
    return ka > 0 && kb > 0 ? 2 * face / (a / ka + b / kb) : 0.0;
  }
  double east(std::size_t i, std::size_t j) const {
    return series(dy[j], dx[i], k[at(i, j)], dx[i + 1], k[at(i + 1, j)]);
  }
  double north(std::size_t i, std::size_t j) const {
    return series(dx[i], dy[j], k[at(i, j)], dy[j + 1], k[at(i, j + 1)]);
  }
  /// Gives every cell whose centre lies in the rectangle the conductivity `value`.
  void paint(double x0, double x1, double y0, double y1, double value) {
    double y = 0;
    for (std::size_t j = 0; j < dy.size(); y += dy[j++]) {
      double x = 0;
      for (std::size_t i = 0; i < dx.size(); x += dx[i++]) {
        const double cx = x + dx[i] / 2, cy = y + dy[j] / 2;
        if (cx > x0 && cx < x1 && cy > y0 && cy < y1) k[at(i, j)] = value;
      }
    }
  }
  /// Film of resistance r to air at t along the lower edge.
  void film_below(double r, double t) {
    for (std::size_t i = 0; i < dx.size(); ++i) fix(i, dx[i] / (r + dy[0] / 2 / k[i]), t);
  }
  /// Film of resistance r to air at t along the upper edge and on every face towards a cell of air;
  /// those are pinned at t.
  void film_above(double r, double t) {
    const auto air = [&](std::size_t i, std::size_t j) {
      return j >= dy.size() || !(k[at(i, j)] > 0);
    };
    for (std::size_t j = 0; j < dy.size(); ++j)
      for (std::size_t i = 0; i < dx.size(); ++i) {
        const std::size_t cell = at(i, j);
        if (air(i, j)) {
          fix(cell, 1.0, t);
          continue;
        }
        const double up = dx[i] / (r + dy[j] / 2 / k[cell]),
                     aside = dy[j] / (r + dx[i] / 2 / k[cell]);
        if (air(i, j + 1)) fix(cell, up, t);
        if (j > 0 && air(i, j - 1)) fix(cell, up, t);
        if (i > 0 && air(i - 1, j)) fix(cell, aside, t);
        if (i + 1 < dx.size() && air(i + 1, j)) fix(cell, aside, t);
      }
  }
  double width() const {
    double sum = 0;
    for (const double one : dx) sum += one;
    return sum;
  }
};

/// The symmetric matrix of the cells' balances, lower band only: a[r * w + d] is row r, column r -
/// d.
inline std::vector<double> banded(const Grid& m, std::size_t w) {
  std::vector<double> a(m.k.size() * w, 0.0);
  for (std::size_t r = 0; r < m.k.size(); ++r) a[r * w] += m.g[r];
  const auto join = [&](std::size_t p, std::size_t q, double c) {
    a[p * w] += c;
    a[q * w] += c;
    a[q * w + (q - p)] -= c;
  };
  for (std::size_t j = 0; j < m.dy.size(); ++j)
    for (std::size_t i = 0; i < m.dx.size(); ++i) {
      if (i + 1 < m.dx.size()) join(m.at(i, j), m.at(i + 1, j), m.east(i, j));
      if (j + 1 < m.dy.size()) join(m.at(i, j), m.at(i, j + 1), m.north(i, j));
    }
  return a;
}

/// Temperatures of the cells, by a banded Cholesky factor; cells run along x first, so keep x the
/// shorter side.
inline std::vector<double> solve(const Grid& m) {
  const std::size_t nx = m.dx.size(), n = m.k.size(), w = nx + 1;
  std::vector<double> a = banded(m, w), t = m.gt;
  for (std::size_t r = 0; r < n; ++r) {
    const std::size_t first = r >= nx ? r - nx : 0;
    double* const row = a.data() + r * w;
    for (std::size_t c = first; c <= r; ++c) {
      const double* const other = a.data() + c * w;
      const std::size_t from = std::max(first, c >= nx ? c - nx : 0);
      double s = row[r - c];
      for (std::size_t q = from; q < c; ++q) s -= row[r - q] * other[c - q];
      row[r - c] = c == r ? std::sqrt(s) : s / other[0];
    }
    for (std::size_t c = first; c < r; ++c) t[r] -= row[r - c] * t[c];
    t[r] /= row[0];
  }
  for (std::size_t left = n; left > 0; --left) {
    const std::size_t r = left - 1;
    t[r] /= a[r * w];
    for (std::size_t d = 1; d < w && d <= r; ++d) t[r - d] -= a[r * w + d] * t[r];
  }
  return t;
}

/// Heat that enters through the lower edge, per unit length into the page.
inline double heat_in(const Grid& m, const std::vector<double>& t) {
  double q = 0;
  for (std::size_t i = 0; i < m.dx.size(); ++i) q += m.gt[i] - m.g[i] * t[i];
  return q;
}

/// R of the whole width, air to air: films below and above are put on, with one degree between
/// them.
inline double air_to_air_r(Grid m, double below, double above) {
  m.film_below(below, 1.0);
  m.film_above(above, 0.0);
  return m.width() / heat_in(m, solve(m));
}

}  // namespace oracle
