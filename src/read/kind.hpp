// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string_view>

#include "overjoist/diagnostics.hpp"

/// What kind of file a refused text is: the right sentence in place of a fault for each of its
/// keys.
namespace overjoist::io {

/// @param wanted  the format or table that the reader reads, such as "overjoist-survey"
/// @returns       the one fault that the text is of another kind, with the command that fits it;
///                empty where it is of the wanted kind, or of none that is known
std::optional<Diagnostic> other_kind(std::string_view text, std::string_view wanted);

/// The faults to tell: that of the kind alone, or else those of the reader.
Diagnostics by_kind(std::string_view text, std::string_view wanted, Diagnostics faults);

}  // namespace overjoist::io
