// SPDX-License-Identifier: MIT
#include "overjoist/batch.hpp"

#include <algorithm>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "batch/input.hpp"
#include "batch/ranking.hpp"
#include "batch/record.hpp"
#include "overjoist/record_json.hpp"
#include "words/faults.hpp"

namespace overjoist {

namespace {

/// An invariant of ours broke on this survey: its record says so, and the other surveys go on.
Outcome bug_outcome(std::string id, std::string_view what) {
  return {{},
          std::move(id),
          {{"", 0, 0, "this is a bug in the program: " + std::string(what),
            "please report it with the survey", "bug"}},
          true};
}

/// Where in a survey a fault stands that only the evaluation finds: it names a section or a key.
std::string pointer_of(const Survey& survey, std::string_view where) {
  for (std::size_t i = 0; i < survey.sections.size(); ++i)
    if (survey.sections[i].name == where) return "/sections/" + std::to_string(i);
  for (const std::string_view key :
       {"proposal", "target", "heating", "cooling", "money", "hazards"})
    if (key == where) return '/' + std::string(key);
  return "";
}

}  // namespace

Outcome assess_text(std::string_view text, const Tables& tables,
                    const std::vector<std::string>& compare,
                    const std::vector<RebateRule>& rebates) {
  SurveyRead read = read_survey(text, tables, compare);
  Outcome outcome{{}, std::move(read.id), std::move(read.faults)};
  if (!read.survey) return outcome;
  if (!rebates.empty() && read.survey->money && read.survey->money->rebate) {
    outcome.faults = place(
        text,
        {io::diagnostic_of("/money/rebate", io::make_fault<io::FaultCode::rebate_beside_rule>())});
    return outcome;
  }
  read.survey->rebates.insert(read.survey->rebates.end(), rebates.begin(), rebates.end());
  try {
    outcome.evaluation = evaluate(*read.survey, tables);
  } catch (const Error& e) {
    const std::string where = e.where().empty() ? "" : e.where() + ": ";
    outcome.faults.push_back(
        {pointer_of(*read.survey, e.where()), 0, 0, where + e.what(), e.hint(), name_of(e.code())});
    outcome.faults = place(text, std::move(outcome.faults));
  } catch (const std::logic_error& e) {
    outcome = bug_outcome(std::move(outcome.id), e.what());
  }
  return outcome;
}

PairOutcome inspect_texts(std::string_view survey_text, std::string_view record_text,
                          const Tables& tables, const std::vector<RebateRule>& rebates) {
  SurveyRead survey = read_survey(survey_text, tables);
  RecordRead record = read_record(record_text, tables, survey.survey ? &*survey.survey : nullptr);
  PairOutcome outcome{
      {}, std::move(survey.id), std::move(survey.faults), std::move(record.faults), false};
  if (!survey.survey || !record.record) return outcome;
  survey.survey->rebates.insert(survey.survey->rebates.end(), rebates.begin(), rebates.end());
  try {
    outcome.inspection = inspect(*survey.survey, *record.record, tables);
  } catch (const Error& e) {
    const bool named =
        e.where().empty() || std::string_view(e.what()).substr(0, e.where().size()) == e.where();
    outcome.record_faults.push_back(
        {"", 0, 0, (named ? "" : e.where() + ": ") + e.what(), e.hint(), name_of(e.code())});
  } catch (const std::logic_error& e) {
    outcome.record_faults = bug_outcome("", e.what()).faults;
    outcome.bug = true;
  }
  return outcome;
}

namespace {

/// What a chunk became.
struct ChunkResult {
  std::string out;
  std::vector<RecordFacts> facts;
  std::vector<Ranked> ranked;
  std::size_t blank_lines = 0, spread_out = 0;
  bool failed = false;  ///< a file of its own could not be written
};

class Batch {
 public:
  Batch(const std::vector<BatchInput>& inputs, const BatchOptions& options, const BatchPorts& ports,
        const Tables& tables)
      : options_(options),
        ports_(ports),
        tables_(tables),
        records_(options, tables),
        reader_(inputs, ports) {}

  BatchSummary run() {
    if (options_.rank == RankKey::none) header();
    std::vector<std::thread> threads;
    for (std::size_t i = 1; i < options_.jobs && start(threads); ++i) {
    }
    work();
    for (std::thread& t : threads) t.join();
    if (broken_) std::rethrow_exception(broken_);
    if (options_.rank != RankKey::none && !summary_.write_failed && !stopping()) write_ranking();
    return summary_;
  }

 private:
  bool stopping() const {
    return options_.stop && options_.stop->load(std::memory_order_relaxed) != 0;
  }

  void header() {
    if (options_.format == BatchFormat::json_lines || ports_.write_file) return;
    std::string line;
    write_csv_header(line, records_.csv());
    summary_.write_failed = !ports_.write(line);
  }

  /// A thread that cannot be started means fewer workers and the same bytes.
  bool start(std::vector<std::thread>& threads) {
    try {
      threads.emplace_back([this] { work(); });
    } catch (const std::system_error&) {
      return false;
    }
    return true;
  }

