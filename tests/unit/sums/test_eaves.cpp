// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <limits>

#include "fixtures.hpp"
#include "overjoist/eaves.hpp"

using namespace fixtures;

namespace {

/// An even fill of one R per inch, for the closed form.
struct EaveFill {
  Length level;
  Resistivity rho;
  Resistance ends;
};

Eave eave_of(double heel, double pitch, double gap, double baffle) {
  return {inches(heel), pitch, inches(gap), inches(baffle)};
}
EaveFill fill_at(double level, double r_inch, double ends) {
  return {inches(level), r_per_inch(r_inch), r_value(ends)};
}

/// 6 in. of room over the plate, rising 1 in 3: full depth of 15 in. is reached after 27 in.
const Eave kEave = eave_of(8, 4, 1, 1);
const EaveFill kFill = fill_at(15, 3, 2);

/// The deck comes so low that the first 2 in. hold nothing; rising 1 in 2, 9 in. are reached after
/// 20 in.
const Eave kLow = eave_of(2, 6, 1, 2);
const EaveFill kThin = fill_at(9, 4, 2);

double width_of(const Eave& e, const EaveFill& f) { return eave_distance(e, f.level).us(); }

std::function<Transmittance(Length)> linear(const EaveFill& fill) {
  return [fill](Length d) { return inverse(fill.ends + fill.rho * d); };
}

double wedge_of(const Eave& e, const EaveFill& f) { return wedge_u(e, f.level, linear(f)).us(); }

// Closed form of the same mean: over the bare part b the path is S alone, elsewhere the integral of
// dx/(S + ρ·a) with a = a0 + m·x is ln((S + ρL)/(S + ρ·a0))/(m·ρ).
double closed_form(const Eave& e, const EaveFill& f) {
  const double m = e.rise_in_12 / 12, a0 = std::max(0.0, (e.heel - e.vent_gap - e.baffle).us()),
               s = f.ends.us(), rho = f.rho.us();
  const double bare = eave_distance(e, Length{}).us(), width = width_of(e, f);
  return (bare / s + std::log((s + rho * f.level.us()) / (s + rho * a0)) / (m * rho)) / width;
}

}  // namespace

// Hand derivation: tests/reference/SOURCES.md#eave-wedge: a(0) = 8 - 1 - 1 = 6, so 6 in. fit over
// the plate and 15 in. after (15 - 6)·3 = 27. With 2 in. of heel, 1 of gap and 2 of baffle a(0) =
// -1: something fits from 1/(1/2) = 2 in. on, 9 in. from 20 on. Source: IRC R806.3, at least 1 in.
// of air: the gap where none is given, so that 7 in. fit over a plate of heel 8 and 8 in. 3 in. on.
TEST_CASE("eaves: room grows inwards with the pitch") {
  near(eave_distance(kEave, inches(6)).us(), 0, kNoise);
  near(eave_distance(kEave, inches(15)).us(), 27, kNoise);
  near(eave_distance(kLow, inches(0)).us(), 2, kNoise);
  near(eave_distance(kLow, inches(9)).us(), 20, kNoise);
  Eave plain;
  plain.heel = inches(8);
  plain.rise_in_12 = 4;
  near(eave_distance(plain, inches(7)).us(), 0, kNoise);
  near(eave_distance(plain, inches(8)).us(), 3, kNoise);
}

// Hand derivation: tests/reference/SOURCES.md#eave-wedge: width (15 - 6)·3 = 27 in., mean depth (6
// + 15)/2 = 10.5 in. S + ρL = 2 + 45 = 47 and S + ρa = 2 + 18 = 20, m·ρ = 1, so U = ln(47/20)/27 =
// 0.8544153/27 = 0.03164501 and R = 31.60056 - 2 = 29.60056. Half the last digit. The mean depth
// would have said 1/(2 + 31.5) = 0.02985.
TEST_CASE("eaves: a wedge that begins with some room has its logarithmic mean") {
  near(width_of(kEave, kFill), 27, kNoise);
  near(wedge_of(kEave, kFill), 0.03164501, 0.000000005);
  near(1 / wedge_of(kEave, kFill) - 2, 29.60056, 0.000005);
}

