// SPDX-License-Identifier: MIT
#include "cli/batch_counts.hpp"

#include <fmt/core.h>

#include <ostream>
#include <string>
#include <vector>

#include "cli/files.hpp"
#include "cli/outputs.hpp"

namespace overjoist::cli {
namespace {

std::string span_words(const KnownSum& sum) {
  return sum.records == 0 ? "not known"
                          : fmt::format("{:.0f} to {:.0f} in {}", sum.low, sum.high, sum.records);
}

/// What the records need and save, low end to high end, over the records that know it; a line for
/// each currency.
std::vector<std::string> sums_lines(const BatchSummary& s) {
  std::vector<std::string> lines;
  if (s.bags.records > 0) lines.push_back("bags " + span_words(s.bags));
  for (const CurrencySums& m : s.money) {
    lines.push_back(fmt::format("money{}{}: cost {}, yearly saving {}",
                                m.currency.empty() ? "" : " in ", printable(m.currency),
                                span_words(m.cost), span_words(m.annual_saving)));
    if (m.saving_unpriced.records > 0)
      lines.back() += fmt::format(
          "; left out of both: slopes, knee walls and lids whose work has no price, saving {}",
          span_words(m.saving_unpriced));
  }
  if (s.worse > 0)
    lines.push_back(fmt::format("{} {} the attic worse than found: in no sum and no rank", s.worse,
                                s.worse == 1 ? "plan leaves" : "plans leave"));
  if (s.money_left_out > 0)
    lines.push_back(fmt::format("money of {} record{} in further currencies is in no sum",
                                s.money_left_out, s.money_left_out == 1 ? "" : "s"));
  if (s.skipped_links + s.skipped_odd > 0)
    lines.push_back(
        fmt::format("passed over in folders: {} link{} to folders, {} {}", s.skipped_links,
                    s.skipped_links == 1 ? "" : "s", s.skipped_odd,
                    s.skipped_odd == 1 ? "pipe, socket or device" : "pipes, sockets or devices"));
  return lines;
}

}  // namespace

void tell_counts(const BatchSummary& s, double seconds, std::ostream& err) {
  err << fmt::format("read {}, done {}, rejected {}, stop-level {}, blank lines {}, {:.1f} s\n",
                     s.read, s.done, s.rejected, s.stop_level, s.blank_lines, seconds);
  for (const std::string& line : sums_lines(s)) err << line << "\n";
  if (s.spread_out > 0)
    err << fmt::format(
        "overjoist: {} on several lines, where batch reads one survey a line: put it on one line "
        "(jq -c . does), or give it to overjoist "
        "assess\n",
        s.spread_out == 1 ? "a survey stands" : fmt::format("{} surveys stand", s.spread_out));
  if (s.bugs > 0)
    err << "overjoist: " << s.bugs << " refused by a bug in the program; their records say so\n";
}

}  // namespace overjoist::cli
