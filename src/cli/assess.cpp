// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include <istream>
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"
#include "overjoist/survey_json.hpp"
#include "words/survey_words.hpp"

namespace overjoist::cli {

std::optional<Tables> load_tables(const CommonOptions& options, std::ostream& err) {
  Tables tables = builtin_tables();
  const auto& methods = io::kWords<FramingMethod>;  // the option takes no other
  tables.framing_method = static_cast<FramingMethod>(
      std::find(methods.begin(), methods.end(), options.framing_method) - methods.begin());
  if (options.materials_file.empty()) return tables;
  std::istream none(nullptr);
  const FileRead read =
      read_input(options.materials_file == "-" ? "./-" : options.materials_file, none);
  const Diagnostics faults = read.fault.empty()
                                 ? add_materials(tables, read.text, options.materials_file)
                                 : Diagnostics{{"", 0, 0, read.fault, "", "unreadable"}};
  if (faults.empty()) return tables;
  std::string message;
  write_faults_text(message, options.materials_file, faults);
  err << message;
  return {};
}

bool fails_on(const Evaluation& evaluation, const std::string& level) {
  if (level.empty()) return false;
  const CautionLevel least = level == "stop"        ? CautionLevel::stop
                             : level == "fix-first" ? CautionLevel::fix_first
                                                    : CautionLevel::care;
  return !evaluation.findings.cautions.empty() &&
         evaluation.findings.cautions.front().level <= least;
}

void write_evaluation(std::string& text, const Evaluation& evaluation, const Tables& tables,
                      const CommonOptions& options, const Streams& streams) {
  if (options.format == "html") return write_html(text, evaluation, tables, options.unit_system());
  if (options.format == "json")
    return write_json(text, evaluation, tables, {options.unit_system(), true});
  const bool colour = streams.terminal.colour && !options.no_color && options.to_standard_output();
  write_text(text, evaluation, tables, {options.unit_system(), colour});
}

bool put_out(std::string_view text, const Streams& streams, Cut cut) {
  streams.out.flush();
  if (streams.terminal.output >= 0)
    return static_cast<bool>(streams.out) && write_descriptor(streams.terminal.output, text, cut);
  streams.out << text << std::flush;
  return static_cast<bool>(streams.out);
}

int deliver(const std::string& text, const std::string& output_file, const Streams& streams,
            Cut cut) {
  if (output_file.empty() || output_file == "-") {
    if (put_out(text, streams, cut)) return kDone;
    streams.err << "overjoist: standard output could not be written\n";
    return kOutputFailed;
  }
  const std::string fault = write_whole_file(output_file, text);
  if (fault.empty()) return kDone;
  streams.err << "overjoist: output could not be written: " << printable(fault) << "\n";
  return kOutputFailed;
}

namespace {

/// What stands between and around several results of one format.
struct Frame {
  bool json, several;
  void open(std::string& text) const { text += json && several ? "[\n" : ""; }
  void between(std::string& text, const std::string& format) const {
    if (json)
      text += ",\n";
    else if (format == "text")
      text += "\n\n";
  }
  void close(std::string& text) const { text += !json ? "" : several ? "\n]\n" : "\n"; }
};

/// The rules of all files; empty after a fault, which is told.
std::optional<std::vector<RebateRule>> load_rebates(const std::vector<std::string>& files,
                                                    const Tables& tables, std::ostream& err) {
  std::vector<RebateRule> rules;
  std::istream none(nullptr);
  for (const std::string& path : files) {
    const FileRead file = read_input(path == "-" ? "./-" : path, none);
    const RebateRead read = file.fault.empty() ? read_rebate(file.text, tables)
                                               : RebateRead{{}, {{"", 0, 0, file.fault, ""}}};
    if (read.rule) {
      rules.push_back(*read.rule);
      continue;
    }
    std::string message;
    write_faults_text(message, path, read.faults);
    err << message;
    return {};
  }
  return rules;
}

}  // namespace

std::vector<std::string> files_of(const CommonOptions& options) {
  std::vector<std::string> files = options.rebates;
  files.push_back(options.materials_file);
  return files;
}

std::optional<Basics> load_basics(const CommonOptions& options, std::ostream& err) {
  auto tables = load_tables(options, err);
  if (!tables) return std::nullopt;
  auto rebates = load_rebates(options.rebates, *tables, err);
  if (!rebates) return std::nullopt;
  return Basics{std::move(*tables), std::move(*rebates)};
}

Outcome assess_file(const std::string& path, const CommonOptions& options, const Basics& basics,
                    std::istream& in) {
  const FileRead read = read_input(path, in);
  if (!read.fault.empty()) return {{}, "", {{"", 0, 0, read.fault, "", "unreadable"}}};
  return assess_text(read.text, basics.tables, options.compare, basics.rebates);
}

bool several_pages(const std::string& format, std::size_t surveys, std::ostream& err) {
  if (format != "html" || surveys < 2) return false;
  err << "overjoist: --format html writes one page; name one survey, or write a page for each with "
         "batch --html-folder\n";
  return true;
}

int assess(const AssessOptions& options, const Streams& streams) {
  if (several_pages(options.common.format, options.surveys.size(), streams.err)) return kUsage;
  std::vector<std::string> inputs = options.surveys;
  for (const std::string& file : files_of(options.common)) inputs.push_back(file);
  if (outputs_meet({{"--output", options.common.output_file}}, inputs, streams)) return kUsage;
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  const Tables& tables = basics->tables;
  const std::string& format = options.common.format;
  const bool json = format == "json", csv = format == "csv";
  const Frame frame{json, options.surveys.size() > 1};
  const CsvStyle style{options.rows == "section", options.raw_text};
  std::string text;
  frame.open(text);
  if (csv) write_csv_header(text, style);
  std::size_t used = 0;
  bool flagged = false, first = true, bug = false;
  for (const std::string& path : options.surveys) {
    const Outcome outcome = assess_file(path, options.common, *basics, streams.in);
    if (!outcome.evaluation) {
      std::string message;
      write_faults_text(message, path, outcome.faults);
      streams.err << message;
      if (format == "text" || format == "html") continue;
    }
    if (!first) frame.between(text, format);
    first = false;
    used += outcome.evaluation ? 1 : 0;
    bug = bug || outcome.bug;
    flagged =
        flagged || (outcome.evaluation && fails_on(*outcome.evaluation, options.common.fail_on));
    if (outcome.evaluation && csv)
      write_csv(text, *outcome.evaluation, tables, {path, 0}, style);
    else if (outcome.evaluation)
      write_evaluation(text, *outcome.evaluation, tables, options.common, streams);
    else if (csv)
      write_rejected_csv(text, outcome.id, outcome.faults, {path, 0}, style);
    else
      write_rejected_json(text, outcome.id, outcome.faults, true, {path, 0});
  }
  frame.close(text);
  if (used == 0 && (format == "text" || format == "html")) return bug ? kBug : kNoneUsable;
  const int delivered =
      deliver(text, options.common.output_file, streams, csv ? Cut::after_rows : Cut::nowhere);
  if (delivered != kDone) return delivered;
  if (bug) return kBug;
  if (used == 0) return kNoneUsable;
  return used < options.surveys.size() || flagged ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
