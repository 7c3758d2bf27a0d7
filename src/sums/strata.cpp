// SPDX-License-Identifier: MIT
#include "overjoist/strata.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "sums/need.hpp"
#include "sums/normal.hpp"

namespace overjoist {
namespace {

constexpr double kEnough = 3.0;    // covered readings from which on they need no prior
constexpr std::size_t kGrid = 25;  // quantiles of each of the two
constexpr std::size_t kEnd = 32;   // of 625 values: 5 %
using Quantiles = std::array<double, kGrid>;

constexpr Need kNeedSpots{"ranges", "check the readings and the bare area"};

void check(const RangePrior& p) {
  kNeedSpots(p.bare >= 0.5, "a prior of bare readings of", p.bare, "1/2 or more");
  kNeedSpots(p.covered > 0, "a prior of covered readings of", p.covered, "above 0");
  kNeedSpots(p.readings > 0, "a prior of readings of", p.readings, "above 0");
  kNeedSpots(p.variation > 0, "a prior variation of", p.variation, "above 0");
  kNeedSpots(p.least >= 0 && p.least < 1, "a least share of the mean of", p.least,
             "from 0 to below 1");
  kNeedSpots(p.bare_error >= 0, "a bare area's error of", p.bare_error, "0 or more");
}

void check(const CoveredSpots& s) {
  kNeedSpots(s.mean > 0, "a mean U of", s.mean, "above 0");
  kNeedSpots(s.variance >= 0, "a variance of U of", s.variance, "0 or more");
  kNeedSpots(s.count > 0, "a number of covered readings of", s.count, "above 0");
}

/// Deviation between covered spots, with its degrees of freedom: the prior's readings and those
/// taken.
struct Deviation {
  double s, degrees;
};

Deviation with_prior(const CoveredSpots& spots, const RangePrior& prior) {
  const double guessed = prior.variation * spots.mean, degrees = prior.readings + spots.count - 1;
  const double squares = prior.readings * guessed * guessed + spots.variance * spots.count;
  return {std::sqrt(squares / degrees), degrees};
}

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

const Quantiles& kept_beta(double m, double n) {
  thread_local Kept kept;
  return kept.of(m, n, beta_quantiles);
}

const Quantiles& kept_student(double degrees) {
  thread_local Kept kept;
  return kept.of(0.0, degrees, [](double, double v) { return student_quantiles(v); });
}

/// The 32nd least of all pairs of two rising lists under a function that rises in both: it is one
/// of those with at most 32 pairs not above it.
template <class F>
double end_of(F value) {
  std::array<double, 128> low{};
  std::size_t count = 0;
  for (std::size_t i = 0; i < kGrid; ++i)
    for (std::size_t j = 0; j < kGrid && (i + 1) * (j + 1) <= kEnd; ++j) low[count++] = value(i, j);
  std::nth_element(low.begin(), low.begin() + (kEnd - 1),
                   low.begin() + static_cast<std::ptrdiff_t>(count));
  return low[kEnd - 1];
}

}  // namespace

RangePrior range_prior(const Tables& tables) {
  return {tables.figure("range-bare"),        tables.figure("range-covered"),
          tables.figure("range-readings"),    tables.figure("range-variation") / 100,
          tables.figure("range-least") / 100, tables.figure("range-bare-error") / 100};
}

CoveredSpots covered_spots(const SpotScatter& scatter, double count) {
  const double s = scatter.deviation(2.0);  // n/(n - 1) is 2 there
  return {scatter.mean(), s * s / 2.0, count};
}

MeanU covered_mean(const CoveredSpots& spots, const RangePrior& prior) {
  check(spots);
  check(prior);
  const double n = spots.count;
  const Deviation d = n >= kEnough ? Deviation{std::sqrt(spots.variance * n / (n - 1)), n - 1}
                                   : with_prior(spots, prior);
  return {spots.mean, student_t_95(d.degrees) * d.s / std::sqrt(n)};
}

MeanU strata_mean(std::span<const Stratum> strata, const RangePrior& prior) {
  check(prior);
  double shares = 0.0, mean = 0.0, relative = 0.0, degrees = 0.0, weighted = 0.0;
  bool alone = false;
  for (const Stratum& s : strata) {
    kNeedSpots(s.share > 0, "a share of", s.share, "above 0");
    kNeedSpots(s.count >= 1, "a number of readings of", s.count, "1 or more");
    check(CoveredSpots{s.mean, s.variance, s.count});
    shares += s.share;
    mean += s.share * s.mean;
    if (s.bare) continue;
    relative += s.variance * s.count / (s.mean * s.mean);
    degrees += s.count - 1.0;
    weighted += s.share * s.share * s.mean * s.mean / s.count;
    alone = alone || s.count < 2.0;
  }
  kNeedSpots(shares > 0, "a sum of shares of", shares, "above 0");
  if (!(weighted > 0)) return {mean / shares, 0.0};
  if (alone) {
    relative += prior.readings * prior.variation * prior.variation;
    degrees += prior.readings;
  }
  const double half = student_t_95(degrees) * std::sqrt(relative / degrees * weighted);
  return {mean / shares, half / shares};
}

ReadU measured_bare(const MeanU& covered, const MeasuredBare& bare, const RangePrior& prior) {
  check(prior);
  const double error = bare.error.value_or(prior.bare_error), share = bare.share;
  kNeedSpots(covered.mean > 0, "a mean U of", covered.mean, "above 0");
  kNeedSpots(share >= 0 && share <= 1, "a bare share of", share, "0 to 1");
  kNeedSpots(error >= 0, "a bare area's error of", error, "0 or more");
  kNeedSpots(bare.u > 0, "a U of the bare ceiling of", bare.u, "above 0");
  const double u = share * bare.u + (1.0 - share) * covered.mean;
  const double half =
      std::hypot(kZ95 * error * share * (bare.u - covered.mean), (1.0 - share) * covered.half);
  const double least = prior.least * (1.0 - share) * covered.mean;
  return {u, std::min(u, std::max(u - half, least)), std::max(u, std::min(u + half, bare.u))};
}

ReadU sampled_bare(const SampledBare& found, const RangePrior& prior) {
  check(prior);
  kNeedSpots(found.bare >= 0, "a number of bare readings of", found.bare, "0 or more");
  kNeedSpots(found.u > 0, "a U of the bare ceiling of", found.u, "above 0");
  if (!(found.covered.count > 0)) return {found.u, found.u, found.u};
  check(found.covered);
  const CoveredSpots& c = found.covered;
  const Deviation d = with_prior(c, prior);
  const Quantiles& bare = kept_beta(prior.bare + found.bare, prior.covered + c.count);
  const Quantiles& student = kept_student(d.degrees);
  const double wide = d.s / std::sqrt(c.count), least = std::min(prior.least * c.mean, found.u);
  const auto value = [&](std::size_t i, std::size_t j) {
    const double covered = std::clamp(c.mean + student[j] * wide, least, found.u);
    return bare[i] * found.u + (1.0 - bare[i]) * covered;
  };
  const double u = (found.bare * found.u + c.count * c.mean) / (found.bare + c.count);
  const double low = end_of(value);
  const double high =
      -end_of([&](std::size_t i, std::size_t j) { return -value(kGrid - 1 - i, kGrid - 1 - j); });
  return {u, std::min(u, low), std::max(u, std::min(high, found.u))};
}

ReadU with_materials(const ReadU& read, double up, double down, double u_bare) {
  kNeedSpots(up >= 0, "a U up by", up, "0 or more");
  kNeedSpots(down >= 0, "a U down by", down, "0 or more");
  const double low = read.u - std::hypot(read.u - read.low, down);
  const double high = read.u + std::hypot(read.high - read.u, up);
  // Where both together would go below nothing, the readings' own end stands in for that of U.
  const double least = read.low * (read.u - std::min(down, 0.9 * read.u)) / read.u;
  return {read.u, std::max(low, least), std::max(read.u, std::min(high, u_bare))};
}

ResistanceRange resistance_range(const ReadU& u, Resistance ends) {
  kNeedSpots(u.low > 0, "a low end of U of", u.low, "above 0");
  return resistance_range(u.low, u.high, ends);
}

}  // namespace overjoist
