// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "read/shapes.hpp"

// What a proposal contradicts: what is blown, its chart, and the work beside it.
namespace overjoist::io {
namespace {

/// A row whose own figures are in order can still contradict the row below it or the bag.
void check_chart(Reader& r, const Proposal& proposal, double settling, const std::string& at) {
  const auto& rows = proposal.product->chart;
  const auto refusal = refusal_of([&] { CoverageChart(rows, *proposal.bag_net, settling); });
  if (!refusal) return;
  const auto is_named = [&](const ChartRow& row) {
    return refusal->where() == fmt::format("chart row R-{:g}", row.r.us());
  };
  const auto named = std::find_if(rows.begin(), rows.end(), is_named);
  const std::string row =
      named == rows.end() ? std::string() : '/' + std::to_string(named - rows.begin());
  r.fault_at(at + "/product/chart" + row,
             make_fault<F::chart_contradiction>(refusal->what(), refusal->hint()));
}

/// Share by which a fill settles, < 0 if no figure is known.
double settling_of(const Material* m) {
  if (!m) return -1.0;
  return m->settling_high ? *m->settling_high : m->settling_low.value_or(-1.0);
}

void check_fill(Reader& r, const Tables& tables, const Material& m, const std::string& pointer,
                bool has_chart) {
  if (m.existing_only || tables.hands_off(m))
    r.fault_at(pointer, make_fault<F::fill_existing>(m.id));
  else if (m.form != Form::loose && m.form != Form::spray)
    r.fault_at(pointer, m.form == Form::batt || m.form == Form::board
                            ? make_fault<F::fill_laid>(m.id)
                            : make_fault<F::fill_not_blown>(m.id));
  else if (m.form == Form::spray && has_chart)
    r.fault_at(pointer, make_fault<F::chart_of_foam>(m.id));
  else if (m.form == Form::loose && !has_chart && settling_of(&m) < 0)
    r.fault_at(pointer, make_fault<F::settling_unknown>(m.id));
  else if (!has_chart && !m.central())
    r.fault_at(pointer, make_fault<F::no_r_per_inch>(m.id));
}

/// Foam is sprayed on the bare ceiling: what stays there is a contradiction.
void check_bare(Reader& r, const SurveyBuild& build, const std::string& pointer) {
  for (const Section& s : build.survey.sections) {
    if (!is_floor(s.kind) || s.below.value_or(Below::heated) == Below::unheated) continue;
    const bool bare =
        !s.readings.empty() &&
        std::all_of(s.readings.begin(), s.readings.end(), [](const Reading& reading) {
          return !reading.flush && std::max(reading.depth, reading.depth_to) == Length{};
        });
    const bool stays = std::any_of(s.layers.begin(), s.layers.end(), [](const Layer& l) {
      return l.condition == Condition::sound || l.condition == Condition::voids;
    });
    if (bare || !stays) continue;
    return r.fault_at(pointer, make_fault<F::foam_on_fill>(shortened(s.name)));
  }
}

void check_extras(Reader& r, const Survey& survey, const std::vector<Extra>& extras,
                  const std::string& pointer) {
  for (std::size_t i = 0; i < extras.size(); ++i)
    for (std::size_t k = 0; k < extras[i].covers.size(); ++k) {
      const std::string& name = extras[i].covers[k];
      const auto s = std::find_if(survey.sections.begin(), survey.sections.end(),
                                  [&](const Section& x) { return x.name == name; });
      const std::string here = fmt::format("{}/{}/covers/{}", pointer, i, k);
      if (s == survey.sections.end())
        r.fault_at(here, make_fault<F::cover_of_no_section>(shortened(name)));
      else if (is_floor(s->kind))
        r.fault_at(here, make_fault<F::cover_of_floor>(shortened(name)));
    }
}

}  // namespace

void check_proposal(Reader& r, const SurveyBuild& build, const Proposal& proposal,
                    const std::string& at) {
  check_extras(r, build.survey, proposal.extras, at + "/extras");
  if (!proposal.batts.empty()) return check_batts(r, build, proposal.batts, at + "/batts");
  const std::string pointer = at + "/material";
  const Material* m = proposal.material.empty()
                          ? nullptr
                          : known_material(r, build, proposal.material, pointer, Place::fill);
  if (m) check_fill(r, *build.tables, *m, pointer, proposal.product.has_value());
  if (m && m->form == Form::spray) check_bare(r, build, pointer);
  if (!proposal.product || (!m && !proposal.material.empty())) return;
  const auto& rows = proposal.product->chart;
  const auto lacking =
      std::find_if(rows.begin(), rows.end(), [](const ChartRow& row) { return !row.initial; });
  const double settling = settling_of(m);
  if (lacking != rows.end() && settling < 0)
    r.fault_at(fmt::format("{}/product/chart/{}", at, lacking - rows.begin()),
               make_fault<F::chart_without_initial>());
  else
    check_chart(r, proposal, std::max(settling, 0.0), at);
}

}  // namespace overjoist::io
