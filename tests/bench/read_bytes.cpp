// SPDX-License-Identifier: MIT
// Yardstick (a) of the benchmark: reads standard input and finds its lines, nothing else.
#include <cstdio>

#include "input.hpp"

int main() {
  std::size_t lines = 0;
  const std::size_t bytes = bench::each_line([&lines](const char*, const char*) { ++lines; });
  std::printf("%zu lines, %zu bytes\n", lines, bytes);
  return 0;
}
