// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string_view>

#include "words/faults/codes.hpp"

/// What a row of the tables of faults is made of.
namespace overjoist::io {

enum class ValueType { none, key, text, number, count };

/// A value that every fault of a code carries.
struct ValueSlot {
  std::string_view name;
  ValueType type = ValueType::none;
};
constexpr std::size_t kMostValues = 7;

/// Words with placeholders: {name} or {name:format} of a value, {area_ft2} for a key that a flag
/// stands for; {{ and }} are braces.
struct FaultWords {
  std::string_view message, hint;
};

/// The words of a fault for somebody who wrote flags and sees no survey.
struct FlagWords {
  FaultWords words;      ///< empty: those of the survey, with flags for its keys
  std::string_view why;  ///< if flags cannot raise the fault: why they cannot
};

struct FaultRow {
  FaultCode code{};
  std::string_view name;  ///< the code as it stands in a Diagnostic
  ValueSlot slots[kMostValues];
  FaultWords survey;
  FlagWords flags;
  constexpr std::size_t count() const {
    std::size_t n = 0;
    while (n < kMostValues && slots[n].type != ValueType::none) ++n;
    return n;
  }
};

namespace faults {

using F = FaultCode;

constexpr ValueSlot key(std::string_view name) { return {name, ValueType::key}; }
constexpr ValueSlot text(std::string_view name) { return {name, ValueType::text}; }
constexpr ValueSlot number(std::string_view name) { return {name, ValueType::number}; }
constexpr ValueSlot count(std::string_view name) { return {name, ValueType::count}; }

constexpr FlagWords kAsSurvey{};
constexpr FlagWords flags(std::string_view message, std::string_view hint) {
  return {{message, hint}, {}};
}
constexpr FlagWords never(std::string_view why) { return {{}, why}; }

constexpr FlagWords kNoText = never("flags are made into JSON by the program"),
                    kNoFlag = never("no flag stands for the keys that it needs"),
                    kAlways = never("the program writes these keys of every survey from flags"),
                    kOneSection = never("flags tell of one flat section"),
                    kOtherFile = never("it is a fault of a table, a record or a rebate rule");

}  // namespace faults
}  // namespace overjoist::io
