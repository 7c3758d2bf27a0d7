// SPDX-License-Identifier: MIT
#include <ostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"

namespace overjoist::cli {
namespace {

/// Puts the results of several surveys into one text.
class Listing {
 public:
  Listing(const GoodsOptions& options, const Tables& tables, const GoodsStyle& style)
      : format_(options.common.format),
        several_(options.surveys.size() > 1),
        tables_(tables),
        style_(style) {
    if (format_ == "csv") write_goods_csv_header(text_, style);
    if (format_ == "json" && several_) text_ += "[\n";
  }
  void done(const Evaluation& e, const std::string& path) {
    between();
    if (format_ == "csv") return write_goods_csv(text_, e, tables_, {path, 0}, style_);
    if (format_ == "json") return write_goods_json(text_, e, tables_, style_);
    if (format_ == "html") return write_goods_html(text_, e, tables_, style_);
    write_goods_text(text_, e, tables_, style_);
  }
  /// In JSON a record of its own; else the message on standard error is all there is.
  void refused(const Outcome& outcome, const std::string& path) {
    if (format_ != "json") return;
    between();
    write_rejected_json(text_, outcome.id, outcome.faults, true, {path, 0});
  }
  std::string finished() {
    if (format_ == "json") text_ += several_ ? "\n]\n" : "\n";
    return std::move(text_);
  }

 private:
  void between() {
    if (!first_ && format_ != "csv") text_ += format_ == "json" ? ",\n" : "\n\n";
    first_ = false;
  }
  std::string text_;
  const std::string& format_;
  bool several_, first_ = true;
  const Tables& tables_;
  const GoodsStyle& style_;
};

}  // namespace

int goods(const GoodsOptions& options, const Streams& streams) {
  if (several_pages(options.common.format, options.surveys.size(), streams.err)) return kUsage;
  std::vector<std::string> inputs = options.surveys;
  for (const std::string& file : files_of(options.common)) inputs.push_back(file);
  if (outputs_meet({{"--output", options.common.output_file}}, inputs, streams)) return kUsage;
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  const bool colour =
      streams.terminal.colour && !options.common.no_color && options.common.to_standard_output();
  const GoodsStyle style{options.common.unit_system(), colour, !options.no_prices,
                         options.raw_text};
  Listing listing(options, basics->tables, style);
  std::size_t used = 0;
  bool flagged = false, bug = false;
  for (const std::string& path : options.surveys) {
    const Outcome outcome = assess_file(path, options.common, *basics, streams.in);
    if (outcome.evaluation) {
      ++used;
      flagged = flagged || fails_on(*outcome.evaluation, options.common.fail_on);
      listing.done(*outcome.evaluation, path);
      continue;
    }
    bug = bug || outcome.bug;
    std::string message;
    write_faults_text(message, path, outcome.faults);
    streams.err << message;
    listing.refused(outcome, path);
  }
  if (used == 0 && options.common.format != "json") return bug ? kBug : kNoneUsable;
  const int delivered = deliver(listing.finished(), options.common.output_file, streams,
                                options.common.format == "csv" ? Cut::after_rows : Cut::nowhere);
  if (delivered != kDone) return delivered;
  if (bug) return kBug;
  if (used == 0) return kNoneUsable;
  return used < options.surveys.size() || flagged ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
