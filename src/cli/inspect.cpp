// SPDX-License-Identifier: MIT
#include <algorithm>
#include <filesystem>
#include <map>
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"
#include "overjoist/report_inspect.hpp"

namespace overjoist::cli {
namespace {

/// Two files that belong together, or why they do not.
struct JobPair {
  std::string survey, record, fault;
};

/// Every folder below that holds a survey.json or a record.json, by path; where one of both is
/// missing, a pair that says so.
void add_folder(std::vector<JobPair>& pairs, const std::string& folder, std::ostream& err) {
  namespace fs = std::filesystem;
  const FolderFiles found = survey_files(folder);
  tell_odd(found, err);
  std::map<std::string, JobPair> jobs;
  for (const std::string& path : found.surveys) {
    const bool survey = has_ending(path, "/survey.json");
    if (!survey && !has_ending(path, "/record.json")) continue;
    JobPair& job = jobs[fs::path(path).parent_path().string()];
    (survey ? job.survey : job.record) = path;
  }
  for (auto& [place, job] : jobs) {
    for (const bool survey : {true, false}) {
      std::string& path = survey ? job.survey : job.record;
      if (!path.empty()) continue;
      path = (fs::path(place) / (survey ? "survey.json" : "record.json")).string();
      // A pipe that nobody fills would be waited for.
      if (std::count(found.odd.begin(), found.odd.end(), path) > 0)
        job.fault = path + " is a pipe, socket or device, not a file";
    }
    pairs.push_back(job);
  }
  std::string fault = found.fault;
  if (jobs.empty() && fault.empty())
    fault = "there is no survey.json with a record.json in this folder";
  if (!fault.empty()) pairs.push_back({folder, folder, fault});
}

/// Folders, and between them survey and record in turn.  @returns false if a survey has no record
bool pair_up(const std::vector<std::string>& paths, std::vector<JobPair>& pairs,
             std::ostream& err) {
  for (std::size_t i = 0; i < paths.size(); ++i) {
    std::error_code code;
    if (std::filesystem::is_directory(paths[i], code)) {
      add_folder(pairs, paths[i], err);
    } else if (i + 1 < paths.size()) {
      pairs.push_back({paths[i], paths[i + 1], ""});
      ++i;
    } else {
      return false;
    }
  }
  return true;
}

/// Writes records as they come, or keeps them for the file that takes them whole.
class Sink {
 public:
  Sink(const InspectOptions& options, const Tables& tables, const Streams& streams, bool several)
      : options_(options), tables_(tables), streams_(streams), several_(several) {
    if (csv()) write_inspection_csv_header(text_);
    if (array()) text_ += "[\n";
  }
  void done(const Inspection& in, const JobPair& pair) {
    const CommonOptions& common = options_.common;
    const Units units = common.unit_system();
    between();
    if (csv())
      return write_inspection_csv(text_, in, tables_, {pair.survey, pair.record},
                                  options_.raw_text);
    if (common.format == "json" || lines()) {
      write_inspection_json(text_, in, tables_, {units, !lines()}, {pair.survey, pair.record});
      if (lines()) text_ += '\n';
      return;
    }
    const TextStyle style{
        units, streams_.terminal.colour && !common.no_color && common.output_file.empty()};
    if (common.format == "html") return write_receipt_html(text_, in, tables_, units);
    if (options_.receipt) return write_receipt_text(text_, in, tables_, style);
    write_inspection_text(text_, in, tables_, style);
  }
  /// In text the message on standard error is all there is.
  void refused(const std::string& id, const Diagnostics& faults, const JobPair& pair) {
    const PairOrigin origin{pair.survey, pair.record};
    if (csv()) return write_rejected_pair_csv(text_, id, faults, origin, options_.raw_text);
    if (options_.common.format != "json" && !lines()) return;
    between();
    write_rejected_pair_json(text_, id, faults, !lines(), origin);
    if (lines()) text_ += '\n';
  }
  /// What stands so far goes out, unless a file waits for all of it.  @returns false if it could
  /// not be written
  bool flush() {
    if (!options_.common.output_file.empty() || text_.empty()) return true;
    failed_ = deliver(text_, "", streams_, cut());
    text_.clear();
    return failed_ == kDone;
  }
  int finish() {
    if (array()) text_ += "\n]\n";
    if (options_.common.format == "json" && !several_) text_ += '\n';
    if (failed_ != kDone) return failed_;
    return options_.common.output_file.empty() && text_.empty()
               ? kDone
               : deliver(text_, options_.common.output_file, streams_, cut());
  }

 private:
  Cut cut() const { return csv() ? Cut::after_rows : lines() ? Cut::after_lines : Cut::nowhere; }
  bool csv() const { return options_.common.format == "csv"; }
  bool lines() const { return options_.common.format == "jsonl"; }
  bool array() const { return options_.common.format == "json" && several_; }
  void between() {
    if (!first_ && array()) text_ += ",\n";
    if (!first_ && options_.common.format == "text") text_ += "\n\n";
    first_ = false;
  }

