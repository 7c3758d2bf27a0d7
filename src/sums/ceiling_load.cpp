// SPDX-License-Identifier: MIT
#include "overjoist/ceiling_load.hpp"

#include <cmath>

#include "sums/need.hpp"

namespace overjoist {
namespace {

constexpr Need kNeedLoad{"weight", "check densities and depths"};

void check(const CeilingLoad& load) {
  kNeedLoad(load.found_low >= MassPerArea{}, "a weight found of", load.found_low.us(), "0 or more");
  kNeedLoad(load.found_high >= load.found_low, "a high weight found of", load.found_high.us(),
            "at least the low one");
  kNeedLoad(load.added_low >= MassPerArea{}, "a weight added of", load.added_low.us(), "0 or more");
  kNeedLoad(load.added_high >= load.added_low, "a high weight added of", load.added_high.us(),
            "at least the low one");
  kNeedLoad(load.depth >= Length{}, "a depth (in.) of", load.depth.us(), "0 or more");
  kNeedLoad(load.limit > MassPerArea{}, "a limit of", load.limit.us(), "above 0");
}

}  // namespace

WeightVerdict weight_verdict(const CeilingLoad& load) {
  check(load);
  const MassPerArea low = load.found_low + load.added_low, high = load.found_high + load.added_high;
  WeightVerdict verdict;
  verdict.low_over_limit = low / load.limit;
  verdict.high_over_limit = high / load.limit;
  if (!reaches(load.limit.us(), low.us()))
    verdict.fit = WeightFit::over;
  else if (!reaches(load.limit.us(), high.us()))
    verdict.fit = WeightFit::depends;
  const MassPerArea room = load.limit - load.found_high;
  if (load.depth > Length{} && room > MassPerArea{})
    verdict.passes_below = Density::from_us(room.us() * 12.0 / load.depth.us());
  return verdict;
}

}  // namespace overjoist
