// SPDX-License-Identifier: MIT
#include <fcntl.h>
#include <fmt/core.h>
#include <malloc.h>
#include <sys/resource.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <memory>
#include <mutex>
#include <ostream>
#include <thread>

#include "cli/batch_counts.hpp"
#include "cli/batch_sources.hpp"
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "cli/result_folder.hpp"
#include "cli/signals.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {
namespace {

class Ports {
 public:
  Ports(const BatchCommandOptions& options, const BatchPaths& paths, const Streams& streams)
      : options_(options),
        paths_(paths),
        streams_(streams),
        results_("--to", options.folder, ".json"),
        pages_("--html-folder", options.html_folder, ".html") {}

  ResultFolder& results() { return results_; }
  ResultFolder& pages() { return pages_; }
  BatchPorts ports() {
    BatchPorts p;
    p.open_lines = [this](const BatchInput& input, std::string& fault) {
      return open(input, fault);
    };
    p.read_file = [this](const std::string& path, std::string& text) {
      const auto fault = paths_.faults.find(path);
      return fault == paths_.faults.end() ? read_survey_file(path, text) : fault->second;
    };
    const Cut cut = options_.common.format == "csv" ? Cut::after_rows : Cut::after_lines;
    p.write = [this, cut](std::string_view records) {
      const WritingGuard guard;
      return put_out(records, streams_, cut);
    };
    if (results_.used())
      p.write_file = [this](const std::string& path, std::size_t line, std::string_view record) {
        const RecordOrigin origin = origin_of(path, line, options_.name);
        const bool done = put(results_, result_name(origin.stem, origin, ".json"), record);
        files_ += done ? 1 : 0;
        return done;
      };
    if (pages_.used())
      p.write_page = [this](const std::string& path, std::size_t line, const std::string& id,
                            const std::string& page) {
        const RecordOrigin origin = origin_of(path, line, options_.name);
        return put(pages_, result_name(id.empty() ? origin.stem : id, origin, ".html"), page);
      };
    if (streams_.terminal.progress) p.progress = [this](std::size_t n) { show(n); };
    return p;
  }
  /// What went wrong with the output, and how much surely got out before: records are counted a
  /// chunk at a time, and a ranking is written at the end only. Nothing is said where no count is
  /// sure.
  std::string words_for_failure(const BatchSummary& summary) const {
    const std::string what = fault_.empty() ? "standard output" : fault_;
    const std::size_t done = !options_.folder.empty() ? files_.load()
                             : options_.rank.empty()  ? summary.read
                                                      : 0;
    return done == 0 ? what
                     : fmt::format("{}; written in full before that: at least {} record{}", what,
                                   done, done == 1 ? "" : "s");
  }

 private:
  bool put(ResultFolder& folder, const std::string& name, std::string_view text) {
    const WritingGuard guard;
    const std::string fault = folder.put(name, text);
    if (fault.empty()) return true;
    const std::lock_guard<std::mutex> lock(fault_mutex_);
    fault_ = fault;
    return false;
  }

  ByteSource* open(const BatchInput& input, std::string& fault) {
    const bool owned = input.path != "-";
    const int fd =
        owned ? ::open(input.path.c_str(), O_RDONLY | O_CLOEXEC) : streams_.terminal.input;
    if (owned && fd < 0) {
      fault = fmt::format("it cannot be opened: {}", std::strerror(errno));
      return nullptr;
    }
    source_ = fd < 0 ? stream_source(streams_.in) : descriptor_source(fd, owned, caught_signal);
    return source_.get();
  }

  void show(std::size_t n) {
    if (n < shown_ + 1000) return;
    shown_ = n;
    streams_.err << "\r" << n << " surveys" << std::flush;
  }

