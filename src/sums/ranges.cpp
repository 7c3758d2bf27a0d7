// SPDX-License-Identifier: MIT
#include "overjoist/ranges.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "overjoist/diagnostics.hpp"
#include "sums/normal.hpp"

namespace overjoist {
namespace {

constexpr std::size_t kKept = 64;

// With t = sqrt(v) tan(a), half of Student's distribution is the integral of cos^(v-1) from 0 to a
// over its whole, sqrt(pi)/2 G(v/2)/G((v+1)/2); the 0.95 quantile is where that share is 0.9.
// Simpson and Newton, within 1e-6.
double quantile_by_angle(double v, double first) {
  const double whole =
      0.9 * std::sqrt(std::numbers::pi) / 2.0 * std::tgamma(v / 2.0) / std::tgamma((v + 1.0) / 2.0);
  const auto f = [v](double a) { return std::pow(std::cos(a), v - 1.0); };
  const auto area = [&](double to) {
    constexpr int kPanels = 48;
    const double h = to / kPanels;
    double sum = 1.0 + f(to);
    for (int i = 1; i < kPanels; ++i) sum += f(i * h) * (i % 2 == 1 ? 4.0 : 2.0);
    return sum * h / 3.0;
  };
  double a = std::atan(first / std::sqrt(v));
  for (int i = 0; i < 30; ++i) {
    const double step = (whole - area(a)) / f(a);
    a = std::min(a + step, 0.46 * std::numbers::pi);  // the greatest answer is 0.45 pi, at v = 1
    if (std::fabs(step) < 1e-9) break;                // the next step would be its square
  }
  return std::sqrt(v) * std::tan(a);
}

// Cornish-Fisher expansion in 1/v (Abramowitz and Stegun 26.7.5, from memory; tested against the
// other form): within 1e-7 from v = 64 up.
double quantile_by_series(double v) {
  const double z = kZ95, z2 = z * z;
  const double g1 = z * (z2 + 1) / 4;
  const double g2 = z * ((5 * z2 + 16) * z2 + 3) / 96;
  const double g3 = z * (((3 * z2 + 19) * z2 + 17) * z2 - 15) / 384;
  return z + (g1 + (g2 + g3 / v) / v) / v;
}

std::array<double, kKept + 1> whole_degrees() {
  std::array<double, kKept + 1> t{};
  for (std::size_t v = 1; v <= kKept; ++v)
    t[v] = quantile_by_angle(static_cast<double>(v), v > 1 ? t[v - 1] : kZ95);
  return t;
}

}  // namespace

double student_t_95(double degrees) {
  if (!(degrees >= 1.0 && std::isfinite(degrees)))
    throw Error(ErrorCode::out_of_range, "ranges",
                fmt::format("{:g} degrees of freedom; at least 1 are needed", degrees),
                "take 2 readings or more");
  if (degrees > static_cast<double>(kKept)) return quantile_by_series(degrees);
  static const std::array<double, kKept + 1> kWhole = whole_degrees();
  const double whole = std::floor(degrees);
  const auto at = static_cast<std::size_t>(whole);
  if (whole == degrees) return kWhole[at];
  thread_local double last = 0.0, quantile = 0.0;  // a solve asks for one again and again
  if (last != degrees) {
    quantile =
        quantile_by_angle(degrees, kWhole[at] + (degrees - whole) * (kWhole[at + 1] - kWhole[at]));
    last = degrees;
  }
  return quantile;
}

double effective_count(const std::vector<Reading>& readings) {
  if (readings.empty() || readings.front().share < 0) return static_cast<double>(readings.size());
  std::vector<double> shares;
  shares.reserve(readings.size());
  for (const Reading& r : readings) shares.push_back(r.share);
  std::sort(shares.begin(), shares.end());  // the order of readings must not reach the sum
  double sum = 0.0, squares = 0.0;
  for (const double w : shares) {
    sum += w;
    squares += w * w;
  }
  return squares > 0 ? sum * sum / squares : 0.0;
}

double half_width_per_deviation(double count) {
  return count >= 2.0 ? student_t_95(count - 1.0) / std::sqrt(count) : 0.0;
}

SpotScatter::Sums SpotScatter::closed() const {
  Sums s = sums_;
  if (!(open_share_ > 0)) return s;
  const double u = open_sum_ / open_share_;
  if (!(s.share > 0)) s.first = u;
  const double d = u - s.first;
  s.share += open_share_;
  s.d += open_share_ * d;
  s.d2 += open_share_ * d * d;
  return s;
}

void SpotScatter::add(std::size_t spot, double share, double u) {
  if (spot != spot_) {
    sums_ = closed();
    open_share_ = open_sum_ = 0.0;
    spot_ = spot;
  }
  open_share_ += share;
  open_sum_ += share * u;
}

double SpotScatter::mean() const {
  const Sums s = closed();
  return s.share > 0 ? s.first + s.d / s.share : 0.0;
}

double SpotScatter::deviation(double count) const {
  const Sums s = closed();
  if (!(count >= 2.0) || !(s.share > 0)) return 0.0;
  const double d = s.d / s.share;
  return std::sqrt(std::max(0.0, s.d2 / s.share - d * d) * count / (count - 1.0));
}

void CoveredScatter::add(const Place& place, double u) {
  if (place.bare) bare_u_ = u;
  if (!(place.share > 0)) return;
  if (!(share_ > 0)) first_ = u;  // equal spots have exactly their own mean
  share_ += place.share;
  sum_ += place.share * (u - first_);
  if (!place.bare) covered_.add(place.spot, place.share, u);
  if (!each_) return;
  if (place.spot >= spots_.size()) spots_.resize(place.spot + 1);
  spots_[place.spot].share += place.share;
  spots_[place.spot].sum += place.share * u;
}

double UncertainU::highest() const { return u + std::hypot(half, up); }
double UncertainU::lowest() const { return u - std::hypot(half, down); }

ResistanceRange resistance_range(const UncertainU& u, Resistance ends) {
  return resistance_range(u.lowest(), u.highest(), ends);
}

ResistanceRange resistance_range(double u_lowest, double u_highest, Resistance ends) {
  const Resistance low = std::max(Resistance{}, Resistance::from_us(1.0 / u_highest) - ends);
  if (!(u_lowest > 0)) return {low, {}};
  return {low, std::max(low, Resistance::from_us(1.0 / u_lowest) - ends)};
}

std::optional<int> readings_for_five_percent(double variation) {
  constexpr double kWithin = 0.05, kMost = 1e6;
  const double by_z = kZ95 * variation / kWithin;
  if (!(by_z * by_z < kMost)) return {};
  int n = std::max(2, static_cast<int>(by_z * by_z));  // t is above z, so no smaller number can do
  while (student_t_95(n - 1.0) * variation / std::sqrt(static_cast<double>(n)) > kWithin) ++n;
  return n;
}

Verdict verdict_of(const ResistanceRange& range, Resistance limit, bool unevenness_known) {
  if (reaches(range.low.us(), limit.us()))
    return unevenness_known ? Verdict::meets : Verdict::too_close;
  if (range.high && !reaches(range.high->us(), limit.us())) return Verdict::short_of;
  return Verdict::too_close;
}

}  // namespace overjoist
