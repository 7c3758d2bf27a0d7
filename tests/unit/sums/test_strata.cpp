// SPDX-License-Identifier: MIT
#include "overjoist/strata.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

constexpr double kBareU = 1 / kEnds;
const RangePrior kPrior{0.5, 9.5, 4, 0.25, 0.2, 0.15};

/// Quantiles at the 25 midpoints of a density of any scale, by 400,000 plain steps.
template <class Density>
std::vector<double> slow_quantiles(double from, double to, Density density) {
  constexpr int kSteps = 400000;
  const double step = (to - from) / kSteps;
  std::vector<double> sums(1, 0.0), quantiles;
  for (int i = 0; i < kSteps; ++i) sums.push_back(sums.back() + density(from + (i + 0.5) * step));
  for (int i = 0; i < 25; ++i) {
    const double wanted = sums.back() * (i + 0.5) / 25;
    const auto at = std::lower_bound(sums.begin(), sums.end(), wanted);
    const auto after = static_cast<double>(at - sums.begin());
    quantiles.push_back(from + step * (after - (*at - wanted) / (*at - *(at - 1))));
  }
  return quantiles;
}

/// The 32nd least and the 32nd greatest of all 625, sorted.
std::pair<double, double> ends_of(const std::vector<double>& bare, const std::vector<double>& cover,
                                  double u_bare, double least) {
  std::vector<double> all;
  for (const double b : bare)
    for (const double u : cover) all.push_back(b * u_bare + (1 - b) * std::clamp(u, least, u_bare));
  std::sort(all.begin(), all.end());
  return {all[31], all[all.size() - 32]};
}

}  // namespace

// Hand derivation: U 0.04, 0.05, 0.06 and 0.05: mean 0.05, squares 0.0002, s² = 0.0002/3; t at 3
// degrees 2.353363 (any table): 2.353363·0.00816497/2 = 0.00960757.
TEST_CASE("strata: four covered readings have their own Student interval") {
  SpotScatter scatter;
  const double us[] = {0.04, 0.05, 0.06, 0.05};
  for (std::size_t i = 0; i < 4; ++i) scatter.add(i, 0.25, us[i]);
  const CoveredSpots spots = covered_spots(scatter, 4);
  near(spots.mean, 0.05, kNoise);
  near(spots.variance, 0.00005, 1e-12);
  near(covered_mean(spots, kPrior).half, 0.00960757, 1e-8);
}

// Hand derivation: one reading of 0.05: s = 0.25·0.05, 4 degrees, t = 2.131847: 0.02664809. Two,
// 0.04 and 0.06: s² = (4·0.0125² + 0.0002)/5 = 0.000165, t at 5 degrees 2.015048, over the root of
// 2: 0.0183026.
TEST_CASE("strata: under three covered readings the prior weighs in") {
  near(covered_mean({0.05, 0, 1}, kPrior).half, 0.02664809, 1e-7);
  near(covered_mean({0.05, 0.0001, 2}, kPrior).half, 0.0183026, 1e-7);
}

// Symptom: a span "4 to 8" looked surer than two readings 4 and 8, and one reading certain.
// Invariant: the same two U as one reading's ends leave more open.
TEST_CASE("strata: a span is less sure than its two ends read apart") {
  const CoveredSpots span{0.05, 0.0001, 1}, two{0.05, 0.0001, 2}, sure{0.05, 0, 1};
  CHECK(covered_mean(span, kPrior).half > covered_mean(two, kPrior).half);
  CHECK(covered_mean(sure, kPrior).half > 0.02);
  const ReadU by_span = sampled_bare({span, 0, kBareU}, kPrior);
  const ReadU by_two = sampled_bare({two, 0, kBareU}, kPrior);
  CHECK(by_span.high > by_two.high);
  CHECK(by_span.low < by_two.low);
}

