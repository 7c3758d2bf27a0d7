// SPDX-License-Identifier: MIT
#include <fcntl.h>
#include <fmt/format.h>
#include <malloc.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>
#include <istream>
#include <memory>
#include <mutex>
#include <ostream>
#include <thread>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {
namespace {

std::atomic<int> caught_signal{0};
static_assert(std::atomic<int>::is_always_lock_free, "a signal handler may only touch lock-free atomics");

extern "C" void catch_signal(int number) { caught_signal.store(number); }

/// SIGINT and SIGTERM end the batch on whole records while this lives.
class SignalGuard {
 public:
  SignalGuard() {
    caught_signal = 0;
    struct sigaction action {};
    action.sa_handler = catch_signal;
    ::sigaction(SIGINT, &action, &old_int_);
    ::sigaction(SIGTERM, &action, &old_term_);
  }
  ~SignalGuard() {
    ::sigaction(SIGINT, &old_int_, nullptr);
    ::sigaction(SIGTERM, &old_term_, nullptr);
  }
  SignalGuard(const SignalGuard&) = delete;
  SignalGuard& operator=(const SignalGuard&) = delete;

 private:
  struct sigaction old_int_ {
  }, old_term_{};
};

/// A descriptor; wakes up now and then to see whether a signal came, whichever thread took it.
class DescriptorSource : public ByteSource {
 public:
  DescriptorSource(int fd, bool owned) : fd_(fd), owned_(owned) {}
  ~DescriptorSource() override {
    if (owned_) ::close(fd_);
  }
  DescriptorSource(const DescriptorSource&) = delete;
  DescriptorSource& operator=(const DescriptorSource&) = delete;

  std::size_t read(char* to, std::size_t most) override {
    constexpr int kWake = 100;  // ms
    while (caught_signal == 0) {
      pollfd ready{fd_, POLLIN, 0};
      const int polled = ::poll(&ready, 1, kWake);
      if (polled == 0 || (polled < 0 && errno == EINTR)) continue;
      const ssize_t n = ::read(fd_, to, most);
      if (n >= 0) return static_cast<std::size_t>(n);
      if (errno != EINTR && errno != EAGAIN) return 0;
    }
    return 0;
  }

 private:
  int fd_;
  bool owned_;
};

class StreamSource : public ByteSource {
 public:
  explicit StreamSource(std::istream& in) : in_(in) {}
  std::size_t read(char* to, std::size_t most) override {
    in_.read(to, static_cast<std::streamsize>(most));
    return static_cast<std::size_t>(in_.gcount());
  }

 private:
  std::istream& in_;
};

bool ends_with(const std::string& text, std::string_view end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

/// Paths as given, folders opened up.
std::vector<BatchInput> inputs_of(const std::vector<std::string>& paths, std::ostream& err) {
  std::vector<BatchInput> inputs;
  for (const std::string& path : paths) {
    struct stat info {};
    if (path == "-" || ::stat(path.c_str(), &info) != 0 || !S_ISDIR(info.st_mode)) {
      inputs.push_back({path, path == "-" || ends_with(path, ".jsonl")});
      continue;
    }
    std::string fault;
    for (std::string& file : survey_files(path, fault))
      if (!ends_with(file, "/record.json")) inputs.push_back({file, ends_with(file, ".jsonl")});  // of `inspect`, beside its survey
    if (fault.empty()) continue;
    err << "overjoist: " << printable(path) << ": " << fault << "\n";
    inputs.push_back({path, false});  // its record says so too
  }
  return inputs;
}

/// Reads a file by its descriptor into a text that keeps its room from one survey to the next.
std::string read_survey_file(const std::string& path, std::string& text) {
  text.clear();
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return fmt::format("it cannot be opened: {}", std::strerror(errno));
  constexpr std::size_t kBlock = std::size_t{16} * 1024, kMost = std::size_t{16} * 1024 * 1024;
  std::string fault;
  for (std::size_t done = 0;;) {
    text.resize(done + kBlock);
    const ssize_t n = ::read(fd, text.data() + done, kBlock);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) fault = fmt::format("it cannot be read: {}", std::strerror(errno));
    done += n > 0 ? static_cast<std::size_t>(n) : 0;
    text.resize(done);
    if (n <= 0 || done > kMost) break;
  }
  ::close(fd);
  return fault;
}

/// Name of a record's file: its number in the input, so that names never meet, and the input's own name.
std::string record_name(std::size_t number, const std::string& path, std::size_t line) {
  const std::string base = path == "-" ? "stdin" : path.substr(path.find_last_of('/') + 1);
  const std::string stem = base.substr(0, base.find_last_of('.'));
  return line > 0 ? fmt::format("{:08}-{}-line-{}.json", number + 1, stem, line) : fmt::format("{:08}-{}.json", number + 1, stem);
}

/// Name of a survey's page: its number in the input, and what is safe in a name of its id. Letters, digits, '.', '_' and '-' only,
/// so that no id leads out of the folder.
std::string page_name(std::size_t number, const std::string& path, std::size_t line, const std::string& id) {
  constexpr std::size_t kMost = 60;
  if (id.empty()) {
    const std::string name = record_name(number, path, line);
    return name.substr(0, name.size() - std::string_view("json").size()) + "html";
  }
  std::string safe;
  for (const char c : id.substr(0, kMost)) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '_' || c == '-';
    safe += kept ? c : '-';
  }
  return fmt::format("{:08}-{}.html", number + 1, safe);
}

