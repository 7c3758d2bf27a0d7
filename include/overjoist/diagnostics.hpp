// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <stdexcept>
#include <string>
#include <vector>

/// Faults of input, and the one exception of the library.
namespace overjoist {

/// One fault of a survey or table file. `pointer` is a JSON Pointer (RFC 6901), "" the whole text;
/// line and column count from 1 in characters, 0 where the fault has no place in a text.
struct Diagnostic {
  std::string pointer;
  std::size_t line = 0;
  std::size_t column = 0;
  std::string message;  ///< what was given and what is allowed
  std::string hint;     ///< what to do; may be empty
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
