// SPDX-License-Identifier: MIT
#include "overjoist/eaves.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

namespace {

void need(bool ok, const char* what, double value, const char* allowed, const char* hint) {
  if (!ok || !std::isfinite(value))
    throw Error(ErrorCode::out_of_range, "eave", fmt::format("{} {:g} is not {}", what, value, allowed), hint);
}

void check(const Eave& eave) {
  need(eave.rise_in_12 > 0, "a roof pitch of", eave.rise_in_12, "above 0 in 12", "a flat roof has no wedge; give its headroom");
  need(eave.heel >= Length{}, "a heel height (in.) of", eave.heel.us(), "0 or more", "measure from plate to deck, upright");
  need(eave.vent_gap >= Length{}, "a vent gap (in.) of", eave.vent_gap.us(), "0 or more", "0 only where the eave is not vented");
  need(eave.baffle >= Length{}, "a baffle thickness (in.) of", eave.baffle.us(), "0 or more", "0 if there is none");
}

void check_level(Length level) { need(level > Length{}, "a level (in.) of", level.us(), "above 0", "give the depth in the field"); }

void check(const EaveFill& fill) {
  check_level(fill.level);
  need(fill.rho > Resistivity{}, "an R per inch of", fill.rho.us(), "above 0", "name a material with an R per inch");
  need(fill.ends > Resistance{}, "films and ceiling of R", fill.ends.us(), "above 0", "give films and ceiling a positive R");
}

double slope(const Eave& eave) { return eave.rise_in_12 / 12.0; }
/// Room over the plate's outer edge [in.]; below 0 where the deck comes too low for any fill.
double room_at_plate(const Eave& eave) { return (eave.heel - eave.vent_gap - eave.baffle).us(); }
/// Distance from the plate at which the room reaches `depth` [in.].
double distance_for(const Eave& eave, double depth) { return std::max(0.0, (depth - room_at_plate(eave)) / slope(eave)); }

/// Integrals over a part of the wedge, per inch of eave.
struct WedgeSums {
  double depth = 0.0;  ///< in2
  double u = 0.0;      ///< U·in
};

// From x1 to x2 inside the wedge the depth is a(x) = max(0, a0 + m·x), m = pitch/12, never above the level. Where it is
// 0 the path is S alone. Elsewhere ∫ a dx is a trapezoid and ∫ dx/(S + ρ·a) = ln((S + ρ·a2)/(S + ρ·a1))/(m·ρ); log1p
// keeps its digits in a thin strip. Limits: ρ·(a2 - a1) -> 0 gives (x2 - x1)/(S + ρ·a).
WedgeSums sums_between(const Eave& eave, const EaveFill& fill, double x1, double x2) {
  const double m = slope(eave), rho = fill.rho.us(), s = fill.ends.us();
  const double from = std::clamp(distance_for(eave, 0.0), x1, x2);
  const double a1 = std::max(0.0, room_at_plate(eave) + m * from), a2 = a1 + m * (x2 - from);
  return {(a1 + a2) / 2 * (x2 - from), (from - x1) / s + std::log1p(rho * (a2 - a1) / (s + rho * a1)) / (m * rho)};
}

}  // namespace

Length eave_room(const Eave& eave, Length from_plate) {
  check(eave);
  need(from_plate >= Length{}, "a distance from the plate (in.) of", from_plate.us(), "0 or more", "measure inwards from its outer edge");
  return inches(std::max(0.0, room_at_plate(eave) + slope(eave) * from_plate.us()));
}

EaveWedge eave_wedge(const Eave& eave, const EaveFill& fill) {
  check(eave);
  check(fill);
  EaveWedge wedge;
  wedge.level = wedge.mean_depth = fill.level;
  wedge.field_working_r = wedge.working_r = fill.rho * fill.level;
  wedge.field_u = wedge.u = inverse(fill.ends + wedge.field_working_r);
  const double width = distance_for(eave, fill.level.us());
  if (!(width > 0)) return wedge;
  const WedgeSums sums = sums_between(eave, fill, 0.0, width);
  wedge.width = inches(width);
  wedge.bare_width = inches(distance_for(eave, 0.0));
  wedge.mean_depth = inches(sums.depth / width);
  wedge.u = Transmittance::from_us(sums.u / width);
  wedge.working_r = inverse(wedge.u) - fill.ends;
  return wedge;
}

namespace {

constexpr int kPieces = 8, kDeepest = 24;  // 2^-27 of the range: a jump's place is known to about 1e-7 in.
constexpr double kClose = 1e-11;           // of U, a tenth of what the doc promises

/// Three points of Simpson's rule on [a, b], and its value.
struct Simpson {
  double a, b, fa, fm, fb;
  double value() const { return (b - a) / 6 * (fa + 4 * fm + fb); }
};

// Halves a piece until both halves agree with the whole; the difference, over 15, is the error that is left, and is added.
template <class F>
double adaptive(const F& f, const Simpson& whole, double tolerance, int depth) {
  const double m = (whole.a + whole.b) / 2;
  const Simpson left{whole.a, m, whole.fa, f((whole.a + m) / 2), whole.fm};
  const Simpson right{m, whole.b, whole.fm, f((m + whole.b) / 2), whole.fb};
  const double both = left.value() + right.value(), change = both - whole.value();
  if (depth == 0 || std::fabs(change) <= 15 * tolerance) return both + change / 15;
  return adaptive(f, left, tolerance / 2, depth - 1) + adaptive(f, right, tolerance / 2, depth - 1);
}

}  // namespace

Transmittance wedge_u(const Eave& eave, Length level, const std::function<Transmittance(Length)>& u_at) {
  check(eave);
  check_level(level);
  const double width = distance_for(eave, level.us());
  if (!(width > 0)) return u_at(level);
  const auto f = [&u_at](double depth) { return u_at(inches(depth)).us(); };
  const double least = std::max(0.0, room_at_plate(eave)), step = (level.us() - least) / kPieces;
  double sum = 0.0;
  for (int i = 0; i < kPieces; ++i) {
    const double a = least + i * step, b = i + 1 == kPieces ? level.us() : a + step;
    sum += adaptive(f, {a, b, f(a), f((a + b) / 2), f(b)}, kClose * step, kDeepest);
  }
  return Transmittance::from_us((distance_for(eave, 0.0) * f(0.0) + sum / slope(eave)) / width);
}

}  // namespace overjoist