  const InspectOptions& options_;
  const Tables& tables_;
  const Streams& streams_;
  bool several_, first_ = true;
  int failed_ = kDone;
  std::string text_;
};

/// True where both files name their formats and stand the other way round, as a shell sorts them.
bool swapped(const std::string& survey, const std::string& record) {
  const auto holds = [](const std::string& text, const char* format) {
    return text.find(format) != std::string::npos;
  };
  constexpr const char *kSurvey = "\"overjoist-survey\"", *kRecord = "\"overjoist-record\"";
  return holds(survey, kRecord) && holds(record, kSurvey) && !holds(survey, kSurvey) &&
         !holds(record, kRecord);
}

PairOutcome inspect_pair(JobPair& pair, const Tables& tables,
                         const std::vector<RebateRule>& rebates, std::istream& in) {
  const auto refused = [](Diagnostics survey, Diagnostics record) {
    return PairOutcome{{}, "", std::move(survey), std::move(record), false};
  };
  if (!pair.fault.empty()) return refused({{"", 0, 0, pair.fault, "", "unreadable"}}, {});
  FileRead survey = read_input(pair.survey, in);
  FileRead record = read_input(pair.record, in);
  if (swapped(survey.text, record.text)) {
    std::swap(survey, record);
    std::swap(pair.survey, pair.record);
  }
  Diagnostics of_survey, of_record;
  if (!survey.fault.empty()) of_survey.push_back({"", 0, 0, survey.fault, ""});
  if (!record.fault.empty()) of_record.push_back({"", 0, 0, record.fault, ""});
  if (!of_survey.empty() || !of_record.empty())
    return refused(std::move(of_survey), std::move(of_record));
  return inspect_texts(survey.text, record.text, tables, rebates);
}

/// All faults of a pair in one list; which file each is of stands before its message.
Diagnostics all_faults(const PairOutcome& outcome) {
  Diagnostics all;
  for (const auto& [faults, whose] : {std::pair(&outcome.survey_faults, "survey: "),
                                      std::pair(&outcome.record_faults, "record: ")})
    for (Diagnostic d : *faults) {
      d.message = whose + d.message;
      all.push_back(std::move(d));
    }
  return all;
}

bool flagged(const Inspection& in, const std::string& level) {
  if (level.empty()) return false;
  if (level == "short") return in.falls_short();
  if (level == "unproven") return unproven(in.verdict);
  const CautionLevel least = level == "stop"        ? CautionLevel::stop
                             : level == "fix-first" ? CautionLevel::fix_first
                                                    : CautionLevel::care;
  return !in.findings.cautions.empty() && in.findings.cautions.front().level <= least;
}

/// Why these options do not go together; "" if they do.
std::string_view wrong_options(const InspectOptions& o, bool paired, std::size_t pairs) {
  if (!paired)
    return "each survey needs its record: give SURVEY RECORD, or a folder that holds survey.json "
           "and record.json";
  const std::string& format = o.common.format;
  if (o.receipt && format != "text" && format != "html")
    return "a receipt is text or html; the json of an inspection holds it too";
  if (!o.receipt && format == "html") return "html is for --receipt";
  if (format == "html" && pairs > 1) return "a page in html is of one pair: run it for each";
  return "";
}

}  // namespace

int inspect(const InspectOptions& options, const Streams& streams) {
  std::vector<JobPair> pairs;
  const bool paired = pair_up(options.paths, pairs, streams.err);
  if (const std::string_view wrong = wrong_options(options, paired, pairs.size()); !wrong.empty()) {
    streams.err << "overjoist: " << wrong << "\nSee overjoist inspect --help.\n";
    return kUsage;
  }
  std::vector<std::string> inputs = files_of(options.common);
  for (const JobPair& pair : pairs)
    if (pair.fault.empty()) inputs.insert(inputs.end(), {pair.survey, pair.record});
  if (outputs_meet({{"--output", options.common.output_file}}, inputs, streams)) return kUsage;
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  Sink sink(options, basics->tables, streams, pairs.size() > 1);
  std::size_t used = 0;
  bool any_flagged = false, bug = false;
  for (JobPair& pair : pairs) {
    const PairOutcome outcome = inspect_pair(pair, basics->tables, basics->rebates, streams.in);
    bug = bug || outcome.bug;
    if (outcome.inspection) {
      ++used;
      any_flagged = any_flagged || flagged(*outcome.inspection, options.common.fail_on);
      sink.done(*outcome.inspection, pair);
    } else {
      std::string message;
      write_faults_text(message, pair.survey, outcome.survey_faults);
      write_faults_text(message, pair.record, outcome.record_faults);
      streams.err << message;
      sink.refused(outcome.id, all_faults(outcome), pair);
    }
    if (!sink.flush()) break;
  }
  const bool people = options.common.format == "text" || options.common.format == "html";
  if (used == 0 && people) return bug ? kBug : kNoneUsable;
  const int delivered = sink.finish();
  if (delivered != kDone) return delivered;
  if (bug) return kBug;
  if (used == 0) return kNoneUsable;
  return used < pairs.size() || any_flagged ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