// Hand derivation: tests/reference/SOURCES.md#eave-wedge: a(0) = -1, so the first 1/(1/2) = 2 in.
// are bare and the width is 2 + 9·2 = 20 in. Volume 9·18/2 = 81, mean 4.05 in. U·20 = 2/2 +
// ln(38/2)/(0.5·4) = 1 + 2.9444390/2 = 2.4722195; U = 0.12361097. Half the last digit.
TEST_CASE("eaves: where nothing fits the films and the ceiling stand alone") {
  near(width_of(kLow, kThin), 20, kNoise);
  near(wedge_of(kLow, kThin), 0.12361097, 0.000000005);
}

// Hand derivation: atan(1/3) = 0.3217506, times 3: 0.9652517; at 12 in 12 π/4. The flatter the
// roof, the nearer to 1. Independent: tests/oracle, which holds 18 wedges with it to 2 %.
TEST_CASE("eaves: heat runs along arcs in the wedge") {
  near(arc_factor(eave_of(8, 4, 1, 0)), 0.9652517, 0.00000005);
  near(arc_factor(eave_of(8, 12, 1, 0)), std::atan(1.0), kNoise);
  near(arc_factor(eave_of(8, 0.01, 1, 0)), 1, 1e-6);
  CHECK_THROWS_AS(arc_factor(eave_of(8, 0, 1, 0)), Error);
}

// Source: 24 CFR 3280.509(c), manufactured homes, as reprinted: a blown fill that tapers to x of
// its thickness keeps so many percent of its R. Hand derivation: eq. 10a without films and without
// the arc's factor is the logarithmic mean, (1 - x)/ln(1/x). The table prints whole percents of a
// smoothed line: 2.5.
TEST_CASE("eaves: the federal table of tapered blown fill is the law of upright heat") {
  const double rows[][2] = {{1, 21}, {10, 39}, {20, 50}, {30, 58}, {50, 72}, {75, 87}};
  for (const auto& row : rows) {
    CAPTURE(row[0]);
    const double least = 10 * row[0] / 100;
    const Eave taper = eave_of(least, 12, 0, 0);
    const double whole = 10 * 3.5, kept = 1 / wedge_of(taper, fill_at(10, 3.5, 0));
    near(100 * kept / whole, row[1], 2.5);
  }
}

// Source: tests/reference/SOURCES.md#ashrae-a24: 85 % full depth, 5 % half depth, 10 % joists;
// printed U, three decimals, so 0.0005. The half depth is the mean depth of a wedge that begins at
// nothing. Hand derivation: the taper itself loses more: ln(1 + 30/1.63)/30 = 2.96582/30 = 0.098861
// against 1/(1.63 + 15) = 0.060132, 1.644 times.
TEST_CASE("eaves: the 90.1 convention of half depth over 5 % of the area") {
  const PathEnds ends = {r_value(0.61 + 0.56), r_value(0.46)};
  const double rho = 11 / 3.5;
  const std::vector<BuiltLayer> layers = {loose_layer(rho)};
  const std::pair<double, double> rows[] = {{30, .034}, {38, .027}};
  for (const auto& [rated, printed] : rows) {
    const EaveFill fill = {inches(rated / rho), r_per_inch(rho), ends.both()};
    const double taper = wedge_of(eave_of(1, 4, 1, 0),
                                  fill);  // from nothing to full depth: its mean depth is the half
    const SpotPaths full = paths_at(ends, framing_of(0.10, 3.5), layers, fill.level.us());
    const SpotPaths half = paths_at(ends, framing_of(0.10, 3.5), layers, fill.level.us() / 2);
    const Path all[] = {{0.85, full.bay}, {0.05, half.bay}, {0.10, full.joist}};
    near(u_of_paths(all).us(), printed, 0.0005);
    if (rated == 30) near(taper, 0.0988509, 0.00000005);
    if (rated == 30) near(taper / inverse(half.bay).us(), 1.644, 0.0005);
  }
}

// Invariant: no wedge where the heel leaves room for the full level, nor in the limit of a very
// steep roof; then the wedge is the field, to the bit.
TEST_CASE("eaves: a high heel has no wedge, and a steep roof hardly any") {
  for (double heel : {16.0, 20.0}) {
    CHECK(eave_distance(eave_of(heel, 4, 1, 0), kFill.level) == Length{});
    CHECK(wedge_u(eave_of(heel, 4, 1, 0), kFill.level, linear(kFill)) ==
          linear(kFill)(kFill.level));
  }
  double last = std::numeric_limits<double>::infinity();
  for (double pitch : {1.0, 4.0, 12.0, 24.0, 1e6, 1e12}) {
    const Eave e = eave_of(1, pitch, 1, 0);
    CHECK(width_of(e, kFill) < last);
    near(width_of(e, kFill), 15 * 12 / pitch, 15 * 12 / pitch * kNoise);
    near(wedge_of(e, kFill), std::log(47 / 2.0) / 45,
         kNoise);  // ln((S + ρL)/S)/(ρL), whatever the pitch
    last = width_of(e, kFill);
  }
  // A hair below full depth over the plate.
  near(wedge_of(eave_of(16 - 1e-9, 4, 1, 0), kFill), 1.0 / 47, kNoise);
}

