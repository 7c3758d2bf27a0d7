// SPDX-License-Identifier: MIT
#include "overjoist/evaluate.hpp"

#include <cstddef>
#include <utility>

#include "evaluate/cautions.hpp"
#include "evaluate/chain.hpp"
#include "evaluate/compare.hpp"
#include "evaluate/costs.hpp"
#include "evaluate/job.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/plausible.hpp"
#include "evaluate/quote.hpp"
#include "evaluate/readiness.hpp"
#include "evaluate/saving_range.hpp"
#include "evaluate/sealing.hpp"
#include "evaluate/section.hpp"
#include "evaluate/site.hpp"
#include "evaluate/spread.hpp"
#include "evaluate/target.hpp"
#include "evaluate/totals.hpp"
#include "evaluate/worked.hpp"
#include "evaluate/year.hpp"

// The order of the chain; each step stands in the file of its name.
namespace overjoist {
namespace parts {
namespace {

Evaluation head(const Survey& survey, const Tables& tables) {
  Evaluation e;
  e.id = survey.id;
  e.label = survey.label;
  e.surveyed_by = survey.surveyed_by;
  e.surveyed_date = survey.surveyed_date;
  e.user_keys = survey.extras;
  e.framing_method = tables.framing_method;
  return e;
}

/// What is proposed, cellulose where nothing is; its terms go into the result.
Proposal proposal_of(const Survey& survey, Evaluation& e, Notes& notes) {
  Proposal proposal = survey.proposal.value_or(Proposal{});
  if (!survey.proposal) {
    proposal.material = "cellulose-loose";
    notes.assume("default-proposal", "", {{"value", proposal.material}});
  }
  if (survey.money) proposal.tax = tax_of(*survey.money);
  e.currency = proposal.currency;
  e.price_per_bag = proposal.price_per_bag;
  for (const Extra& extra : proposal.extras) e.extra_costs.push_back({extra.what, extra.price});
  return proposal;
}

void add_sections(Evaluation& e, SectionsWork& work) {
  const std::vector<Section>& sections = work.job.survey.sections;
  const std::size_t count = sections.size();
  e.sections.reserve(count);
  for (const End end : {End::low, End::high}) e.planned[end].sections.reserve(count);
  for (const Section& section : sections) {
    if (!section.below) work.job.notes.assume("below-heated", section.name);
    WorkedSection s = work_section(section, work);
    e.sections.push_back(std::move(s.found));
    for (const End end : {End::low, End::high})
      e.planned[end].sections.push_back(std::move(s.planned[end]));
  }
}

void standing_notes(const Evaluation& e, const Job& job) {
  Notes& notes = job.notes;
  level_notes(e.planned, e.method, notes);
  notes.assume("framing-method", "", {{"value", std::string(method_words(e.framing_method))}});
  const Site& site = job.survey.site;
  if (site.unvented())
    notes.assume("unvented-attic");
  else if (!job.survey.heating || !site.balanced())
    notes.assume("vented-attic");
  notes.assume("ranges");
  notes.standing();
}

}  // namespace

Evaluation evaluate_left(const Survey& survey, const Tables& tables,
                         const std::vector<LeftAs>* left) {
  Notes notes(tables);
  const Job job{survey, tables, notes};
  Evaluation e = head(survey, tables);
  e.target = target_band(job);
  Proposal proposal = proposal_of(survey, e, notes);
  Blow blow;
  prepare_blow(blow, proposal, job);
  e.added_material = blow.name;
  e.method = blow.method;
  attic_cautions(job);
  SectionsWork work{job, e.target, blow, stages_of(survey, e.target, tables), {}, {}, left};
  work.prior = range_prior(tables);
  add_sections(e, work);
  standing_notes(e, job);

  e.unpriced = unpriced_work(proposal, e);
  e.attic = attic_found(e.sections);
  for (const End end : {End::low, End::high}) {
    Planned& planned = e.planned[end];
    planned.target = e.target.ends()[end];
    planned.attic = attic_after(e, planned.sections);
    planned.totals = job_totals(e, planned.sections, blow, proposal);
  }
  attic_ranges(e, work.spreads);
  add_savings(e, job, {proposal, blow, work.stages, work.savings, work.spreads});
  tax_note(proposal, e.planned.high.totals, notes);
  hold_claims(e, survey, proposal);
  hold_rebates(e, survey);
  plan_job(e, job);
  add_sealing_saving(e, job);
  add_worth_ranges(e);
  plausible_survey(job);
  keep_hands_off(e, notes);
  e.findings = notes.take();
  e.plan.readiness = readiness(e, survey, tables);
  return e;
}

}  // namespace parts

Evaluation evaluate(const Survey& survey, const Tables& tables) {
  Evaluation e = parts::evaluate_left(survey, tables, nullptr);
  if (!survey.compare.empty()) parts::add_compare(e, survey, tables);
  return e;
}

}  // namespace overjoist
