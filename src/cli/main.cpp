// SPDX-License-Identifier: MIT
#include <iostream>
#include <string_view>
#include <vector>

#include "cli/app.hpp"

int main(int argc, char** argv) {
  overjoist::cli::prepare_process();
  std::ios::sync_with_stdio(false);
  const std::vector<std::string_view> args(argv + (argc > 0 ? 1 : 0), argv + argc);
  return overjoist::cli::run(args, std::cin, std::cout, std::cerr,
                             overjoist::cli::terminal_of_process());
}
