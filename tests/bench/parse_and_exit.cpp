// SPDX-License-Identifier: MIT
// Yardstick of one survey from start to end: reads the file named, parses it into a tree, exits.
#include <cstdio>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>

int main(int count, char** words) {
  if (count != 2) return 2;
  std::ifstream file(words[1], std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  std::printf("%zu members\n", nlohmann::json::parse(text).size());
  return 0;
}
