// SPDX-License-Identifier: MIT
#include "overjoist/eaves.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "sums/need.hpp"

namespace overjoist {

namespace {

void check(const Eave& eave) {
  Need{"eave", "a flat roof has no wedge; give its headroom"}(
      eave.rise_in_12 > 0, "a roof pitch of", eave.rise_in_12, "above 0 in 12");
  Need{"eave", "measure from plate to deck, upright"}(
      eave.heel >= Length{}, "a heel height (in.) of", eave.heel.us(), "0 or more");
  Need{"eave", "0 only where the eave is not vented"}(
      eave.vent_gap >= Length{}, "a vent gap (in.) of", eave.vent_gap.us(), "0 or more");
  Need{"eave", "0 if there is none"}(eave.baffle >= Length{}, "a baffle thickness (in.) of",
                                     eave.baffle.us(), "0 or more");
}

void check_level(Length level) {
  Need{"eave", "give the depth in the field"}(level > Length{}, "a level (in.) of", level.us(),
                                              "above 0");
}

double slope(const Eave& eave) { return eave.rise_in_12 / 12.0; }
/// Room over the plate's outer edge [in.]; below 0 where the deck comes too low for any fill.
double room_at_plate(const Eave& eave) { return (eave.heel - eave.vent_gap - eave.baffle).us(); }
/// Distance from the plate at which the room reaches `depth` [in.].
double distance_for(const Eave& eave, double depth) {
  return std::max(0.0, (depth - room_at_plate(eave)) / slope(eave));
}

}  // namespace

Length eave_distance(const Eave& eave, Length depth) {
  check(eave);
  Need{"eave", "give the depth that should fit"}(depth >= Length{}, "a depth (in.) of", depth.us(),
                                                 "0 or more");
  return inches(distance_for(eave, depth.us()));
}

double arc_factor(const Eave& eave) {
  check(eave);
  const double tan = slope(eave);
  return std::atan(tan) / tan;
}

namespace {

constexpr int kPieces = 8,
              kDeepest = 24;  // 2^-27 of the range: a jump's place is known to about 1e-7 in.
constexpr int kMostPieces =
    10000;  // of all together: what is not settled by then is summed as it stands
constexpr double kClose = 1e-11;  // of U, a tenth of what the doc promises

/// Three points of Simpson's rule on [a, b], and its value.
struct Simpson {
  double a, b, fa, fm, fb;
  double value() const { return (b - a) / 6 * (fa + 4 * fm + fb); }
};

/// Integrates by halves, with a number of pieces that it may use up.
template <class F>
class Adaptive {
 public:
  explicit Adaptive(const F& f) : f_(f) {}

  // Halves a piece until both halves agree with the whole; the difference, over 15, is the error
  // that is left, and is added.
  double over(const Simpson& whole, double tolerance, int depth) {
    const double m = (whole.a + whole.b) / 2;
    const Simpson left{whole.a, m, whole.fa, f_((whole.a + m) / 2), whole.fm};
    const Simpson right{m, whole.b, whole.fm, f_((m + whole.b) / 2), whole.fb};
    const double both = left.value() + right.value(), change = both - whole.value();
    Need{"eave", "check the figures of the fill"}(std::isfinite(change), "a U of", both,
                                                  "a number");
    if (depth == 0 || --left_ <= 0 || std::fabs(change) <= 15 * tolerance)
      return both + change / 15;
    return over(left, tolerance / 2, depth - 1) + over(right, tolerance / 2, depth - 1);
  }

 private:
  const F& f_;
  int left_ = kMostPieces;
};

}  // namespace

Transmittance wedge_u(const Eave& eave, Length level,
                      const std::function<Transmittance(Length)>& u_at) {
  check(eave);
  check_level(level);
  const double width = distance_for(eave, level.us());
  if (!(width > 0)) return u_at(level);
  // Over the share t of the way from the least room to the level, so that a thin strip keeps its
  // digits.
  const double least = std::max(0.0, room_at_plate(eave)), rise = level.us() - least;
  const auto f = [&](double t) {
    return u_at(inches(std::min(level.us(), least + t * rise))).us();
  };
  Adaptive adaptive(f);
  double mean = 0.0;
  for (int i = 0; i < kPieces; ++i) {
    const double a = static_cast<double>(i) / kPieces, b = static_cast<double>(i + 1) / kPieces;
    mean += adaptive.over({a, b, f(a), f((a + b) / 2), f(b)}, kClose / kPieces, kDeepest);
  }
  const double bare = distance_for(eave, 0.0) / width;
  return Transmittance::from_us(bare > 0 ? bare * u_at(Length{}).us() + (1.0 - bare) * mean : mean);
}

}  // namespace overjoist
