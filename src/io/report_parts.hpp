// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

#include "io/page.hpp"
#include "io/words.hpp"
#include "overjoist/report.hpp"

/// The parts of the text report, each in its own file, and what they share.
namespace overjoist::io {

/// Column at which the answer and the lines below a section's heading begin.
inline constexpr std::size_t kHang = 12;

/// What every part of the report needs.
struct Report {
  Page& page;
  const Evaluation& e;
  const Tables& tables;
  Units units;

  std::string r(Resistance value) const { return r_text(value, units); }        ///< worked out
  std::string target(Resistance value) const { return r_label(value, units); }  ///< asked for
  bool one_target() const { return e.target.low == e.target.high; }
};

/// False for a hatch too: it may be said to meet the target, but nothing is blown on it.
bool takes_fill(const SectionResult& s);
/// True if both ends of the band take no bags: all is met, or nothing fits.
bool nothing_to_do(const Evaluation& e);
/// True if a section cannot reach this end of the band: bags and cost are then for the best that fits.
bool out_of_reach(const Evaluation& e, TopUpResult SectionResult::*end);
/// The cautions of one level in a few words, each once: "blocked soffit vents (east eave); ...".
std::string short_list(const Report& c, CautionLevel level);

/// One caution with its place, who decides and what clears it, or who cleared it.
std::string caution_words(const Caution& caution, const CautionRow& row, Units units);
/// What stops the work, above all numbers. Nothing if nothing does.
void write_stop_banner(const Report& c);
/// What is there, what is wanted, what to add, what it takes.
void write_answer(const Report& c);
/// Readiness, sealing list, vents and counts.
void write_plan(const Report& c);
/// Cautions, assumptions, sources, tables.
void write_notes(const Report& c);

}  // namespace overjoist::io
