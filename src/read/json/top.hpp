// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <string>
#include <string_view>

/// A look at the outermost keys of a JSON text, for telling what kind of file it is. Slow: it is
/// meant for texts that were refused.
namespace overjoist::io {

/// The texts that stand under keys of the outermost object; empty where it is no JSON object.
std::map<std::string, std::string> top_texts(std::string_view json);

}  // namespace overjoist::io
