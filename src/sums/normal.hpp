// SPDX-License-Identifier: MIT
#pragma once

/// Figures of the normal distribution that the ranges share.
namespace overjoist {

inline constexpr double kZ95 = 1.6448536269514722;  ///< its 0.95 quantile

}  // namespace overjoist
