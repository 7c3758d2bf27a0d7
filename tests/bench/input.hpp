// SPDX-License-Identifier: MIT
#pragma once
#include <unistd.h>

#include <cstddef>
#include <cstring>
#include <string>

/// What the yardstick programs of the benchmark share: standard input by blocks, cut into lines, as
/// the batch reads it.
namespace bench {

constexpr std::size_t kBlock = std::size_t{64} * 1024;

/// Calls `use(begin, end)` for each line of standard input, without its line break.  @returns bytes
/// read
template <class Use>
std::size_t each_line(Use use) {
  std::string held;
  std::size_t total = 0;
  for (ssize_t n = 1; n > 0;) {
    const std::size_t old = held.size();
    held.resize(old + kBlock);
    n = ::read(STDIN_FILENO, held.data() + old, kBlock);
    held.resize(old + static_cast<std::size_t>(n > 0 ? n : 0));
    total += held.size() - old;
    std::size_t start = 0;
    for (std::size_t end; (end = held.find('\n', start)) != std::string::npos; start = end + 1)
      use(held.data() + start, held.data() + end);
    held.erase(0, start);
  }
  if (!held.empty()) use(held.data(), held.data() + held.size());
  return total;
}

}  // namespace bench
