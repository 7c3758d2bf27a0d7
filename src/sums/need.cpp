// SPDX-License-Identifier: MIT
#include "sums/need.hpp"

#include <fmt/core.h>
#include <cmath>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

void Need::operator()(bool ok, const char* what, double value, const char* allowed) const {
  if (!ok || !std::isfinite(value))
    throw Error(ErrorCode::out_of_range, where,
                fmt::format("{} {:g} is not {}", what, value, allowed), hint);
}

}  // namespace overjoist
