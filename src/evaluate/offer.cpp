// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "evaluate/floor.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/diagnostics.hpp"

namespace overjoist::parts {

bool is_foam(const Material& m) {
  constexpr std::string_view kDamp = "cellulose";  // sprayed damp, and no foam
  return m.form == Form::spray && m.id.find(kDamp) == std::string::npos &&
         m.name.find(kDamp) == std::string::npos;
}

namespace {

const Material* proposal_material(const Proposal& proposal, const Survey& survey,
                                  const Tables& tables) {
  if (proposal.material.empty()) return nullptr;
  const Material* m = survey.material(tables, proposal.material);
  if (!m)
    throw Error(ErrorCode::unknown_name, "proposal",
                fmt::format("material '{}' is not known", proposal.material),
                "see the materials command");
  return m;
}

void fill_from_row(Blow& blow, const Material& m, const Tables& tables, Notes& notes) {
  if (m.existing_only || tables.hands_off(m))
    throw Error(ErrorCode::contradiction, "proposal",
                fmt::format("'{}' is found in attics, it is not blown in", m.id),
                "name a loose-fill material that is sold");
  if (m.form != Form::loose && m.form != Form::spray)
    throw Error(ErrorCode::contradiction, "proposal", fmt::format("'{}' is not blown in", m.id),
                "name a loose fill, or list batts");
  if (!m.central())
    throw Error(ErrorCode::missing, "proposal",
                fmt::format("no R per inch is known for '{}'", m.id), "define it under materials");
  if (m.form == Form::spray) blow.method = Method::sprayed;
  const auto settling = m.form == Form::spray ? std::optional(0.0)
                        : m.settling_high     ? m.settling_high
                                              : m.settling_low;
  if (!settling)
    throw Error(ErrorCode::missing, "proposal",
                fmt::format("no settling is known for '{}', so it is not blown open", m.id),
                "name a loose fill with a settling figure, or define it under materials with "
                "settling_high_percent");
  blow.fill.rho = *m.central();
  blow.fill.settling = *settling;
  blow.fill.density = m.density_high ? m.density_high : m.density_low;
  notes.assume(rho_code(m), "", {{"material", m.name}, {"value", blow.fill.rho}});
  if (blow.method == Method::blown)
    notes.assume("settling", "", {{"material", m.name}, {"value", *settling * 100.0}});
  if (blow.fill.density)
    notes.assume("density-high", "", {{"material", m.name}, {"value", *blow.fill.density}});
  else
    notes.caution("no-density", "proposal", {{"material", m.name}});
  if (is_foam(m))
    notes.caution("spray-foam", "proposal", {{"material", m.name}});
  else
    notes.caution("generic-product", "proposal", {{"material", m.name}});
}

void fill_from_chart(Blow& blow, const Product& product, Notes& notes) {
  const bool all_initial = std::all_of(product.chart.begin(), product.chart.end(),
                                       [](const ChartRow& r) { return r.initial.has_value(); });
  const auto settling = !blow.material                 ? std::nullopt
                        : blow.material->settling_high ? blow.material->settling_high
                                                       : blow.material->settling_low;
  if (!all_initial && !settling)
    throw Error(ErrorCode::missing, "proposal",
                "the chart lacks initial thicknesses and no material names a settling",
                "copy initial_thickness_in from the label, or name the product's material");
  const double settling_share = settling.value_or(0.0);
  blow.chart = CoverageChart(product.chart, blow.bag_net, settling_share);
  blow.fill.chart = &blow.chart;
  blow.chart_deducts_framing = product.chart_deducts_framing;
  if (all_initial)
    notes.assume("settling-of-chart", "", {{"material", blow.name}});
  else
    notes.assume("settling", "",
                 {{"material", blow.material->name}, {"value", settling_share * 100.0}});
  notes.assume(product.chart_deducts_framing ? "chart-net-of-framing" : "framing-deducted", "");
}

}  // namespace

void prepare_blow(Blow& blow, const Proposal& proposal, const Job& job) {
  if (!proposal.batts.empty()) return prepare_batts(blow, proposal, job);
  blow.material = proposal_material(proposal, job.survey, job.tables);
  if (blow.material) job.notes.use_sources(blow.material->sources);
  if (proposal.product && !proposal.bag_net)
    throw Error(ErrorCode::missing, "proposal", "a product with a chart needs its bag's net weight",
                "give bag_net_lb");
  blow.bag_net = proposal.bag_net.value_or(job.tables.default_bag);
  blow.waste = proposal.waste_percent.value_or(0.0) / 100.0;
  blow.price_per_bag = proposal.price_per_bag;
  if (!proposal.waste_percent) job.notes.assume("no-waste");
  if (proposal.product) {
    blow.name = proposal.product->name;
    fill_from_chart(blow, *proposal.product, job.notes);
  } else if (blow.material) {
    blow.name = blow.material->name;
    fill_from_row(blow, *blow.material, job.tables, job.notes);
    blow.price_per_board_ft = proposal.price_per_board_ft;
    if (blow.method == Method::sprayed) return job.notes.assume("board-feet");
    if (!proposal.bag_net) job.notes.assume("default-bag", "", {{"value", job.tables.default_bag}});
    job.notes.assume("framing-deducted", "");
  } else {
    throw Error(ErrorCode::missing, "proposal", "nothing is proposed",
                "name a material or a product with its chart");
  }
  job.notes.assume("even-blow");
}

}  // namespace overjoist::parts
