// SPDX-License-Identifier: MIT
// Yardstick (b) of the benchmark: parses each line of standard input into a tree and drops it,
// nothing else.
#include <cstdio>
#include <nlohmann/json.hpp>

#include "input.hpp"

int main() {
  std::size_t members = 0;
  bench::each_line([&members](const char* begin, const char* end) {
    members += nlohmann::json::parse(begin, end).size();
  });
  std::printf("%zu members\n", members);
  return 0;
}
