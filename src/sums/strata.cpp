// SPDX-License-Identifier: MIT
#include "overjoist/strata.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "sums/need.hpp"
#include "sums/normal.hpp"
#include "sums/strata_quantiles.hpp"

namespace overjoist {
namespace {

constexpr double kEnough = 3.0;   // covered readings from which on they need no prior
constexpr std::size_t kEnd = 32;  // of 625 values: 5 %

constexpr Need kNeedSpots{"ranges", "check the readings and the bare area"};

void check(const RangePrior& p) {
  kNeedSpots(p.bare >= 0.5, "a prior of bare readings of", p.bare, "1/2 or more");
  kNeedSpots(p.covered > 0, "a prior of covered readings of", p.covered, "above 0");
  kNeedSpots(p.readings > 0, "a prior of readings of", p.readings, "above 0");
  kNeedSpots(p.variation >= 0, "a prior variation of", p.variation, "0 or more");
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
  constexpr double kPercent = 100.0;
  return {tables.figure("range-bare"),
          tables.figure("range-covered"),
          tables.figure("range-readings"),
          tables.figure("range-variation") / kPercent,
          tables.figure("range-least") / kPercent,
          tables.figure("range-bare-error") / kPercent,
          inches(tables.figure("range-bare-depth")),
          tables.figure("range-label") / kPercent};
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
  const double most = bare.most > 0 ? bare.most : bare.u;
  return {u, std::min(u, std::max(u - half, least)), std::max(u, std::min(u + half, most))};
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
  Quantiles covered{};
  for (std::size_t j = 0; j < kGrid; ++j)
    covered[j] = std::clamp(c.mean + student[j] * wide, least, found.u);
  const auto value = [&](std::size_t i, std::size_t j) {
    return bare[i] * found.u + (1.0 - bare[i]) * covered[j];
  };
  const double u = (found.bare * found.u + c.count * c.mean) / (found.bare + c.count);
  const double low = end_of(value);
  const double high =
      -end_of([&](std::size_t i, std::size_t j) { return -value(kGrid - 1 - i, kGrid - 1 - j); });
  return {u, std::min(u, low), std::max(u, std::min(high, found.u))};
}

ReadU filled_bare(const SampledBare& found, double most, const RangePrior& prior) {
  check(prior);
  check(found.covered);
  kNeedSpots(found.bare >= 0, "a number of bare readings of", found.bare, "0 or more");
  kNeedSpots(found.u > 0, "a U of the bare spots of", found.u, "above 0");
  const CoveredSpots& c = found.covered;
  const double share = found.bare / (found.bare + c.count), step = found.u - c.mean;
  const Quantiles& bare = kept_beta(prior.bare + found.bare, prior.covered + c.count);
  // The 5 and 95 % points lie between the midpoints 2 and 6 %, and 94 and 98 %.
  const double fewest = (std::lerp(bare[0], bare[1], 0.75) - share) * step;
  const double greatest = (std::lerp(bare[kGrid - 2], bare[kGrid - 1], 0.25) - share) * step;
  const Deviation d = with_prior(c, prior);
  const double half = (1.0 - share) * student_t_95(d.degrees) * d.s / std::sqrt(c.count);
  const double u = share * found.u + (1.0 - share) * c.mean;
  const double up = std::hypot(half, std::max({0.0, fewest, greatest}));
  const double down = std::hypot(half, std::max({0.0, -fewest, -greatest}));
  return {u, std::max(u - down, prior.least * u), std::max(u, std::min(u + up, most))};
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
