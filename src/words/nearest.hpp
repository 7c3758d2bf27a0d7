// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string_view>
#include <vector>

/// The nearest known word, for "did you mean".
namespace overjoist {

/// Fewest single-character edits between two words. Cost O(|a|·|b|).
std::size_t edit_distance(std::string_view a, std::string_view b);
/// The nearest of `names`, or "" if nothing is near (more than half of the word would change).
std::string_view nearest_name(std::string_view given, const std::vector<std::string_view>& names);

}  // namespace overjoist
