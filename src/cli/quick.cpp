// SPDX-License-Identifier: MIT
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "cli/quick_survey.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {
namespace {

/// The command that gives the same answer from the survey that was saved.
std::string command_for_saved(const QuickOptions& options) {
  std::string command = "overjoist assess";
  if (options.common.units != "us") command += " --units " + options.common.units;
  if (options.common.framing_method != "parallel")
    command += " --framing-method " + options.common.framing_method;
  for (const std::string& file : options.common.rebates) command += " --rebate " + shell_word(file);
  for (const std::string& id : options.common.compare) command += " --compare " + shell_word(id);
  if (!options.common.materials_file.empty())
    command += " --materials " + shell_word(options.common.materials_file);
  return command + " " + shell_word(options.save_file);
}

int refuse(const Diagnostics& faults, const Streams& streams) {
  std::string message;
  write_faults_text(message, "quick", faults);
  streams.err << message << "See overjoist quick --help.\n";
  return kUsage;
}

}  // namespace

int quick(const QuickOptions& options, const Streams& streams) {
  std::vector<Output> outputs = {{"--output", options.common.output_file}};
  if (!options.save_file.empty()) outputs.push_back({"--save", options.save_file});
  if (outputs_meet(outputs, files_of(options.common), streams)) return kUsage;
  if (would_overwrite(options.save_file, options.force, streams.err)) return kUsage;
  if (const Diagnostics faults = label_faults(options); !faults.empty())
    return refuse(faults, streams);
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  const Tables& tables = basics->tables;
  const Material* found = tables.material(options.material);
  const std::string survey = survey_of_flags(
      options, found != nullptr && tables.hands_off(*found) && options.depths.empty());
  const Outcome outcome = assess_text(survey, tables, options.common.compare, basics->rebates);
  if (!outcome.evaluation) {
    std::string message;
    write_faults_text(message, "quick", by_flag(outcome.faults));
    streams.err << message;
    if (outcome.bug) return kBug;
    streams.err << "See overjoist quick --help.\n";
    return kUsage;
  }
  if (!options.save_file.empty()) {
    const int saved = deliver(survey, options.save_file, streams);
    if (saved != kDone) return saved;
    tell_written(options.save_file, "next, run: " + command_for_saved(options), streams);
  }
  std::string text;
  write_evaluation(text, *outcome.evaluation, tables, options.common, streams);
  if (text.back() != '\n') text += '\n';
  const int delivered = deliver(text, options.common.output_file, streams);
  if (delivered != kDone) return delivered;
  return fails_on(*outcome.evaluation, options.common.fail_on) ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
