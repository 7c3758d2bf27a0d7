// SPDX-License-Identifier: MIT
#include "read/json/top.hpp"

#include <nlohmann/json.hpp>

namespace overjoist::io {

std::optional<std::string> top_text(std::string_view json, std::string_view key) {
  constexpr bool kThrow = false;
  const auto tree = nlohmann::json::parse(json, nullptr, kThrow);
  if (!tree.is_object()) return std::nullopt;
  const auto found = tree.find(std::string(key));
  if (found == tree.end() || !found->is_string()) return std::nullopt;
  return found->get<std::string>();
}

}  // namespace overjoist::io
