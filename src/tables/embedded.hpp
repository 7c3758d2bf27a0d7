// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>

/// Texts of data/*.json, put into the program at build time by src/cmake/embed.cmake.
namespace overjoist::embedded {

// Named after the files. NOLINTBEGIN(readability-identifier-naming)
extern const std::string_view materials, targets, limits, cautions, assumptions, sources, bypasses,
    fuels, money, plausible;
// NOLINTEND(readability-identifier-naming)

}  // namespace overjoist::embedded