// Hand derivation: shares 0.7 and 0.3 with U 0.04 and 0.08, one reading each: mean 0.052, CV 0.25
// with 4 degrees: 2.131847·0.25·sqrt((0.7·0.04)² + (0.3·0.08)²) = 0.01965474. A bare share adds to
// the mean alone: shares 0.7, 0.2 and 0.1 of U 0.65: mean 0.109, half 2.131847·0.25·sqrt(0.028² +
// 0.016²) = 0.01718753. Shares of 70 and 30 are the same.
TEST_CASE("strata: shares that are given are strata") {
  const Stratum two[] = {{0.7, 0.04, 0}, {0.3, 0.08, 0}};
  near(strata_mean(two, kPrior).mean, 0.052, kNoise);
  near(strata_mean(two, kPrior).half, 0.01965474, 1e-7);
  const Stratum three[] = {{0.7, 0.04, 0}, {0.2, 0.08, 0}, {0.1, 0.65, 0, 1, true}};
  near(strata_mean(three, kPrior).mean, 0.109, kNoise);
  near(strata_mean(three, kPrior).half, 0.01718753, 1e-7);
  const Stratum percent[] = {{70, 0.04, 0}, {30, 0.08, 0}};
  near(strata_mean(percent, kPrior).half, 0.01965474, 1e-7);
  const Stratum bare[] = {{1, 0.65, 0, 1, true}};
  CHECK(strata_mean(bare, kPrior).half == 0);
}

// Hand derivation: strata of 4 readings each with variance over mean² of 0.03 and 0.06: pooled
// (0.12 + 0.24)/6 = 0.06, no prior; t at 6 degrees 1.943180; half of the area each, U 0.04 and
// 0.06: 1.943180·sqrt(0.06·(0.02² + 0.03²)/4) = 0.00858082.
TEST_CASE("strata: several readings of each stratum pool their scatter") {
  const Stratum strata[] = {{0.5, 0.04, 0.03 * 0.0016, 4}, {0.5, 0.06, 0.06 * 0.0036, 4}};
  near(strata_mean(strata, kPrior).half, 0.00858082, 1e-7);
}

// Hand derivation: a tenth bare of U 0.65 beside 0.05 ± 0.01: u = 0.065 + 0.045 = 0.11; half =
// hypot(1.644854·0.15·0.1·0.6, 0.9·0.01) = hypot(0.01480368, 0.009) = 0.01732481. With a measured
// error of 0 the fill's alone. All bare: its own U and no more; none bare: the fill's interval.
TEST_CASE("strata: a bare area that was measured stands beside the fill") {
  const ReadU u = measured_bare({0.05, 0.01}, {0.1, {}, 0.65}, kPrior);
  near(u.u, 0.11, kNoise);
  near(u.high - u.u, 0.01732481, 1e-7);
  near(u.u - u.low, 0.01732481, 1e-7);
  const ReadU sure = measured_bare({0.05, 0.01}, {0.1, 0.0, 0.65}, kPrior);
  near(sure.high - sure.u, 0.009, kNoise);
  const ReadU all = measured_bare({0.05, 0.01}, {1, 0.0, 0.65}, kPrior);
  near(all.low, 0.65, kNoise);
  near(all.high, 0.65, kNoise);
  near(measured_bare({0.05, 0.01}, {0, {}, 0.65}, kPrior).low, 0.04, kNoise);
}

// Hand derivation: no end above the bare ceiling, and the fill not below a fifth of its mean:
// 0.9·0.2 times 0.05.
TEST_CASE("strata: measured ends stop at the bare ceiling and at a fifth of the fill's mean") {
  const ReadU wide = measured_bare({0.05, 5}, {0.1, {}, 0.65}, kPrior);
  near(wide.high, 0.65, kNoise);
  near(wide.low, 0.009, kNoise);
}

