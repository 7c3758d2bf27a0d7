// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "inspect/parts.hpp"
#include "overjoist/clearing.hpp"

// The survey as the record changes it, and what is said of where both differ.
namespace overjoist::parts {

const RecordSection* recorded(const Record& record, const std::string& name) {
  for (const RecordSection& s : record.sections)
    if (s.name == name) return &s;
  return nullptr;
}

Survey with_record(const Survey& survey, const Record& record, const Tables& tables) {
  Survey s = survey;
  s.compare.clear();
  s.claims.clear();
  s.job_date = record.date;
  for (Hazard& h : implied_hazards(survey, tables)) s.hazards.push_back(std::move(h));
  for (Hazard& h : s.hazards) {
    if (is_cleared(h, s, tables)) continue;
    if (const ClearedHazard* c = paper_for(h, s, record, tables)) h = with_paper(h, *c);
  }
  s.papers.insert(s.papers.end(), record.papers.begin(), record.papers.end());
  const auto any = [&](auto has) {
    return std::any_of(record.sections.begin(), record.sections.end(), has);
  };
  if (record.bags || any([](const RecordSection& x) { return x.bags.has_value(); }))
    s.papers.emplace_back("bag-count");
  if (any([](const RecordSection& x) { return !x.depths.empty(); }))
    s.papers.emplace_back("depth-readings");
  return s;
}

bool use_record(Survey& s, const Record& record) {
  bool changed =
      record.product || !record.material.empty() || record.bag_net || record.waste_percent;
  if (changed) s.proposal = used_proposal(s, record);
  for (Section& section : s.sections)
    if (const RecordSection* r = recorded(record, section.name);
        r && r->area && *r->area > section.area) {
      section.area = *r->area;
      changed = true;
    }
  return changed;
}

void say_differences(const Survey& survey, const Record& record, Notes& notes) {
  for (const Section& section : survey.sections) {
    const RecordSection* r = recorded(record, section.name);
    if (!r || !r->area || *r->area == section.area) continue;
    notes.assume(*r->area < section.area ? "built-area-smaller" : "built-area-larger", section.name,
                 {{"surveyed", section.area}, {"recorded", *r->area}});
  }
  for (const ClearedHazard& c : record.cleared)
    if (c.where.empty() && hazards_of_kind(survey, c.kind) > 1)
      notes.assume("built-clearance-unplaced", "", {{"value", c.kind}});
}

void say_terms(const Inspection& in, const Record& record, const Bags& bags, const Blow& blow,
               Notes& notes) {
  const auto by_inches = [](const SectionInspection& s) { return s.sold.has_value(); };
  const bool inches_alone =
      std::all_of(in.sections.begin(), in.sections.end(),
                  [&](const SectionInspection& s) { return by_inches(s) || !is_blown(s.plan); });
  if (std::any_of(in.sections.begin(), in.sections.end(), by_inches))
    notes.assume("built-sold-inches");
  if (!record.sold && !inches_alone)
    notes.assume(in.sold_by_quote ? "built-sold-quote" : "built-sold-high", "",
                 {{"value", in.target}});
  if (!record.product && record.material.empty())
    notes.assume("built-fill-as-proposed", "", {{"value", blow.name}});
  if (blow.method == Method::blown && blow.waste > 0)
    notes.assume("built-waste", "", {{"value", blow.waste * 100.0}});
  if (bags.rest) notes.assume("built-bags-shared");
  if (bags.with_cavity) notes.assume("built-bags-with-cavity");
  if (bags.unplaced && *bags.unplaced > 0)
    notes.assume("built-bags-unplaced", "", {{"value", *bags.unplaced}});
  const bool layer = std::any_of(in.sections.begin(), in.sections.end(),
                                 [](const SectionInspection& s) { return s.layer.r.has_value(); });
  if (layer) notes.assume("built-even-layer");
  if (layer && !blow.fill.chart) notes.assume("built-no-chart");
}

}  // namespace overjoist::parts
