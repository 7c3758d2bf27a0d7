// SPDX-License-Identifier: MIT
#include "overjoist/readings.hpp"

#include <algorithm>

#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

constexpr double kShareSlack = 0.01;  // shares add to 1 within this (model 1)

bool same(const Spot& a, const Spot& b) {
  if (a.depth != b.depth || !a.layer_depths != !b.layer_depths) return false;
  return !a.layer_depths || *a.layer_depths == *b.layer_depths;
}

/// Order of two spots of equal depth.
bool before(const Spot& a, const Spot& b) {
  if (!a.layer_depths != !b.layer_depths) return !a.layer_depths;
  if (a.layer_depths && *a.layer_depths != *b.layer_depths)
    return *a.layer_depths < *b.layer_depths;
  return a.share < b.share;  // the order of equal spots must not reach the sum
}

/// Sum of the given shares, 0 if none is given.
double check_shares(const std::vector<Reading>& readings) {
  const auto given = std::count_if(readings.begin(), readings.end(),
                                   [](const Reading& r) { return r.share >= 0; });
  if (given == 0) return 0.0;
  if (given != static_cast<std::ptrdiff_t>(readings.size()))
    throw Error(ErrorCode::contradiction, "readings",
                "some readings carry a share of the area and some do not",
                "give a share to all of them or to none");
  std::vector<double> shares;
  shares.reserve(readings.size());
  for (const Reading& r : readings) shares.push_back(r.share);
  std::sort(shares.begin(), shares.end());
  double sum = 0.0;
  for (double s : shares) sum += s;
  if (std::fabs(sum - 1.0) > kShareSlack)
    throw Error(ErrorCode::contradiction, "readings",
                "the shares of the readings do not add to 1 (within 0.01)",
                "shares are fractions of the section's area");
  return sum;
}

}  // namespace

std::vector<Spot> merge_readings(const std::vector<Reading>& readings, Length joist_depth) {
  const double sum = check_shares(readings);
  std::vector<Spot> spots;
  spots.reserve(readings.size());
  for (const Reading& r : readings) {
    const double share = sum > 0 ? r.share / sum : 1.0 / static_cast<double>(readings.size());
    const auto* layers = r.layer_depths.empty() ? nullptr : &r.layer_depths;
    const Length from = r.flush ? joist_depth : r.depth;
    if (r.flush || r.depth_to == r.depth) {
      spots.push_back({share, from, layers});
    } else {
      spots.push_back({share / 2, from, layers});
      spots.push_back({share / 2, r.depth_to, layers});
    }
  }
  std::sort(spots.begin(), spots.end(), [](const Spot& a, const Spot& b) {
    return a.depth != b.depth ? a.depth < b.depth : before(a, b);
  });
  std::size_t last = 0;
  for (std::size_t i = 1; i < spots.size(); ++i) {
    if (same(spots[last], spots[i]))
      spots[last].share += spots[i].share;
    else
      spots[++last] = spots[i];
  }
  spots.resize(spots.empty() ? 0 : last + 1);
  return spots;
}

Length mean_depth(const std::vector<Spot>& spots) {
  Length sum;
  for (const Spot& s : spots) sum += s.depth * s.share;
  return sum;
}

}  // namespace overjoist
