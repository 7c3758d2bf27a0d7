// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>
#include <span>
#include <string_view>

/// The command line as a function, so that every option can be tested in-process.
namespace overjoist::cli {

/// What depends on the terminal.
struct Terminal {
  bool colour = false;    ///< standard output is a terminal, and NO_COLOR is not set
  bool progress = false;  ///< standard error is a terminal
  int input = -1;         ///< descriptor behind the input stream, if it is the process's own: batch can then be interrupted
};
Terminal terminal_of_process();

/// @param args  words after the program's name  @returns an exit code of exit_codes.hpp
int run(std::span<const std::string_view> args, std::istream& in, std::ostream& out, std::ostream& err, Terminal terminal);

}  // namespace overjoist::cli