class Ports {
 public:
  Ports(const BatchCommandOptions& options, const Streams& streams) : options_(options), streams_(streams) {}

  BatchPorts ports() {
    BatchPorts p;
    p.open_lines = [this](const BatchInput& input, std::string& fault) { return open(input, fault); };
    p.read_file = read_survey_file;
    p.write = [this](std::string_view records) {
      streams_.out.write(records.data(), static_cast<std::streamsize>(records.size()));
      return static_cast<bool>(streams_.out.flush());
    };
    if (!options_.folder.empty())
      p.write_file = [this](std::size_t number, const std::string& path, std::size_t line, std::string_view record) {
        const std::string fault = write_whole_file(options_.folder + "/" + record_name(number, path, line), std::string(record));
        if (fault.empty())
          ++files_;
        else
          set_fault(fault);
        return fault.empty();
      };
    if (!options_.html_folder.empty())
      p.write_page = [this](std::size_t number, const std::string& path, std::size_t line, const std::string& id, const std::string& page) {
        const std::string fault = write_whole_file(options_.html_folder + "/" + page_name(number, path, line, id), page);
        if (!fault.empty()) set_fault(fault);
        return fault.empty();
      };
    if (streams_.terminal.progress) p.progress = [this](std::size_t n) { show(n); };
    return p;
  }
  /// What went wrong with the output, and how much surely got out before: records are counted a chunk at a time, and a
  /// ranking is written at the end only. Nothing is said where no count is sure.
  std::string words_for_failure(const BatchSummary& summary) const {
    const std::string what = fault_.empty() ? "standard output" : fault_;
    const std::size_t done = !options_.folder.empty() ? files_.load() : options_.rank.empty() ? summary.read : 0;
    return done == 0 ? what : fmt::format("{}; at least {} records were written in full before that", what, done);
  }

 private:
  void set_fault(const std::string& fault) {
    const std::lock_guard<std::mutex> lock(fault_mutex_);
    fault_ = fault;
  }

  ByteSource* open(const BatchInput& input, std::string& fault) {
    if (input.path == "-") {
      if (streams_.terminal.input >= 0)
        source_ = std::make_unique<DescriptorSource>(streams_.terminal.input, false);
      else
        source_ = std::make_unique<StreamSource>(streams_.in);
      return source_.get();
    }
    const int fd = ::open(input.path.c_str(), O_RDONLY | O_CLOEXEC);
    if (fd < 0) {
      fault = fmt::format("it cannot be opened: {}", std::strerror(errno));
      return nullptr;
    }
    source_ = std::make_unique<DescriptorSource>(fd, true);
    return source_.get();
  }

  void show(std::size_t n) {
    if (n < shown_ + 1000) return;
    shown_ = n;
    streams_.err << "\r" << n << " surveys" << std::flush;
  }

  const BatchCommandOptions& options_;
  const Streams& streams_;
  std::unique_ptr<ByteSource> source_;
  std::string fault_;
  std::mutex fault_mutex_;
  std::atomic<std::size_t> files_{0};
  std::size_t shown_ = 0;
};

