// SPDX-License-Identifier: MIT
// The command line inside a program that has set a locale whose decimal sign is a comma, in C and
// in C++, as a host program may.
#include <clocale>
#include <cstdio>
#include <iostream>
#include <locale>
#include <string_view>
#include <vector>

#include "cli/app.hpp"

int main(int argc, char** argv) {
  const char* name = "de_DE.UTF-8";
  if (!std::setlocale(LC_ALL, name) || *std::localeconv()->decimal_point != ',') return 99;
  std::locale::global(std::locale(name));
  for (std::ios* stream : {static_cast<std::ios*>(&std::cin), static_cast<std::ios*>(&std::cout),
                           static_cast<std::ios*>(&std::cerr)})
    stream->imbue(std::locale());
  const std::vector<std::string_view> args(argv + 1, argv + argc);
  return overjoist::cli::run(args, std::cin, std::cout, std::cerr, {});
}
