// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

/// Faults of input, and the one exception of the library.
namespace overjoist {

/// A key of a survey, table or record that a fault speaks of.
struct KeyName {
  std::string key;
};

/// One value that a fault speaks of: what was given, what is allowed, a key.
struct FaultValue {
  std::string_view name;  ///< of static life
  std::variant<std::string, double, std::size_t, KeyName> value;
};

/// One fault of a survey or table file. `pointer` is a JSON Pointer (RFC 6901), "" the whole text;
/// line and column count from 1 in characters, 0 where the fault has no place in a text.
struct Diagnostic {
  std::string pointer;
  std::size_t line = 0;
  std::size_t column = 0;
  std::string message;  ///< what was given and what is allowed
  std::string hint;     ///< what to do; may be empty
  /// What is wrong, in words that stay when the sentences change: `above-range`, `unknown-key`,
  /// `area-missing`. A fault that only the evaluation finds has the word of its ErrorCode, such as
  /// `contradiction`; `bug` is the program's own, `unreadable` and `survey-on-several-lines` are
  /// those of files. Of static life.
  std::string_view code{};
  std::vector<FaultValue> values{};  ///< what `message` and `hint` were made of
};
using Diagnostics = std::vector<Diagnostic>;

enum class ErrorCode {
  out_of_range,
  contradiction,
  missing,
  unknown_name,
  unreadable,
  not_computed
};
/// "out-of-range", as the `code` of a Diagnostic.
std::string_view name_of(ErrorCode code);

/// A request that cannot be computed. `where` names the place in the survey's own terms.
class Error : public std::runtime_error {
 public:
  Error(ErrorCode code, std::string where, const std::string& message, std::string hint = {})
      : std::runtime_error(message),
        code_(code),
        where_(std::move(where)),
        hint_(std::move(hint)) {}
  ErrorCode code() const noexcept { return code_; }
  const std::string& where() const noexcept { return where_; }
  const std::string& hint() const noexcept { return hint_; }

 private:
  ErrorCode code_;
  std::string where_;
  std::string hint_;
};

}  // namespace overjoist