BatchOptions engine_options(const BatchCommandOptions& o) {
  BatchOptions e;
  if (o.common.format == "csv") e.format = o.rows == "section" ? BatchFormat::csv_sections : BatchFormat::csv_surveys;
  if (!o.rank.empty())
    e.rank = o.rank == "ua-lost" ? RankKey::ua_lost
             : o.rank == "r-gap" ? RankKey::r_gap
             : o.rank == "bags"  ? RankKey::bags
                                 : RankKey::saving_per_cost;
  e.units = o.common.unit_system();
  e.jobs = o.jobs > 0 ? static_cast<std::size_t>(o.jobs) : std::max(1U, std::thread::hardware_concurrency());
  e.raw_text = o.raw_text;
  e.stop = &caught_signal;
  return e;
}

/// Exit code of a batch that was not interrupted and could write.
int verdict(const BatchCommandOptions& o, const BatchSummary& s) {
  if (s.bugs > 0) return kBug;
  if (s.rejected > 0 && !o.rejects_ok) return s.done == 0 ? kNoneUsable : kSomeRejected;
  if (o.common.fail_on.empty()) return kDone;
  const std::size_t level = o.common.fail_on == "stop" ? 0 : o.common.fail_on == "fix-first" ? 1 : 2;
  return s.flagged[level] > 0 ? kSomeRejected : kDone;
}

std::string span_words(const KnownSum& sum) {
  return sum.records == 0 ? "not known" : fmt::format("{:.0f} to {:.0f} in {}", sum.low, sum.high, sum.records);
}

/// What the records need and save, low end to high end, over the records that know it; a line for each currency.
std::vector<std::string> sums_lines(const BatchSummary& s) {
  std::vector<std::string> lines;
  if (s.bags.records > 0) lines.push_back("bags " + span_words(s.bags));
  for (const CurrencySums& m : s.money)
    lines.push_back(fmt::format("money{}{}: cost {}, yearly saving {}", m.currency.empty() ? "" : " in ", printable(m.currency),
                                span_words(m.cost), span_words(m.annual_saving)));
  if (s.worse > 0)
    lines.push_back(
        fmt::format("{} {} the attic worse than found: in no sum and no rank", s.worse, s.worse == 1 ? "plan leaves" : "plans leave"));
  if (s.money_left_out > 0) lines.push_back(fmt::format("money of {} records in further currencies is in no sum", s.money_left_out));
  return lines;
}

int misuse(const Streams& streams, const char* what) {
  streams.err << "overjoist: " << what << "\nSee overjoist batch --help.\n";
  return kUsage;
}

/// Where address space is limited, all threads share one heap: each further one would ask for 64 MiB of it, again and again.
void spare_address_space() {
#ifdef M_ARENA_MAX
  rlimit limit{};
  if (::getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY) ::mallopt(M_ARENA_MAX, 1);
#endif
}

}  // namespace

int batch(const BatchCommandOptions& options, const Streams& streams) {
  if (!options.rank.empty() && (options.common.format == "csv" || !options.folder.empty()))
    return misuse(streams, "--rank writes short JSON records; it does not go with --format csv or --to");
  if (!options.rank.empty() && !options.html_folder.empty())
    return misuse(streams, "--html-folder writes reports beside the records; it does not go with --rank");
  if (!options.folder.empty() && options.common.format == "csv")
    return misuse(streams, "--to writes JSON files; it does not go with --format csv");
  const auto tables = load_tables(options.common, streams.err);
  if (!tables) return kNoneUsable;
  for (const std::string& folder : {options.folder, options.html_folder}) {
    if (folder.empty() || ::mkdir(folder.c_str(), 0777) == 0 || errno == EEXIST) continue;
    streams.err << "overjoist: output could not be written: " << printable(folder) << ": " << std::strerror(errno) << "\n";
    return kOutputFailed;
  }
  spare_address_space();
  const auto start = std::chrono::steady_clock::now();
  const SignalGuard guard;
  Ports ports(options, streams);
  const BatchSummary s = run_batch(inputs_of(options.paths, streams.err), engine_options(options), ports.ports(), *tables);
  const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;
  if (streams.terminal.progress) streams.err << "\r";
  if (s.write_failed) {
    streams.err << "overjoist: output could not be written: " << printable(ports.words_for_failure(s)) << "\n";
    return kOutputFailed;
  }
  streams.err << fmt::format("read {}, done {}, rejected {}, stop-level {}, blank lines {}, {:.1f} s\n", s.read, s.done, s.rejected,
                             s.stop_level, s.blank_lines, seconds.count());
  for (const std::string& line : sums_lines(s)) streams.err << line << "\n";
  if (s.bugs > 0) streams.err << "overjoist: " << s.bugs << " refused by a bug in the program; their records say so\n";
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