// Independent: both distributions summed in 400,000 plain steps in their own variables, all 625
// values sorted. 2e-6 is what those steps leave.
TEST_CASE("strata: the prior's ends equal those of slow sums, sorted") {
  struct Row {
    double bare, covered, mean, variance;
  };
  const Row rows[] = {{1, 9, 0.05, 0.0001}, {2, 12, 0.04, 0.0004}, {4, 40, 0.06, 0.0002}};
  for (const Row& row : rows) {
    CAPTURE(row.covered);
    const double m = 0.5 + row.bare, n = 9.5 + row.covered, v = 3 + row.covered;
    const auto beta =
        slow_quantiles(0, 1, [&](double x) { return std::pow(x, m - 1) * std::pow(1 - x, n - 1); });
    auto cover =
        slow_quantiles(-40, 40, [&](double t) { return std::pow(1 + t * t / v, -(v + 1) / 2); });
    const double s2 =
        (4 * 0.0625 * row.mean * row.mean + row.variance * row.covered) / (3 + row.covered);
    for (double& one : cover) one = row.mean + one * std::sqrt(s2 / row.covered);
    const auto ends = ends_of(beta, cover, kBareU, 0.2 * row.mean);
    const ReadU got =
        sampled_bare({{row.mean, row.variance, row.covered}, row.bare, kBareU}, kPrior);
    near(got.low, ends.first, 2e-6);
    near(got.high, ends.second, 2e-6);
    near(got.u, (row.bare * kBareU + row.covered * row.mean) / (row.bare + row.covered), kNoise);
  }
}

// Independent: closed forms. Beta(1, n) has its quantile 1 - (1 - p)^(1/n); Student at 4 degrees
// 2·sqrt(q - 1), q = cos(acos(sqrt(c))/3)/sqrt(c), c = 4p(1 - p). One covered reading, none bare.
TEST_CASE("strata: the prior's ends equal those of closed forms") {
  RangePrior prior = kPrior;
  prior.bare = 1;
  std::vector<double> bare, cover;
  for (int i = 0; i < 25; ++i) {
    const double p = (i + 0.5) / 25, c = 4 * p * (1 - p);
    bare.push_back(1 - std::pow(1 - p, 1 / 10.5));
    const double q = std::cos(std::acos(std::sqrt(c)) / 3) / std::sqrt(c);
    const double t = std::copysign(2 * std::sqrt(std::max(0.0, q - 1)), p - 0.5);
    cover.push_back(0.05 + t * 0.0125);
  }
  const auto ends = ends_of(bare, cover, kBareU, 0.01);
  const ReadU got = sampled_bare({{0.05, 0, 1}, 0, kBareU}, prior);
  near(got.low, ends.first, 1e-7);
  near(got.high, ends.second, 1e-7);
}

// Invariant: the central figure lies inside, no end is above the bare ceiling or at 0, more
// readings of the same kind never widen the range, and the same question has the same answer
// whatever was asked before.
TEST_CASE("strata: ends of the prior are bounded, hold the central figure and repeat") {
  std::vector<double> first;
  for (int round = 0; round < 2; ++round) {
    std::size_t at = 0;
    for (const double bare : {0.0, 1.0, 5.0, 60.0})
      for (const double covered : {1.0, 2.0, 7.0, 65.0, 129.0})
        for (const double variation : {0.0, 0.3, 3.0}) {
          const double mean = 0.05, variance = variation * variation * mean * mean;
          const ReadU u = sampled_bare({{mean, variance, covered}, bare, kBareU}, kPrior);
          CHECK(u.low > 0);
          CHECK(u.low <= u.u);
          CHECK(u.high >= u.u);
          CHECK(u.high <= kBareU);
          if (round == 0) first.push_back(u.high);
          CHECK(u.high == first[at++]);
        }
  }
  const ReadU few = sampled_bare({{0.05, 0.0001, 4}, 0, kBareU}, kPrior);
  const ReadU many = sampled_bare({{0.05, 0.0001, 40}, 0, kBareU}, kPrior);
  CHECK(many.high < few.high);
  CHECK(many.low > few.low);
  // Two of five bare: the prior's 95 % lies below what was read, and the end is what was read.
  const ReadU pulled = sampled_bare({{0.04, 0.0004, 3}, 2, kBareU}, kPrior);
  CHECK(pulled.high == pulled.u);
  const ReadU none = sampled_bare({{}, 3, kBareU}, kPrior);
  CHECK(none.low == kBareU);
  CHECK(none.high == kBareU);
}

