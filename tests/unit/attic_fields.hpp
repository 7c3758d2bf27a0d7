// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include "fixtures.hpp"

/// Simulated attics of a known U, and their surveys by chance.
namespace fixtures {

inline constexpr int kWide = 30, kLong = 40;  // ft
inline constexpr double kFieldPerInch = 3.2, kMeanDepth = 7;

/// Seeded; the same numbers on every machine, unlike the library's distributions.
class Dice {
 public:
  double uniform() { return (static_cast<double>(engine_()) + 0.5) / 4294967296.0; }
  double normal() {
    return std::sqrt(-2 * std::log(uniform())) * std::cos(6.283185307179586 * uniform());
  }
  std::size_t below(std::size_t n) {
    return static_cast<std::size_t>(uniform() * static_cast<double>(n));
  }

 private:
  std::mt19937 engine_{15};
};

struct Field {
  double variation, bare;
};

/// U of each square foot; depths are lognormal and alike within some 5 ft, bare patches are up to 5
/// ft wide.
struct Attic {
  std::vector<double> covered, all;
  std::vector<double> covered_depths, depths;
  double true_u = 0, bare_share = 0;
};

inline Attic attic_of(const Field& field, Dice& dice) {
  constexpr int kAcross = kWide + 4, kAlong = kLong + 4;
  std::vector<double> noise(kAcross * kAlong);
  for (double& one : noise) one = dice.normal();
  std::vector<bool> bare(kWide * kLong, false);
  int left = static_cast<int>(field.bare * kWide * kLong);
  while (left > 0) {
    const int w = 1 + static_cast<int>(dice.below(5)), h = 1 + static_cast<int>(dice.below(5));
    const auto x = static_cast<int>(dice.below(kWide)), y = static_cast<int>(dice.below(kLong));
    for (int i = x; i < std::min(kWide, x + w); ++i)
      for (int j = y; j < std::min(kLong, y + h) && left > 0; ++j)
        if (!bare[static_cast<std::size_t>(i * kLong + j)]) {
          bare[static_cast<std::size_t>(i * kLong + j)] = true;
          --left;
        }
  }
  const double sigma = std::sqrt(std::log(1 + field.variation * field.variation));
  Attic attic;
  for (int i = 0; i < kWide; ++i)
    for (int j = 0; j < kLong; ++j) {
      double near_by = 0;
      for (int a = 0; a < 5; ++a)
        for (int b = 0; b < 5; ++b)
          near_by += noise[static_cast<std::size_t>((i + a) * kAlong + j + b)];
      const double z = std::sqrt(0.7) * near_by / 5 + std::sqrt(0.3) * dice.normal();
      const double depth = kMeanDepth * std::exp(sigma * z - sigma * sigma / 2);
      const bool none = bare[static_cast<std::size_t>(i * kLong + j)];
      const double u = 1 / (kEnds + (none ? 0.0 : kFieldPerInch * depth));
      if (!none) attic.covered.push_back(u);
      if (!none) attic.covered_depths.push_back(depth);
      attic.depths.push_back(none ? 0.0 : depth);
      attic.all.push_back(u);
      attic.true_u += u / (kWide * kLong);
      attic.bare_share += none ? 1.0 / (kWide * kLong) : 0.0;
    }
  return attic;
}

/// Attics of a field, each with so many surveys: `ask(attic, dice)`.
template <class Ask>
void each_survey(const Field& field, int attics, int surveys, Ask ask) {
  Dice dice;
  for (int a = 0; a < attics; ++a) {
    const Attic attic = attic_of(field, dice);
    for (int s = 0; s < surveys; ++s) ask(attic, dice);
  }
}

/// Fields that are simulated: with and without bare patches.
inline constexpr Field kFields[] = {{0.2, 0}, {0.4, 0}, {0.3, 0.02}, {0.3, 0.05}, {0.4, 0.1}};

}  // namespace fixtures