  /// Takes chunks in turn, works on them, and hands the results out in the same order. An exception
  /// ends the batch.
  void work() {
    try {
      Chunk chunk;
      ChunkResult result;
      std::string file_text;
      for (std::size_t ticket = 0; take(chunk, ticket);) {
        result.out.clear();
        result.facts.clear();
        result.ranked.clear();
        result.blank_lines = result.spread_out = 0;
        process(chunk, result, file_text);
        if (!hand_out(result, ticket)) return;
      }
    } catch (...) {
      const std::lock_guard<std::mutex> lock(turn_mutex_);
      if (!broken_) broken_ = std::current_exception();
      ended_ = true;
      turn_changed_.notify_all();
    }
  }

  bool take(Chunk& chunk, std::size_t& ticket) {
    const std::lock_guard<std::mutex> lock(input_mutex_);
    if (ended_ || stopping() || !reader_.next(chunk)) return false;
    if (stopping()) return false;  // the stream may have been cut inside a record
    ticket = taken_++;
    return true;
  }

  bool hand_out(const ChunkResult& result, std::size_t ticket) {
    std::unique_lock<std::mutex> lock(turn_mutex_);
    turn_changed_.wait(lock, [&] { return ended_ || turn_ == ticket; });
    if (ended_) return false;
    if (result.failed || (!result.out.empty() && !ports_.write(result.out))) {
      summary_.write_failed = true;
      ended_ = true;
    } else {
      for (const RecordFacts& f : result.facts) summary_.add(f);
      summary_.blank_lines += result.blank_lines;
      summary_.spread_out += result.spread_out;
      ranked_.insert(ranked_.end(), result.ranked.begin(), result.ranked.end());
      if (ports_.progress) ports_.progress(summary_.read);
    }
    ++turn_;
    turn_changed_.notify_all();
    return !ended_;
  }

  void process(const Chunk& chunk, ChunkResult& result, std::string& file_text) const {
    result.blank_lines += chunk.blank_lines;
    result.spread_out += chunk.spread_out ? 1 : 0;
    if (!chunk.fault.empty())
      return record({chunk.path, chunk.first_line},
                    refused(chunk.fault, chunk.hint,
                            chunk.spread_out ? "survey-on-several-lines" : "unreadable"),
                    result);
    for (const std::string& path : chunk.files) {
      const std::string fault = ports_.read_file(path, file_text);
      record({path, 0}, fault.empty() ? assessed(file_text) : refused(fault), result);
    }
    std::string_view rest = chunk.text;
    for (std::size_t line = chunk.first_line; !rest.empty(); ++line) {
      const std::size_t end = std::min(rest.find('\n'), rest.size() - 1) + 1;
      const std::string_view text = rest.substr(0, end);
      rest.remove_prefix(end);
      if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        ++result.blank_lines;
      else
        record({chunk.path, line}, assessed(text), result);
    }
  }

  Outcome assessed(std::string_view text) const {
    return assess_text(text, tables_, options_.compare, options_.rebates);
  }

  static Outcome refused(const std::string& fault, const std::string& hint = "",
                         std::string_view code = "unreadable") {
    return {{}, "", {{"", 0, 0, fault, hint, code}}};
  }

  void record(const Origin& origin, const Outcome& outcome, ChunkResult& result) const {
    const std::size_t start = result.out.size();
    try {
      write_record(origin, outcome, result);
    } catch (const std::logic_error& e) {
      result.out.resize(start);
      write_record(origin, bug_outcome(outcome.id, e.what()), result);
    }
  }

  void write_record(const Origin& whole_origin, const Outcome& outcome, ChunkResult& result) const {
    const Origin origin = shown_origin(whole_origin, outcome);
    const std::size_t start = result.out.size();
    if (options_.rank != RankKey::none)
      result.ranked.push_back(ranked(origin, outcome, options_.rank));
    else
      records_.write(result.out, outcome, origin);
    if (ports_.write_file && options_.rank == RankKey::none) {
      if (!ports_.write_file(std::string(whole_origin.file), whole_origin.line,
                             std::string_view(result.out).substr(start)))
        result.failed = true;
      result.out.resize(start);
    }
    if (ports_.write_page && outcome.evaluation) {
      std::string page;
      write_html(page, *outcome.evaluation, tables_, options_.units);
      if (!ports_.write_page(std::string(whole_origin.file), whole_origin.line,
                             outcome.evaluation->id, page))
        result.failed = true;
    }
    result.facts.push_back(outcome.evaluation ? facts_of(*outcome.evaluation) : RecordFacts{});
    result.facts.back().bug = outcome.bug;
  }

  void write_ranking() {
    sort_ranking(ranked_);
    std::string out;
    for (const Ranked& r : ranked_) {
      out += r.record;
      out += '\n';
      if (out.size() < std::size_t{64} * 1024) continue;
      if (!ports_.write(out)) {
        summary_.write_failed = true;
        return;
      }
      out.clear();
    }
    if (!out.empty() && !ports_.write(out)) summary_.write_failed = true;
  }

  const BatchOptions& options_;
  const BatchPorts& ports_;
  const Tables& tables_;
  RecordWriter records_;
  ChunkReader reader_;
  std::mutex input_mutex_, turn_mutex_;
  std::condition_variable turn_changed_;
  std::size_t taken_ = 0, turn_ = 0;
  std::atomic<bool> ended_{false};
  std::exception_ptr broken_;
  std::vector<Ranked> ranked_;
  BatchSummary summary_;
};

}  // namespace

BatchSummary run_batch(const std::vector<BatchInput>& inputs, const BatchOptions& options,
                       const BatchPorts& ports, const Tables& tables) {
  return Batch(inputs, options, ports, tables).run();
}

}  // namespace overjoist
