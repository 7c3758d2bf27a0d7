// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "overjoist/diagnostics.hpp"
#include "words/faults/files.hpp"
#include "words/faults/layers.hpp"
#include "words/faults/money.hpp"
#include "words/faults/proposal.hpp"
#include "words/faults/reader.hpp"
#include "words/faults/section.hpp"

/// A fault as a value, a code with what it speaks of; its words come last, from the row of the code
/// and for the reader at hand.
namespace overjoist::io {

template <std::size_t... N>
constexpr auto joined(const FaultRow (&... lists)[N]) {
  std::array<FaultRow, (N + ...)> all{};
  std::size_t at = 0;
  const auto add = [&](const FaultRow* rows, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) all[at++] = rows[i];
  };
  (add(lists, N), ...);
  return all;
}
inline constexpr auto kFaultRows = joined(faults::kReader, faults::kFiles, faults::kSection,
                                          faults::kLayers, faults::kProposal, faults::kMoney);

constexpr bool stand_in_order() {
  for (std::size_t i = 0; i < kFaultRows.size(); ++i)
    if (static_cast<std::size_t>(kFaultRows[i].code) != i) return false;
  return true;
}
static_assert(stand_in_order(), "the codes and their rows stand in one order");

constexpr const FaultRow& row_of(FaultCode code) {
  return kFaultRows[static_cast<std::size_t>(code)];
}
/// The row of the code of a Diagnostic; null for a code that only the evaluation gives.
const FaultRow* row_called(std::string_view name);

/// What is wrong, without words and without a place.
struct Fault {
  FaultCode code{};
  std::vector<FaultValue> values;
};

template <ValueType T, class V>
FaultValue value_for(std::string_view name, V&& value) {
  if constexpr (T == ValueType::key)
    return {name, KeyName{std::string(std::forward<V>(value))}};
  else if constexpr (T == ValueType::text)
    return {name, std::string(std::forward<V>(value))};
  else if constexpr (T == ValueType::number)
    return {name, static_cast<double>(value)};
  else
    return {name, static_cast<std::size_t>(value)};
}

/// A fault with each value that its row asks for, in the order of the row.
template <FaultCode C, class... V>
Fault make_fault(V&&... values) {
  static_assert(sizeof...(V) == row_of(C).count(), "a fault carries the values of its row");
  Fault fault{C, {}};
  fault.values.reserve(sizeof...(V));
  const auto add = [&]<std::size_t... I>(std::index_sequence<I...>, auto&&... each) {
    (fault.values.push_back(value_for<row_of(C).slots[I].type>(row_of(C).slots[I].name,
                                                               std::forward<decltype(each)>(each))),
     ...);
  };
  add(std::index_sequence_for<V...>(), std::forward<V>(values)...);
  return fault;
}
/// A fault that speaks of one key: for tables of keys.
using KeyFault = Fault (*)(std::string_view key);
template <FaultCode C>
Fault key_fault(std::string_view key) {
  return make_fault<C>(key);
}

/// Who reads the words: of a survey or table, or of flags, who sees no survey.
enum class Reads { survey, flags };
struct FaultText {
  std::string message, hint;
};
/// Fills the words of a row.
FaultText say(const FaultRow& row, const std::vector<FaultValue>& values, Reads reads);
/// A fault at its place, in the words of a survey.
Diagnostic diagnostic_of(std::string pointer, Fault fault);

/// A key of a survey and what a reader of flags calls it.
struct FlagOfKey {
  std::string_view key, flag;
};
inline constexpr FlagOfKey kFlagsOfKeys[] = {
    {"area_ft2", "area"},
    {"bag_net_lb", "bag weight"},
    {"climate_zone", "zone"},
    {"hdd_f_day", "--degree-days"},
    {"high_r", "--target-high"},
    {"label_r", "--label-r"},
    {"label_thickness_in", "--label-thickness"},
    {"low_r", "--target-low"},
    {"price_per_bag", "--bag-price"},
    {"price_per_ft2", "--labour-per-ft2"},
    {"price_per_unit", "--fuel-price"},
    {"spacing_in", "spacing"},
};
/// The key itself where no flag stands for it.
std::string_view flag_of(std::string_view key);

}  // namespace overjoist::io
