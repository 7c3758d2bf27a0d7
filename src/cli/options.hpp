// SPDX-License-Identifier: MIT
#pragma once
#include <span>

#include "cli/commands.hpp"

namespace CLI {
class App;
}

/// The commands as rows of one table.
namespace overjoist::cli {

/// What was told of each command.
struct Options {
  AssessOptions assess, check;
  QuickOptions quick;
  BatchCommandOptions batch;
  CommonOptions materials;
  OrderOptions order;
  GoodsOptions goods;
  InspectOptions inspect;
  FormOptions form;
};

struct Command {
  const char* name;
  const char* summary;   ///< one line, on the help page of all commands
  const char* examples;  ///< lines, first on its own page
  void (*declare)(CLI::App&, Options&);
  int (*run)(const Options&, const Streams&);
};

/// All commands, in the order of the help page.
std::span<const Command> commands();

}  // namespace overjoist::cli
