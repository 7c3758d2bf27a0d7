// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

/// A look at the outermost keys of a JSON text, for telling what kind of file it is. Slow: it is
/// meant for texts that were refused.
namespace overjoist::io {

/// The text under a key of the outermost object; empty where the text is no JSON object, where it
/// has no such key, or where what stands there is no text.
std::optional<std::string> top_text(std::string_view json, std::string_view key);

}  // namespace overjoist::io
