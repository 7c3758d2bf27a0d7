// SPDX-License-Identifier: MIT
#include "overjoist/batch.hpp"

#include <algorithm>
#include <condition_variable>
#include <exception>
#include <limits>
#include <mutex>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "batch/input.hpp"
#include "overjoist/record_json.hpp"
#include "words/faults.hpp"
#include "write/json/writer.hpp"

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

bool is_worse(const Evaluation& e) {
  return either(e.planned, [](const Planned& job) { return job.totals.worse; });
}

RecordFacts facts_of(const Evaluation& e) {
  RecordFacts f;
  f.done = true;
  f.stop_level = e.stopped();
  if (!e.findings.cautions.empty())
    for (std::size_t i = 0; i < 3; ++i)
      f.flagged[i] = e.findings.cautions.front().level <= static_cast<CautionLevel>(i);
  f.area_ft2 = e.attic.area.us();
  f.ua_existing = e.attic.existing.ua.us();
  f.ua = map(e.planned, [](const Planned& job) { return job.attic.ua.us(); });
  f.currency = e.currency;
  f.bags = map(e.planned, [](const Planned& job) { return job.totals.bags; });
  f.cost = map(e.planned, [](const Planned& job) { return job.totals.cost; });
  const auto measure =
      map(e.planned, [](const Planned& job) -> const WorthLine& { return job.totals.measure; });
  f.saving = map(measure, [](const WorthLine& line) { return line.annual_saving; });
  f.unpriced = map(measure, [](const WorthLine& line) { return line.saving_unpriced; });
  f.worse = is_worse(e);
  return f;
}

/// A survey's place in a ranking: its short record, and the value that orders it.
struct Ranked {
  double value = 0.0;
  int group = 0;  ///< 2: ranked, 1: its plan leaves the attic worse than found, 0: refused
  std::string record;
};

/// A year's saving over the cost of the insulation measure, of the low end: the better buy of the
/// two. Empty without both.
std::optional<double> saving_per_cost(const Evaluation& e) {
  const WorthLine& line = e.planned.low.totals.measure;
  if (!line.annual_saving || !line.cost || !(*line.cost > 0)) return {};
  return *line.annual_saving / *line.cost;
}

/// UA lost: what reaching the high end would take off. R gap: how far the attic's effective R is
/// below the high end. What has no saving per cost stands behind all that have one. A plan that
/// leaves the attic worse than found has no rank.
double rank_value(const Evaluation& e, RankKey key) {
  switch (key) {
    case RankKey::ua_lost:
      return (e.attic.existing.ua - e.planned.high.attic.ua).us();
    case RankKey::r_gap:
      return std::max(0.0, (e.target.high - e.attic.existing.effective_r).us());
    case RankKey::bags:
      return e.planned.high.totals.bags.value_or(0.0);
    case RankKey::saving_per_cost:
      return saving_per_cost(e).value_or(-std::numeric_limits<double>::infinity());
    case RankKey::none:
      break;
  }
  return 0.0;
}

/// The figures that a rank goes by; none of a plan that has no rank.
void write_rank_figures(io::JsonWriter& w, const Evaluation& e) {
  const auto figure = [&](std::optional<double> value) {
    return is_worse(e) ? std::nullopt : value;
  };
  w.field("ua_lost_btu_per_h_f", figure(rank_value(e, RankKey::ua_lost)));
  w.field("r_gap", figure(rank_value(e, RankKey::r_gap)));
  w.field("bags_high", figure(e.planned.high.totals.bags));
  w.field("saving_per_cost", figure(saving_per_cost(e)));
}

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
        words_(prepare_words(tables)),
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
    write_csv_header(line, csv());
    summary_.write_failed = !ports_.write(line);
  }

  CsvStyle csv() const { return {options_.format == BatchFormat::csv_sections, options_.raw_text}; }

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

  /// A record says where it came from only as far as that is the same under any cutting of a
  /// stream into pieces. A refused one of a named file has its line, since somebody must find and
  /// mend it; standard input may be a piece of something, so there only what has no id has one.
  static Origin shown(const Origin& origin, const Outcome& outcome) {
    const bool piped = origin.file == "-";
    const bool told = !outcome.evaluation && (!piped || outcome.id.empty());
    return {piped ? std::string_view() : origin.file, told ? origin.line : 0};
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
    const Origin origin = shown(whole_origin, outcome);
    const std::size_t start = result.out.size();
    if (options_.rank != RankKey::none)
      result.ranked.push_back(ranked(origin, outcome));
    else if (options_.format != BatchFormat::json_lines)
      write_row(origin, outcome, result.out);
    else
      write_line(origin, outcome, result.out);
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

  void write_row(const Origin& origin, const Outcome& outcome, std::string& out) const {
    if (outcome.evaluation)
      write_csv(out, *outcome.evaluation, tables_, origin, csv());
    else
      write_rejected_csv(out, outcome.id, outcome.faults, origin, csv());
  }

  void write_line(const Origin& origin, const Outcome& outcome, std::string& out) const {
    if (outcome.evaluation)
      write_json(out, *outcome.evaluation, tables_, {options_.units, false, &words_}, origin);
    else
      write_rejected_json(out, outcome.id, outcome.faults, false, origin);
    out += '\n';
  }

  Ranked ranked(const Origin& origin, const Outcome& outcome) const {
    Ranked r;
    if (!outcome.evaluation) {
      write_rejected_json(r.record, outcome.id, outcome.faults, false, origin);
      return r;
    }
    const Evaluation& e = *outcome.evaluation;
    r.group = is_worse(e) ? 1 : 2;
    r.value = rank_value(e, options_.rank);
    io::JsonWriter w(r.record, false);
    w.object([&] {
      w.field("status", "done");
      w.field_or_null("id", e.id);
      if (!origin.file.empty()) w.field("file", origin.file);
      if (origin.line > 0) w.field("line", static_cast<double>(origin.line));
      write_rank_figures(w, e);
      w.field("stop", e.stopped());
      w.field("worse", is_worse(e));
      w.texts("unpriced_sections", e.unpriced);  // their saving is in no saving per cost
    });
    return r;
  }

  void write_ranking() {
    std::stable_sort(ranked_.begin(), ranked_.end(), [](const Ranked& a, const Ranked& b) {
      return a.group != b.group ? a.group > b.group : a.group == 2 && a.value > b.value;
    });
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
  PreparedWords words_;
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
