// SPDX-License-Identifier: MIT
#include "sums/strata_quantiles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace overjoist {
namespace {

constexpr std::size_t kPanels = 128;  // of Simpson's rule, two steps each

/// Area from the range's start up to each panel's end, of a density of any scale.
template <class Density>
std::array<double, kPanels + 1> cumulated(double from, double to, Density density) {
  std::array<double, kPanels + 1> area{};
  const double step = (to - from) / kPanels;
  double left = density(from);
  for (std::size_t i = 0; i < kPanels; ++i) {
    const double x = from + static_cast<double>(i) * step, right = density(x + step);
    area[i + 1] = area[i] + step / 6 * (left + 4 * density(x + step / 2) + right);
    left = right;
  }
  return area;
}

/// Angles at which the shares (i + 1/2)/25 of the density's area lie below, or those of its upper
/// half if the other half mirrors it.
template <class Density>
Quantiles angles(double from, double to, bool mirrored, Density density) {
  const auto area = cumulated(from, to, density);
  const double step = (to - from) / kPanels;
  Quantiles q{};
  std::size_t at = 0;
  for (std::size_t i = mirrored ? kGrid / 2 : 0; i < kGrid; ++i) {
    const double p = (static_cast<double>(i) + 0.5) / kGrid;
    const double wanted = area.back() * (mirrored ? 2 * p - 1 : p);
    while (at + 1 < kPanels && area[at + 1] < wanted) ++at;
    // Newton within the panel, its area by Simpson's rule.
    const double left = from + static_cast<double>(at) * step;
    double x = left + step * (wanted - area[at]) / (area[at + 1] - area[at]);
    for (int round = 0; round < 3; ++round) {
      const double here = density(x);
      if (!(here > 0)) break;
      const double got =
          (x - left) / 6 * (density(left) + 4 * density((left + x) / 2) + here) + area[at];
      x = std::clamp(x + (wanted - got) / here, left, left + step);
    }
    q[i] = x;
  }
  if (mirrored)
    for (std::size_t i = 0; i < kGrid / 2; ++i) q[i] = -q[kGrid - 1 - i];
  return q;
}

// With t = sqrt(v)·tan(a) Student's density becomes cos^(v - 1), even in a.
Quantiles student_quantiles(double v) {
  const double to = std::min(std::numbers::pi / 2, 8.0 / std::sqrt(v));
  Quantiles q = angles(0.0, to, true, [v](double a) { return std::pow(std::cos(a), v - 1.0); });
  for (double& one : q) one = std::sqrt(v) * std::tan(one);
  return q;
}

// With x = sin² a the density of Beta(m, n) becomes sin^(2m - 1)·cos^(2n - 1), without a pole for
// m, n from 1/2 on; held against its own peak, so that no count makes it vanish.
Quantiles beta_quantiles(double m, double n) {
  const double up = 2 * m - 1, down = 2 * n - 1;
  const double peak = std::atan(std::sqrt(std::max(0.0, up) / down));
  const double spread = 8.0 / (2.0 * std::sqrt(m + n - 1.0));
  const double top_sin = up > 0 ? std::log(std::sin(peak)) : 0.0;
  const double top = up * top_sin + down * std::log(std::cos(peak));
  const auto density = [&](double a) {
    const double s = std::sin(a), c = std::cos(a);
    if (!(c > 0) || (up > 0 && !(s > 0))) return 0.0;
    return std::exp((up > 0 ? up * std::log(s) : 0.0) + down * std::log(c) - top);
  };
  Quantiles q = angles(std::max(0.0, peak - spread), std::min(std::numbers::pi / 2, peak + spread),
                       false, density);
  for (double& one : q) one = std::sin(one) * std::sin(one);
  return q;
}

/// Quantiles that this thread has asked for before: a batch asks for a few pairs again and again.
/// What is kept is what would be computed.
class Kept {
 public:
  template <class Make>
  const Quantiles& of(double a, double b, Make make) {
    const auto slot = static_cast<std::size_t>(std::fmod(std::fabs(a) * 7.0 + b, kSlots));
    Entry& e = entries_[slot];
    if (e.a != a || e.b != b) e = {a, b, make(a, b)};
    return e.quantiles;
  }

 private:
  static constexpr double kSlots = 64.0;
  struct Entry {
    double a = -1.0, b = -1.0;  // no count
    Quantiles quantiles{};
  };
  std::array<Entry, 64> entries_{};
};

}  // namespace

const Quantiles& kept_beta(double m, double n) {
  thread_local Kept kept;
  return kept.of(m, n, beta_quantiles);
}

const Quantiles& kept_student(double degrees) {
  thread_local Kept kept;
  return kept.of(0.0, degrees, [](double, double v) { return student_quantiles(v); });
}

}  // namespace overjoist