// Invariant: Simpson and the closed form are two ways to one integral; the header promises 1e-10.
TEST_CASE("eaves: Simpson agrees with the closed form") {
  for (double heel : {0.0, 1.0, 3.0, 8.0, 15.9})
    for (double pitch : {2.0, 5.0, 12.0})
      for (double ends : {0.85, 1.52, 3.0}) {
        const Eave e = eave_of(heel, pitch, 1, 0);
        const EaveFill f = fill_at(15, 3.5, ends);
        near(wedge_of(e, f), closed_form(e, f), 1e-10);
      }
}

// Hand derivation: the invented chart is linear between rows, so each stretch is a logarithm of its
// own: with S = 2 and a wedge from nothing to 14 in. U = [3.7/13·ln(15/2) + 4.8/17·ln(32/15)
// + 5.5/19·ln(51/32)]/14. Within the promised 1e-10.
TEST_CASE("eaves: a label's chart is followed row by row") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0.0);
  const auto u_at = [&chart](Length d) { return inverse(r_value(2) + chart.r_at(d)); };
  const double want = (3.7 / 13 * std::log(15 / 2.0) + 4.8 / 17 * std::log(32 / 15.0) +
                       5.5 / 19 * std::log(51 / 32.0)) /
                      14;
  near(wedge_u(eave_of(1, 4, 1, 0), inches(14), u_at).us(), want, 1e-10);
}

// Hand derivation: R-19 of 6.25 in., missing below half its thickness: 1/S there. Above it U = (a +
// bL)/(A + BL) with b = 1/19 - a/6.25, A = Sa, B = Sb + 1, whose integral is b·ΔL/B + a/B²·ln((A +
// BL2)/(A + BL1)). The jump at 3.125 in. is found to the promised 1e-6.
TEST_CASE("eaves: a batt that gives out at half its thickness") {
  const double s = 2, a = kBattConstant, b = 1.0 / 19 - a / 6.25, big_a = s * a, big_b = s * b + 1;
  const auto u_at = [](Length d) {
    const bool there = d.us() >= 3.125;
    return inverse(r_value(2) +
                   (there ? squeezed_batt_r(r_value(19), inches(6.25), d) : Resistance{}));
  };
  const double squeezed =
      b * 3.125 / big_b +
      a / (big_b * big_b) * std::log((big_a + big_b * 6.25) / (big_a + big_b * 3.125));
  near(wedge_u(eave_of(1, 4, 1, 0), inches(6.25), u_at).us(), (3.125 / s + squeezed) / 6.25, 1e-6);
}

// Invariant: each range stands in the header.
TEST_CASE("eaves: what cannot be is refused") {
  const double nan = std::nan("");
  CHECK_THROWS_WITH_AS(eave_distance(eave_of(8, 0, 1, 0), kFill.level),
                       doctest::Contains("pitch of 0"), Error);
  CHECK_THROWS_AS(eave_distance(eave_of(8, nan, 1, 0), kFill.level), Error);
  CHECK_THROWS_WITH_AS(eave_distance(eave_of(-1, 4, 1, 0), kFill.level),
                       doctest::Contains("heel height"), Error);
  CHECK_THROWS_WITH_AS(eave_distance(eave_of(8, 4, -1, 0), kFill.level),
                       doctest::Contains("vent gap"), Error);
  CHECK_THROWS_WITH_AS(eave_distance(eave_of(8, 4, 1, -1), kFill.level),
                       doctest::Contains("baffle"), Error);
  CHECK_THROWS_WITH_AS(eave_distance(kEave, inches(-1)), doctest::Contains("depth"), Error);
  CHECK_THROWS_WITH_AS(wedge_u(kEave, inches(0), linear(kFill)), doctest::Contains("level"), Error);
  CHECK_THROWS_WITH_AS(wedge_u(kEave, inches(nan), linear(kFill)), doctest::Contains("level"),
                       Error);
}
