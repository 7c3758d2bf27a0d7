// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "conduction2d.hpp"
#include "fixtures.hpp"

/// Joist bays for the oracle and for the core: half a bay from the middle of a joist to the middle
/// of the bay.
namespace oracle {

inline constexpr double kGypsumR = 0.45, kGypsumIn = 0.5, kWood = 0.8, kJoistIn = 1.5;
inline constexpr double kInside = 0.61, kAttic = 0.46;  ///< the product's default films

/// Inches; k of the fill in Btu in/(h ft2 F).
struct Bay {
  double spacing, joist, k, fill;
  double cover() const { return fill - joist; }
};

/// The half bay: gypsum, joist and fill, air beside a joist that stands proud.
inline Grid half_bay(const Bay& b, double smallest = 0.04, double growth = 1.2) {
  const double low = kGypsumIn + std::min(b.fill, b.joist),
               high = kGypsumIn + std::max(b.fill, b.joist), half = b.spacing / 2;
  std::vector<double> lines = {0, kGypsumIn, low};
  if (high > low) lines.push_back(high);
  Grid m(graded({0, kJoistIn / 2, half}, smallest, growth), graded(lines, smallest, growth));
  m.paint(0, half, 0, high, 0.0);
  m.paint(0, half, 0, kGypsumIn, kGypsumIn / kGypsumR);
  m.paint(0, half, kGypsumIn, kGypsumIn + b.fill, b.k);
  m.paint(0, kJoistIn / 2, kGypsumIn, kGypsumIn + b.joist, kWood);
  return m;
}

inline double bay_2d(const Bay& b, double attic = kAttic, double smallest = 0.04,
                     double growth = 1.2) {
  return air_to_air_r(half_bay(b, smallest, growth), kInside, attic);
}

/// The core's three figures, film to film, and the joist counted whole.
struct CoreR {
  double parallel, planes, mean, whole;
};
inline CoreR core_r(const Bay& b, double attic = kAttic) {
  const overjoist::PathEnds ends = {overjoist::r_value(kInside + kGypsumR),
                                    overjoist::r_value(attic)};
  const overjoist::Framing wood = fixtures::framing_of(kJoistIn / b.spacing, b.joist, 1 / kWood);
  const std::vector<overjoist::BuiltLayer> layers = {fixtures::loose_layer(1 / b.k)};
  const overjoist::SpotPaths cut = fixtures::paths_at(ends, wood, layers, b.fill);
  const overjoist::SpotPaths whole = fixtures::paths_at(ends, wood, layers, b.fill, true);
  const overjoist::Transmittance u = overjoist::parallel(wood, cut);
  return {inverse(u).us(), cut.planes.us(), inverse(overjoist::iso_mean(u, cut)).us(),
          inverse(overjoist::parallel(wood, whole)).us()};
}

/// Percent by which a figure stands above the two-dimensional one.
inline double off(double value, double two_d) { return 100 * (value / two_d - 1); }

}  // namespace oracle
