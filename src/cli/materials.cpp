// SPDX-License-Identifier: MIT
#include "cli/commands.hpp"
#include "cli/outputs.hpp"

namespace overjoist::cli {

int materials(const CommonOptions& options, const Streams& streams) {
  if (outputs_meet({{"--output", options.output_file}}, {options.materials_file}, streams))
    return kUsage;
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
