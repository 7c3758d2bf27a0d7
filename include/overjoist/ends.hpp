// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <functional>
#include <type_traits>

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
  bool operator==(const Ends&) const = default;
};

/// What `f` makes of either end, the low one first.
template <class F>
auto each_end(F f) -> Ends<decltype(f(End::low))> {
  return {f(End::low), f(End::high)};
}

// Below, `of` is anything with a `low` and a `high`: Ends, a section with its ends, a rule's
// result. A getter is a function or a member; what it returns by reference stays one, so `of` must
// live on.

template <class Of>
const auto& at(const Of& of, End end) {
  return end == End::low ? of.low : of.high;
}

/// Either end in turn, the low one first.
template <class Of>
constexpr auto each(Of& of) -> std::array<decltype(&of.low), 2> {
  return {&of.low, &of.high};
}

/// What `get` makes of the low end and of the high one.
template <class Of, class Get>
auto map(const Of& of, Get get) -> Ends<std::invoke_result_t<Get&, decltype((of.low))>> {
  const auto [low, high] = each(of);
  return {std::invoke(get, *low), std::invoke(get, *high)};
}

/// Both ends become those of `to`.
template <class Of, class To>
void set(Of& of, const To& to) {
  for (const End end : {End::low, End::high}) *each(of)[end == End::high] = at(to, end);
}
/// Both ends become the same.
template <class Of, class To>
void set_both(Of& of, const To& to) {
  for (auto* end : each(of)) *end = to;
}

/// To be asked of ends that may be empty.
inline constexpr auto kKnown = [](const auto& end) { return end.has_value(); };

/// True if `holds` is true of both ends.
template <class Of, class Holds>
bool both(const Of& of, Holds holds) {
  const auto [low, high] = each(of);
  return std::invoke(holds, *low) && std::invoke(holds, *high);
}

/// True if `holds` is true of one end at least.
template <class Of, class Holds>
bool either(const Of& of, Holds holds) {
  const auto [low, high] = each(of);
  return std::invoke(holds, *low) || std::invoke(holds, *high);
}

/// True if `get` makes the same of both ends.
template <class Of, class Get>
bool same(const Of& of, Get get) {
  const auto [low, high] = each(of);
  return std::invoke(get, *low) == std::invoke(get, *high);
}
template <class Of>
bool same(const Of& of) {
  return same(
      of, [](const auto& end) -> const auto& { return end; });
}

/// R of the bays without films, ceiling and deck; and of all, wood included.
struct BothR {
  Resistance working, effective;

  Resistance of(Basis basis) const { return basis == Basis::working ? working : effective; }
};

}  // namespace overjoist
