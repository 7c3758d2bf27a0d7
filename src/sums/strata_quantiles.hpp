// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>

/// Quantiles of the two distributions behind method eq. 15b, kept by each thread: a batch asks for
/// a few pairs of counts again and again. What is kept is what would be computed.
namespace overjoist {

inline constexpr std::size_t kGrid = 25;  ///< midpoint quantiles of each of the two
using Quantiles = std::array<double, kGrid>;

/// Of a share, Beta(m, n).  @param m, n  >= 1/2
const Quantiles& kept_beta(double m, double n);
/// Of Student's t.  @param degrees  of freedom, >= 1
const Quantiles& kept_student(double degrees);

}  // namespace overjoist
