// SPDX-License-Identifier: MIT
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {

int check(const AssessOptions& options, const Streams& streams) {
  std::vector<std::string> inputs = options.surveys;
  inputs.push_back(options.common.materials_file);
  if (outputs_meet({{"", ""}}, inputs, streams)) return kUsage;
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  std::string text;
  std::size_t good = 0;
  for (const std::string& path : options.surveys) {
    const Outcome outcome = assess_file(path, options.common, *basics, streams.in);
    if (outcome.evaluation) {
      ++good;
      text += printable(path) + ": no faults\n";
    } else {
      write_faults_text(text, path, outcome.faults);
    }
  }
  const int delivered = deliver(text, "", streams);
  if (delivered != kDone) return delivered;
  if (good == options.surveys.size()) return kDone;
  return good == 0 ? kNoneUsable : kSomeRejected;
}

}  // namespace overjoist::cli
