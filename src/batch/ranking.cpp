// SPDX-License-Identifier: MIT
#include "batch/ranking.hpp"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <optional>

#include "write/json/writer.hpp"

namespace overjoist {
namespace {

bool is_worse(const Evaluation& e) {
  return either(e.planned, [](const Planned& job) { return job.totals.worse; });
}

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

}  // namespace

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

Ranked ranked(const Origin& origin, const Outcome& outcome, RankKey key) {
  Ranked r;
  if (!outcome.evaluation) {
    write_rejected_json(r.record, outcome.id, outcome.faults, false, origin);
    return r;
  }
  const Evaluation& e = *outcome.evaluation;
  r.group = is_worse(e) ? 1 : 2;
  r.value = rank_value(e, key);
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

void sort_ranking(std::vector<Ranked>& list) {
  std::stable_sort(list.begin(), list.end(), [](const Ranked& a, const Ranked& b) {
    return a.group != b.group ? a.group > b.group : a.group == 2 && a.value > b.value;
  });
}

}  // namespace overjoist