  const BatchCommandOptions& options_;
  const BatchPaths& paths_;
  const Streams& streams_;
  ResultFolder results_, pages_;
  std::unique_ptr<ByteSource> source_;
  std::string fault_;
  std::mutex fault_mutex_;
  std::atomic<std::size_t> files_{0};
  std::size_t shown_ = 0;
};

BatchOptions engine_options(const BatchCommandOptions& o, const Basics& basics) {
  BatchOptions e;
  if (o.common.format == "csv")
    e.format = o.rows == "section" ? BatchFormat::csv_sections : BatchFormat::csv_surveys;
  if (!o.rank.empty())
    e.rank = o.rank == "ua-lost" ? RankKey::ua_lost
             : o.rank == "r-gap" ? RankKey::r_gap
             : o.rank == "bags"  ? RankKey::bags
                                 : RankKey::saving_per_cost;
  e.units = o.common.unit_system();
  e.jobs = o.jobs > 0 ? static_cast<std::size_t>(o.jobs)
                      : std::max(1U, std::thread::hardware_concurrency());
  e.raw_text = o.raw_text;
  e.compare = o.common.compare;
  e.rebates = basics.rebates;
  e.stop = &caught_signal;
  return e;
}

/// Exit code of a batch that was not interrupted and could write.
int verdict(const BatchCommandOptions& o, const BatchSummary& s) {
  if (s.bugs > 0) return kBug;
  if (s.rejected > 0 && !o.rejects_ok) return s.done == 0 ? kNoneUsable : kSomeRejected;
  if (o.common.fail_on.empty()) return kDone;
  const std::size_t level = o.common.fail_on == "stop"        ? 0
                            : o.common.fail_on == "fix-first" ? 1
                                                              : 2;
  return s.flagged[level] > 0 ? kSomeRejected : kDone;
}

int misuse(const Streams& streams, const char* what) {
  streams.err << "overjoist: " << what << "\nSee overjoist batch --help.\n";
  return kUsage;
}

/// Where address space is limited, all threads share one heap: each further one would ask for 64
/// MiB of it, again and again.
void spare_address_space() {
#ifdef M_ARENA_MAX
  rlimit limit{};
  if (::getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY)
    ::mallopt(M_ARENA_MAX, 1);
#endif
}

/// Why these options do not go together; "" if they do.
const char* wrong_options(const BatchCommandOptions& o) {
  if (!o.rank.empty() && (o.common.format == "csv" || !o.folder.empty()))
    return "--rank writes short JSON records; it does not go with --format csv or --to";
  if (!o.rank.empty() && !o.html_folder.empty())
    return "--html-folder writes reports beside the records; it does not go with --rank";
  if (!o.folder.empty() && o.common.format == "csv")
    return "--to writes JSON files; it does not go with --format csv";
  if (!o.name.empty() && std::find(o.paths.begin(), o.paths.end(), "-") == o.paths.end())
    return "--name is of standard input; it goes with - as a path";
  return "";
}

/// True, and told, if the records go into a folder that is read: the next run would take them for
/// surveys.
bool would_read_results(const BatchCommandOptions& o, std::ostream& err) {
  namespace fs = std::filesystem;
  if (o.folder.empty()) return false;
  std::error_code code;
  const fs::path results = fs::weakly_canonical(o.folder, code);
  for (const std::string& path : o.paths) {
    if (path == "-" || !fs::is_directory(path, code)) continue;
    const fs::path read = fs::weakly_canonical(path, code);
    if (std::mismatch(read.begin(), read.end(), results.begin(), results.end()).first != read.end())
      continue;
    err << fmt::format(
        "overjoist: --to {} lies in {}, which this run reads: the next run would take the results "
        "for surveys; name another folder\n",
        printable(o.folder), printable(path));
    return true;
  }
  return false;
}

/// True, and told, if this run would write over what it reads, over what it writes itself, or over
/// what cannot be told from it.
bool would_lose(const BatchCommandOptions& o, const BatchPaths& paths, Ports& ports,
                const Streams& streams) {
  std::vector<Output> outputs;
  if (o.folder.empty()) outputs.push_back({"", ""});
  if (!o.summary_file.empty()) outputs.push_back({"--summary", o.summary_file});
  std::vector<std::string> inputs = paths.files();
  for (const std::string& file : files_of(o.common)) inputs.push_back(file);
  if (outputs_meet(outputs, inputs, streams) || would_read_results(o, streams.err)) return true;
  const bool standard_input = std::find(o.paths.begin(), o.paths.end(), "-") != o.paths.end();
  for (const ResultFolder* folder : {&ports.results(), &ports.pages()}) {
    if (folder->meets(inputs, outputs, streams)) return true;
    if (!standard_input || !o.name.empty() || !folder->holds_results()) continue;
    streams.err << fmt::format(
        "overjoist: {} holds results already; say --name NAME for those of standard input, or name "
        "another folder\n",
        printable(folder->path()));
    return true;
  }
  return false;
}

/// What is told at the end of a run that went well.
void tell(const BatchSummary& s, Ports& ports, double seconds, std::ostream& err) {
  tell_counts(s, seconds, err);
  if (caught_signal != 0) {
    err << "overjoist: interrupted: the counts and sums are of what was read so far\n";
    return;
  }
  ports.results().tell_left(err);
  ports.pages().tell_left(err);
}

}  // namespace

int batch(const BatchCommandOptions& options, const Streams& streams) {
  if (const char* wrong = wrong_options(options); *wrong != '\0') return misuse(streams, wrong);
  const BatchPaths paths = open_up(options.paths, streams.err);
  Ports ports(options, paths, streams);
  if (would_lose(options, paths, ports, streams)) return kUsage;
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  for (const ResultFolder* folder : {&ports.results(), &ports.pages()}) {
    const std::string fault = folder->make();
    if (fault.empty()) continue;
    streams.err << "overjoist: output could not be written: " << printable(fault) << "\n";
    return kOutputFailed;
  }
  spare_address_space();
  const auto start = std::chrono::steady_clock::now();
  const SignalGuard guard;
  BatchSummary s =
      run_batch(paths.inputs, engine_options(options, *basics), ports.ports(), basics->tables);
  s.skipped_links = paths.links;
  s.skipped_odd = paths.odd;
  const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;
  if (streams.terminal.progress) streams.err << "\r";
  if (s.write_failed) {
    streams.err << "overjoist: output could not be written: "
                << printable(ports.words_for_failure(s)) << "\n";
    return kOutputFailed;
  }
  tell(s, ports, seconds.count(), streams.err);
  if (caught_signal != 0) return kSignal + caught_signal;
  if (!options.summary_file.empty()) {
    std::string text;
    write_summary_json(text, s);
    const int delivered = deliver(text, options.summary_file, streams);
    if (delivered != kDone) return delivered;
  }
  return verdict(options, s);
}

}  // namespace overjoist::cli