// Hand derivation: 0.03 of the readings and 0.04 of the material are 0.05 together; a material that
// would take all of U leaves the readings' end times a tenth; no end above the bare ceiling.
TEST_CASE("strata: materials add in squares and no end passes the bare ceiling") {
  const ReadU read{0.1, 0.07, 0.13};
  const ReadU both = with_materials(read, 0.04, 0.04, 0.65);
  near(both.low, 0.05, kNoise);
  near(both.high, 0.15, kNoise);
  near(with_materials(read, 0.04, 0.04, 0.14).high, 0.14, kNoise);
  near(with_materials(read, 0, 0.5, 0.65).low, 0.007, kNoise);
  const ResistanceRange r = resistance_range(both, r_value(1.5));
  near(r.low.us(), 1 / 0.15 - 1.5, kNoise);
  near(r.high->us(), 20 - 1.5, kNoise);
  CHECK(resistance_range(ReadU{0.6, 0.6, 0.66}, r_value(1.6)).low == Resistance{});
}

// Source: rows of data/bypasses.json; our own assumptions.
TEST_CASE("strata: the prior stands in the table") {
  const RangePrior p = range_prior(tables());
  CHECK(p.bare == 0.5);
  CHECK(p.covered == 9.5);
  CHECK(p.readings == 4);
  CHECK(p.variation == 0.25);
  CHECK(p.least == 0.2);
  CHECK(p.bare_error == 0.15);
}

// Invariant: the header's ranges, each refused by name.
TEST_CASE("strata: figures out of range are refused by name") {
  const auto refused = [](auto call, const char* words) {
    CHECK_THROWS_WITH_AS(call(), doctest::Contains(words), Error);
  };
  refused([] { covered_mean({0, 0, 3}, kPrior); }, "mean U");
  refused([] { covered_mean({0.05, -1, 3}, kPrior); }, "variance");
  refused([] { covered_mean({0.05, 0, 0}, kPrior); }, "covered readings");
  refused([] { measured_bare({0.05, 0.01}, {1.1, {}, 0.65}, kPrior); }, "bare share");
  refused([] { measured_bare({0.05, 0.01}, {0.1, -1.0, 0.65}, kPrior); }, "bare area's error");
  refused([] { measured_bare({0.05, 0.01}, {0.1, {}, 0}, kPrior); }, "bare ceiling");
  refused([] { sampled_bare({{0.05, 0, 1}, -1, 0.65}, kPrior); }, "bare readings");
  refused([] { sampled_bare({{0.05, 0, 1}, 0, 0}, kPrior); }, "bare ceiling");
  refused([] { strata_mean({}, kPrior); }, "sum of shares");
  const Stratum none[] = {{0, 0.05, 0}};
  refused([&] { strata_mean(none, kPrior); }, "share of");
  const Stratum unread[] = {{1, 0.05, 0, 0.5}};
  refused([&] { strata_mean(unread, kPrior); }, "number of readings");
  refused([] { with_materials({0.1, 0.1, 0.1}, -1, 0, 1); }, "U up by");
  refused([] { with_materials({0.1, 0.1, 0.1}, 0, -1, 1); }, "U down by");
  refused([] { resistance_range(ReadU{0.1, 0, 0.2}, {}); }, "low end");
  const auto prior = [&](double RangePrior::*part, double value, const char* words) {
    RangePrior bad = kPrior;
    bad.*part = value;
    refused([&] { covered_mean({0.05, 0, 3}, bad); }, words);
  };
  prior(&RangePrior::bare, 0.4, "prior of bare");
  prior(&RangePrior::covered, 0, "prior of covered");
  prior(&RangePrior::readings, 0, "prior of readings");
  prior(&RangePrior::variation, std::numeric_limits<double>::quiet_NaN(), "prior variation");
  prior(&RangePrior::least, 1, "least share");
  prior(&RangePrior::bare_error, -0.1, "bare area's error");
}
