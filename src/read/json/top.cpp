// SPDX-License-Identifier: MIT
#include "read/json/top.hpp"

#include <nlohmann/json.hpp>

namespace overjoist::io {

std::map<std::string, std::string> top_texts(std::string_view json) {
  constexpr bool kThrow = false;
  std::map<std::string, std::string> texts;
  const auto tree = nlohmann::json::parse(json, nullptr, kThrow);
  if (!tree.is_object()) return texts;
  for (const auto& [key, value] : tree.items())
    if (value.is_string()) texts[key] = value.get<std::string>();
  return texts;
}

}  // namespace overjoist::io
