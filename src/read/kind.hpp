// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

#include "overjoist/diagnostics.hpp"

/// What kind of file a refused text is: the right sentence in place of a fault for each of its
/// keys.
namespace overjoist::io {

/// The faults to tell: that the text is of another kind, with the command that fits it, or else
/// those of the reader.  @param wanted  the format or table that was read, such as
/// "overjoist-survey"
Diagnostics by_kind(std::string_view text, std::string_view wanted, Diagnostics faults);

/// The text under "format" of a file, or "".
std::string format_of(std::string_view text);

}  // namespace overjoist::io
