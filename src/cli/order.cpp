// SPDX-License-Identifier: MIT
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {

int order(const OrderOptions& options, const Streams& streams) {
  if (outputs_meet({{"--output", options.common.output_file}}, {options.survey, options.common.materials_file}, streams)) return kUsage;
  const auto tables = load_tables(options.common, streams.err);
  if (!tables) return kNoneUsable;
  const FileRead read = read_input(options.survey, streams.in);
  const Outcome outcome = read.fault.empty() ? assess_text(read.text, *tables) : Outcome{{}, "", {{"", 0, 0, read.fault, ""}}};
  std::string text;
  if (!outcome.evaluation) {
    write_faults_text(text, options.survey, outcome.faults);
    streams.err << text;
    return outcome.bug ? kBug : kNoneUsable;
  }
  const bool colour = streams.terminal.colour && !options.common.no_color && options.common.output_file.empty();
  const OrderStyle style{options.common.unit_system(), colour, !options.no_prices, options.target == "high"};
  (options.common.format == "html" ? write_order_html : write_order_text)(text, *outcome.evaluation, *tables, style);
  const int delivered = deliver(text, options.common.output_file, streams);
  if (delivered != kDone) return delivered;
  return fails_on(*outcome.evaluation, options.common.fail_on) ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
