// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>

/// How an equation refuses what it is given.
namespace overjoist {

/// Values of one kind, "joists" or "eave", and what to do where one of them is refused.
struct Need {
  const char* where;
  const char* hint;

  /// "`what` 12 is not `allowed`" where it is not ok, or no finite number.
  /// @throws Error{out_of_range}
  void operator()(bool ok, const char* what, double value, const char* allowed) const {
    if (!ok || !std::isfinite(value)) refuse(what, value, allowed);
  }

 private:
  [[noreturn]] void refuse(const char* what, double value, const char* allowed) const;
};

}  // namespace overjoist
