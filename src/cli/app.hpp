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
  int input = -1;   ///< descriptor behind the input stream, if it is the process's own: batch can
                    ///< then be interrupted
  int output = -1;  ///< and behind the output stream: a file is then left with whole records where
                    ///< not all can be written
};
/// A limit on the size of files becomes a failed write, not the end of the process; a standard
/// stream that is closed fails, and no file that is opened takes its place. Before anything else.
void prepare_process();
Terminal terminal_of_process();

/// @param args  words after the program's name  @returns an exit code of exit_codes.hpp
int run(std::span<const std::string_view> args, std::istream& in, std::ostream& out,
        std::ostream& err, Terminal terminal);

}  // namespace overjoist::cli
