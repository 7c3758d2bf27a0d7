// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <vector>

#include "joist_bay.hpp"

/// The wedge of an eave with a stretch of the field beside it, for the oracle.
namespace oracle {

/// The wedge, its roof line in steps that keep its volume, and 24 in. of the field beside it.
struct Wedge {
  double a0, pitch, level, k;  ///< fill over the plate, rise in 12, level of the field: inches
  double width() const { return (level - a0) * 12 / pitch; }
};
inline constexpr double kField = 24;

inline double wedge_2d(const Wedge& w, std::size_t steps) {
  const double dx = w.width() / double(steps), dy = (w.level - w.a0) / double(steps);
  std::vector<double> x(steps, dx), y = graded({0, kGypsumIn, kGypsumIn + w.a0}, dy, 1.25);
  const std::vector<double> field = graded({0, kField}, dx, 1.25);
  x.insert(x.end(), field.begin(), field.end());
  y.insert(y.end(), 2 * steps, dy / 2);  // so that the middle of a step is a line of the mesh
  Grid m(x, y);
  const double wide = w.width() + kField;
  m.paint(0, wide, 0, kGypsumIn, kGypsumIn / kGypsumR);
  m.paint(0, wide, kGypsumIn, kGypsumIn + w.level, w.k);
  for (std::size_t s = 0; s < steps; ++s)  // air above the middle of each step
    m.paint(double(s) * dx, double(s + 1) * dx, kGypsumIn + w.a0 + (double(s) + 0.5) * dy, 1e9,
            0.0);
  return air_to_air_r(m, kInside, kAttic);
}

}  // namespace oracle
