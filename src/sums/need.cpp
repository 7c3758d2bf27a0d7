// SPDX-License-Identifier: MIT
#include "sums/need.hpp"

#include <fmt/core.h>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

void Need::refuse(const char* what, double value, const char* allowed) const {
  throw Error(ErrorCode::out_of_range, where,
              fmt::format("{} {:g} is not {}", what, value, allowed), hint);
}

}  // namespace overjoist
