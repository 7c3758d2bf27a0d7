// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/ends.hpp"
#include "overjoist/inspect.hpp"
#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

/// From surveys' texts to their outcomes: one survey (`assess_text`, which every command runs), or
/// thousands in one pass with bounded memory, in input order, with the same bytes out for any
/// number of workers and any chunking. Command line: `overjoist batch`.
namespace overjoist {

struct Outcome {
  std::optional<Evaluation> evaluation;  ///< empty if the survey was refused
  std::string id;                        ///< as far as it was read
  Diagnostics faults;                    ///< why it was refused
  bool bug = false;                      ///< refused since the program itself is at fault
};

/// Reads and evaluates one survey. Never throws for a fault of the survey.
/// @param compare  ids of materials that it is compared with, beside the survey's own list
/// @param rebates  rules to hold against it, beside the survey's own
Outcome assess_text(std::string_view text, const Tables& tables,
                    const std::vector<std::string>& compare = {},
                    const std::vector<RebateRule>& rebates = {});

/// A survey with its record, held against each other.
struct PairOutcome {
  std::optional<Inspection> inspection;  ///< empty if either was refused
  std::string id;                        ///< of the survey, as far as it was read
  Diagnostics survey_faults, record_faults;
  bool bug = false;
};
/// Reads both and inspects. Never throws for a fault of either.  @param rebates  rules beside the
/// survey's own
PairOutcome inspect_texts(std::string_view survey_text, std::string_view record_text,
                          const Tables& tables, const std::vector<RebateRule>& rebates = {});

/// A stream of bytes; the batch reads it from one thread at a time.
class ByteSource {
 public:
  virtual ~ByteSource() = default;
  /// Reads up to `most` bytes.  @returns bytes read; 0 at the end, on a fault, or when a signal
  /// came in between
  virtual std::size_t read(char* to, std::size_t most) = 0;
  /// Why the last read gave nothing; "" at the plain end.
  virtual std::string fault() const { return ""; }
};

/// One input: a file that is one survey, or a stream with one survey a line.
struct BatchInput {
  std::string path;  ///< as shown in records; "-" is standard input
  bool lines = false;
};

/// How the batch reaches the outside; the functions are called from worker threads, one call at a
/// time for `open_lines` and `write`, in parallel for `read_file` and `write_file`.
struct BatchPorts {
  /// A stream of lines, or null and the reason in `fault`.
  std::function<ByteSource*(const BatchInput&, std::string& fault)> open_lines;
  /// A whole file into `text` (which is emptied first).  @returns "" or the reason why not
  std::function<std::string(const std::string& path, std::string& text)> read_file;
  /// Finished records, whole ones only, in order.  @returns false if they could not be written: the
  /// batch ends
  std::function<bool(std::string_view)> write;
  /// One record as a file of its own, called instead of `write` if set.  @param line  0 where the
  /// whole file is one survey
  std::function<bool(const std::string& path, std::size_t line, std::string_view record)>
      write_file;
  /// The owner's report of a survey that was not refused, as a page; called beside `write` if set.
  /// @returns false: the batch ends
  std::function<bool(const std::string& path, std::size_t line, const std::string& id,
                     const std::string& page)>
      write_page;
  /// Called after each chunk with the records done so far; may be empty.
  std::function<void(std::size_t)> progress;
};

enum class BatchFormat { json_lines, csv_surveys, csv_sections };
enum class RankKey { none, ua_lost, r_gap, bags, saving_per_cost };

struct BatchOptions {
  BatchFormat format = BatchFormat::json_lines;
  RankKey rank = RankKey::none;
  Units units = Units::us;
  std::size_t jobs = 1;
  bool raw_text = false;                   ///< no CSV guard
  std::vector<std::string> compare;        ///< ids of materials that each survey is compared with
  std::vector<RebateRule> rebates;         ///< rules to hold against each survey
  const std::atomic<int>* stop = nullptr;  ///< becomes non-zero to end after the records at hand
};

/// Sums of a figure that not every record knows: over how many it goes stands beside it.
struct KnownSum {
  std::size_t records = 0;
  double low = 0.0, high = 0.0;                      ///< for each end of the target band
  void add(const Ends<std::optional<double>>& one);  ///< both known, or nothing is added
};

/// Money of one currency: amounts of several are never added up.
struct CurrencySums {
  std::string currency;          ///< as the surveys give it; "" where they give none
  KnownSum cost, annual_saving;  ///< the saving that is set against the cost
  KnownSum saving_unpriced;      ///< of work without a price, beside it
};

/// What one record adds to the portfolio.
struct RecordFacts {
  bool done = false, bug = false, stop_level = false,
       flagged[3] = {false, false,
                     false};  ///< flagged: a caution of level stop, fix-first, care or above
  double area_ft2 = 0, ua_existing = 0;
  Ends<double> ua{};
  std::string currency;
  Ends<std::optional<double>> bags, cost, saving;  ///< empty: not known
  Ends<std::optional<double>> unpriced;            ///< saving of work without a price
  bool worse = false;  ///< either end leaves the attic worse than found: in no sum
};

struct BatchSummary {
  std::size_t read = 0, done = 0, rejected = 0, stop_level = 0, blank_lines = 0;
  std::size_t flagged[3] = {0, 0,
                            0};  ///< records with a caution of level stop, fix-first, care or above
  double area_ft2 = 0, ua_existing = 0;
  Ends<double> ua{}, least_bags{};  ///< least: where a record does not know its bags, they are 0
  KnownSum bags;
  std::vector<CurrencySums> money;  ///< of records that know a cost or a saving, in the order of
                                    ///< their first record, at most 32
  std::size_t money_left_out = 0;   ///< records of still further currencies
  bool write_failed = false;
  std::size_t spread_out = 0;  ///< refused surveys that stand on several lines of a stream
  std::size_t skipped_links = 0, skipped_odd = 0;  ///< in folders: links to folders; pipes,
                                                   ///< sockets, devices. Set by who opens them
  std::size_t worse = 0;  ///< done records whose plan leaves the attic worse than found: counted
                          ///< here, in no sum and no rank
  std::size_t bugs = 0;   ///< refused records where the program itself is at fault
  void add(const RecordFacts& facts);
};

/// Runs all inputs. One record out for each record in, in input order, bad ones too. With `rank`,
/// one short record a survey, greatest first, then those whose plan leaves the attic worse than
/// found, then the refused ones in input order; only then does memory grow with the count.
BatchSummary run_batch(const std::vector<BatchInput>& inputs, const BatchOptions& options,
                       const BatchPorts& ports, const Tables& tables);

/// The summary as one JSON object, without any clock.
void write_summary_json(std::string& out, const BatchSummary& summary);

}  // namespace overjoist
