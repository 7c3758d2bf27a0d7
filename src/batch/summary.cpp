// SPDX-License-Identifier: MIT
#include <algorithm>

#include "overjoist/batch.hpp"
#include "write/json/parts.hpp"

// The sums of a batch and their record.
namespace overjoist {

void KnownSum::add(const Ends<std::optional<double>>& one) {
  if (!both(one, kKnown)) return;
  ++records;
  low += *one.low;
  high += *one.high;
}

namespace {

constexpr std::size_t kMostCurrencies =
    32;  // memory must not grow with what the surveys call their money

void add_money(BatchSummary& s, const RecordFacts& f) {
  if (!both(f.cost, kKnown) && !both(f.saving, kKnown)) return;
  auto at = std::find_if(s.money.begin(), s.money.end(),
                         [&](const CurrencySums& c) { return c.currency == f.currency; });
  if (at == s.money.end()) {
    if (s.money.size() == kMostCurrencies) {
      ++s.money_left_out;
      return;
    }
    at = s.money.insert(at, CurrencySums{f.currency, {}, {}, {}});
  }
  at->cost.add(f.cost);
  at->annual_saving.add(f.saving);
  at->saving_unpriced.add(f.unpriced);
}

}  // namespace

void BatchSummary::add(const RecordFacts& f) {
  ++read;
  ++(f.done ? done : rejected);
  bugs += f.bug ? 1 : 0;
  stop_level += f.stop_level ? 1 : 0;
  for (std::size_t i = 0; i < 3; ++i) flagged[i] += f.flagged[i] ? 1 : 0;
  if (f.worse) {  // what such a plan takes and loses would be hidden in the sums of the others
    ++worse;
    return;
  }
  area_ft2 += f.area_ft2;
  ua_existing += f.ua_existing;
  for (const End end : {End::low, End::high}) {
    ua[end] += f.ua[end];
    least_bags[end] += f.bags[end].value_or(0.0);
  }
  bags.add(f.bags);
  add_money(*this, f);
}

namespace {

void write_known_sum(io::JsonWriter& w, std::string_view key, const KnownSum& sum) {
  const bool known = sum.records > 0;
  w.object(key, [&] {
    w.field("records", static_cast<double>(sum.records));
    io::write_ends(sum, [&](std::string_view end, double value) {
      w.field(end, known ? std::optional(value) : std::nullopt);
    });
  });
}

}  // namespace

void write_summary_json(std::string& out, const BatchSummary& s) {
  io::JsonWriter w(out, true);
  w.object([&] {
    w.field("format", "overjoist-batch-summary");
    w.field("version", 1.0);
    const std::pair<const char*, std::size_t> counts[] = {{"read", s.read},
                                                          {"done", s.done},
                                                          {"rejected", s.rejected},
                                                          {"blank_lines", s.blank_lines},
                                                          {"stop_level", s.stop_level},
                                                          {"skipped_links", s.skipped_links},
                                                          {"skipped_not_files", s.skipped_odd}};
    for (const auto& [key, count] : counts) w.field(key, static_cast<double>(count));
    w.field("area_ft2", s.area_ft2);
    w.field("ua_existing_btu_per_h_f", s.ua_existing);
    io::field_ends(w, s.ua, {"ua_low_btu_per_h_f", "ua_high_btu_per_h_f"});
    io::field_ends(w, s.least_bags, {"bags_low", "bags_high"});
    w.field("bags_known", static_cast<double>(s.bags.records));
    w.objects("money", s.money, [&](const CurrencySums& m) {
      w.field_or_null("currency", m.currency);
      write_known_sum(w, "cost", m.cost);
      write_known_sum(w, "annual_saving", m.annual_saving);
      write_known_sum(w, "annual_saving_unpriced", m.saving_unpriced);
    });
    w.field("money_left_out", static_cast<double>(s.money_left_out));
    w.field("worse", static_cast<double>(s.worse));
  });
  out += '\n';
}

}  // namespace overjoist
