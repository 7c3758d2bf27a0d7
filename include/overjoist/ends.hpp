// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/survey.hpp"

/// The two ends of the target band, and the two ways of counting an R.
namespace overjoist {

enum class End { low, high };

/// One thing for each end of the band.
template <class T>
struct Ends {
  T low, high;

  T& operator[](End end) { return end == End::low ? low : high; }
  const T& operator[](End end) const { return end == End::low ? low : high; }
};

/// What `f` makes of either end, the low one first.
template <class F>
auto each_end(F f) -> Ends<decltype(f(End::low))> {
  return {f(End::low), f(End::high)};
}

/// R of the bays without films, ceiling and deck; and of all, wood included.
struct BothR {
  Resistance working, effective;

  Resistance of(Basis basis) const { return basis == Basis::working ? working : effective; }
};

}  // namespace overjoist
