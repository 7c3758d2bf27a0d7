// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>

namespace overjoist {

/// True if two names of checked UTF-8 read alike, whatever their capitals and blanks.
bool alike(std::string_view a, std::string_view b);

}  // namespace overjoist
