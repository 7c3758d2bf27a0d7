// SPDX-License-Identifier: MIT
// Yardstick (d) of the benchmark: what a parser that uses vector instructions needs for each line.
// A bound, not a dependency: built only where the library is installed.
#include <simdjson.h>

#include <cstdio>

#include "input.hpp"

int main() {
  simdjson::dom::parser parser;
  std::size_t members = 0;
  bench::each_line([&](const char* begin, const char* end) {
    const simdjson::dom::object survey =
        parser.parse(begin, static_cast<std::size_t>(end - begin), true);
    members += survey.size();
  });
  std::printf("%zu members\n", members);
  return 0;
}
