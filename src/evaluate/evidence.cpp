// SPDX-License-Identifier: MIT
#include "evaluate/evidence.hpp"

#include <algorithm>
#include <cmath>

namespace overjoist::parts {
namespace {

/// The spot of a depth that was read; spots rise in depth.
std::size_t spot_of(const BuiltSection& built, const Reading& reading, Length depth) {
  const auto& spots = built.spots;
  const auto lower = [](const Spot& s, Length d) { return s.depth < d; };
  auto at = std::lower_bound(spots.begin(), spots.end(), depth, lower);
  const bool layered = !reading.layer_depths.empty();
  const auto same = [&](const Spot& s) {
    return layered ? s.layer_depths && *s.layer_depths == reading.layer_depths : !s.layer_depths;
  };
  while (at + 1 < spots.end() && !same(*at)) ++at;
  return static_cast<std::size_t>(at - spots.begin());
}

/// The central figure stands; the ends hold it.
ReadU about(ReadU read, double u) { return {u, std::min(read.low, u), std::max(read.high, u)}; }

}  // namespace

SpotPaths bare_paths(const BuiltSection& built) {
  Column nothing;
  nothing.count = built.layers.size();
  return spot_paths(built.ends, built.framing, built.layers, nothing, built.under_deck);
}

TwoUs bare_u(const BuiltSection& built) {
  const SpotPaths paths = bare_paths(built);
  return {1.0 / paths.bay.us(), spot_u(built.framing, paths).us()};
}

Evidence::Evidence(const BuiltSection& built, const RangePrior& prior) : prior_(prior) {
  const Section& s = *built.survey;
  known_ = built.layers.empty() || s.readings.size() >= 2;
  if (built.layers.empty() || !is_floor(s.kind)) return;
  const double measured = s.bare_share.value_or(0.0);
  if (s.bare_share) measured_ = MeasuredBare{measured, s.bare_error, 0.0};
  if (reaches(measured, 1.0)) return;
  double covered = 0.0;
  for (const Piece& p : built.pieces) covered += p.bare ? 0.0 : p.share;
  if (!(covered > 0)) return;
  // Without a reading the thickness of the layers stands for one.
  const double count = std::max(1.0, static_cast<double>(s.readings.size()));
  covered_ = std::min(count, count * covered / (1.0 - measured));
  bare_ = reaches(covered_, count) ? 0.0 : count - covered_;
  if (!s.readings.empty() && s.readings.front().share >= 0) tell_strata(built);
}

void Evidence::tell_strata(const BuiltSection& built) {
  strata_.reserve(built.survey->readings.size());
  for (const Reading& r : built.survey->readings) {
    if (!(r.share > 0)) continue;
    const Length from = r.flush ? built.framing.depth : r.depth,
                 to = r.flush ? built.framing.depth : r.depth_to;
    strata_.push_back({r.share, spot_of(built, r, from), spot_of(built, r, to),
                       from < built.bare_below && to < built.bare_below});
  }
  // The order of readings must not reach the sum.
  std::sort(strata_.begin(), strata_.end(), [](const Told& a, const Told& b) {
    return a.from != b.from ? a.from < b.from : a.to != b.to ? a.to < b.to : a.share < b.share;
  });
}

MeanU Evidence::of_strata(const CoveredScatter& scatter, const RangePrior& prior) const {
  std::vector<Stratum> strata;
  strata.reserve(strata_.size());
  for (const Told& t : strata_) {
    const double a = scatter.mean_of(t.from), b = scatter.mean_of(t.to), half = (a - b) / 2.0;
    strata.push_back({t.share, (a + b) / 2.0, half * half, 1.0, t.bare});
  }
  return strata_mean(strata, prior);
}

ReadU Evidence::of(const CoveredScatter& scatter, const Seen& seen) const {
  const double u = scatter.mean(), most = std::max(seen.most, u);
  // What counts nothing is as the bare ceiling, however it lies.
  if (!(covered_ > 0) || reaches(scatter.covered().mean(), seen.most)) return {u, u, u};
  RangePrior prior = prior_;
  prior.variation *= seen.scale;
  if (measured_ || by_each()) {
    MeasuredBare bare = measured_.value_or(MeasuredBare{0.0, 0.0, 0.0});
    bare.u = scatter.bare_u() > 0 ? scatter.bare_u() : most;
    bare.most = most;
    const MeanU covered = by_each()
                              ? of_strata(scatter, prior)
                              : covered_mean(covered_spots(scatter.covered(), covered_), prior);
    return about(measured_bare(covered, bare, prior), u);
  }
  const SampledBare found{covered_spots(scatter.covered(), covered_), bare_, scatter.bare_u()};
  return about(seen.filled ? filled_bare(found, most, prior) : sampled_bare(found, prior), u);
}

}  // namespace overjoist::parts
