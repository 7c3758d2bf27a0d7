// SPDX-License-Identifier: MIT
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {

int order(const OrderOptions& options, const Streams& streams) {
  std::vector<std::string> inputs = files_of(options.common);
  inputs.push_back(options.survey);
  if (outputs_meet({{"--output", options.common.output_file}}, inputs, streams)) return kUsage;
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  const Outcome outcome = assess_file(options.survey, options.common, *basics, streams.in);
  std::string text;
  if (!outcome.evaluation) {
    write_faults_text(text, options.survey, outcome.faults);
    streams.err << text;
    return outcome.bug ? kBug : kNoneUsable;
  }
  const bool colour =
      streams.terminal.colour && !options.common.no_color && options.common.to_standard_output();
  const OrderStyle style{options.common.unit_system(), colour, !options.no_prices,
                         options.target == "high" ? End::high : End::low};
  (options.common.format == "html" ? write_order_html : write_order_text)(text, *outcome.evaluation,
                                                                          basics->tables, style);
  const int delivered = deliver(text, options.common.output_file, streams);
  if (delivered != kDone) return delivered;
  return fails_on(*outcome.evaluation, options.common.fail_on) ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
