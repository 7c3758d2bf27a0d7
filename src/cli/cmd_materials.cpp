// SPDX-License-Identifier: MIT
#include "cli/commands.hpp"

namespace overjoist::cli {

int materials(const CommonOptions& options, const Streams& streams) {
  const auto tables = load_tables(options, streams.err);
  if (!tables) return kNoneUsable;
  std::string text;
  if (options.format == "json")
    write_materials_json(text, *tables, true);
  else
    write_materials_text(text, *tables, options.unit_system());
  return deliver(text, options.output_file, streams);
}

}  // namespace overjoist::cli
