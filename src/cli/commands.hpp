// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/app.hpp"
#include "cli/exit_codes.hpp"
#include "cli/files.hpp"
#include "overjoist/batch.hpp"
#include "overjoist/report.hpp"

/// Options of each command, filled by app.cpp, and the commands themselves.
namespace overjoist::cli {

struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  Terminal terminal;
};

/// Declared once for all commands that share them. The first five are the evaluation options: every
/// command that evaluates takes them, so that none works by other means than another shows.
struct CommonOptions {
  std::string units = "us";                 ///< us | si
  std::string materials_file;               ///< a user's material table
  std::string framing_method = "parallel";  ///< parallel | planes | mean | two-column
  std::vector<std::string> rebates;         ///< files of rebate rules
  std::vector<std::string> compare;         ///< ids of materials
  std::string format = "text";              ///< text | json | csv | html
  std::string output_file;                  ///< "" is standard output
  std::string fail_on;                      ///< "", stop, fix-first, care
  bool no_color = false;
  bool to_standard_output() const { return output_file.empty() || output_file == "-"; }
  Units unit_system() const { return units == "si" ? Units::si : Units::us; }
};

struct AssessOptions {
  CommonOptions common;
  std::string rows = "survey";  ///< of CSV: survey | section
  bool raw_text = false;
  std::vector<std::string> surveys;  ///< "-" is standard input
};

struct BatchCommandOptions {
  CommonOptions common;            ///< format: json | csv
  std::vector<std::string> paths;  ///< files, folders, *.jsonl, "-"
  std::string rows = "survey";     ///< of CSV: survey | section
  std::string folder;              ///< --to: a file for each record
  std::string html_folder;         ///< a report as a page for each survey that was not refused
  std::string summary_file, rank;
  std::string name;  ///< of standard input in the names of result files
  int jobs = 0;      ///< 0: one for each core
  bool rejects_ok = false, raw_text = false;
};

struct QuickOptions {
  CommonOptions common;
  std::string area, bare, material, joist, spacing, ceiling, zone, target_low, target_high, add,
      bag_lb, bag_price, label_r, thickness, labour_per_ft2, currency, fuel, efficiency, cop,
      fuel_price, degree_days;
  std::vector<std::string> depths;
  std::string save_file;
  bool force = false;  ///< --save may write over a file
};

struct OrderOptions {
  CommonOptions common;
  std::string survey;                      ///< "-" is standard input
  std::string target = "high";             ///< end of the band to build: low | high
  bool prices = false, no_prices = false;  ///< neither: with prices
};

struct GoodsOptions {
  CommonOptions common;
  std::vector<std::string> surveys;        ///< "-" is standard input
  bool prices = false, no_prices = false;  ///< neither: with prices
  bool raw_text = false;
};

struct InspectOptions {
  CommonOptions common;  ///< format: text | html | json | jsonl | csv; fail_on may be "short"
  std::vector<std::string> paths;  ///< survey and record in turn, or folders
  bool receipt = false, raw_text = false;
};

struct FormOptions {
  std::string format = "json";  ///< json | html
  std::string output_file;      ///< "" is standard output
  bool force = false;           ///< may write over a file
};

int form(const FormOptions& options, const Streams& streams);
int assess(const AssessOptions& options, const Streams& streams);
int batch(const BatchCommandOptions& options, const Streams& streams);
int check(const AssessOptions& options, const Streams& streams);
int quick(const QuickOptions& options, const Streams& streams);
int materials(const CommonOptions& options, const Streams& streams);
int order(const OrderOptions& options, const Streams& streams);
int goods(const GoodsOptions& options, const Streams& streams);
int inspect(const InspectOptions& options, const Streams& streams);

/// Tables in use: the embedded ones and the user's; empty after a message on `err` if the user's
/// table is faulty.
std::optional<Tables> load_tables(const CommonOptions& options, std::ostream& err);
/// What every survey is evaluated by.
struct Basics {
  Tables tables;
  std::vector<RebateRule> rebates;
};
/// The tables and the rules of rebates that the options name; empty after a fault, which is told.
std::optional<Basics> load_basics(const CommonOptions& options, std::ostream& err);
/// The files that the options name.
std::vector<std::string> files_of(const CommonOptions& options);
/// Reads and evaluates one survey file; "-" is standard input.
Outcome assess_file(const std::string& path, const CommonOptions& options, const Basics& basics,
                    std::istream& in);
/// True if a caution at or above the level named by --fail-on stands in the evaluation.
bool fails_on(const Evaluation& evaluation, const std::string& level);
/// Writes one evaluation in the format and units asked for.
void write_evaluation(std::string& text, const Evaluation& evaluation, const Tables& tables,
                      const CommonOptions& options, const Streams& streams);
/// True, and told, if several surveys are to make one page.
bool several_pages(const std::string& format, std::size_t surveys, std::ostream& err);
/// Puts the finished text on standard output ("" or "-") or, whole or not at all, in the file.
/// @param cut  where standard output may break off, if it is a file and not all can be written
int deliver(const std::string& text, const std::string& output_file, const Streams& streams,
            Cut cut = Cut::nowhere);
/// Writes to standard output.  @returns false if not all was written
bool put_out(std::string_view text, const Streams& streams, Cut cut);

}  // namespace overjoist::cli
