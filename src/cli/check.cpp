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
  const auto tables = load_tables(options.common, streams.err);
  if (!tables) return kNoneUsable;
  std::string text;
  std::size_t good = 0;
  for (const std::string& path : options.surveys) {
    const FileRead read = read_input(path, streams.in);
    const Outcome outcome = read.fault.empty() ? assess_text(read.text, *tables) : Outcome{{}, "", {{"", 0, 0, read.fault, ""}}};
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
