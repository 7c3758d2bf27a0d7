// SPDX-License-Identifier: MIT
#include "overjoist/report.hpp"
#include "words/words.hpp"
#include "write/json/compare.hpp"
#include "write/json/drawing.hpp"
#include "write/json/findings.hpp"
#include "write/json/money.hpp"
#include "write/json/parts.hpp"
#include "write/json/writer.hpp"
#include "write/parts/plan.hpp"
#include "write/parts/quote.hpp"

// The keys are those of the result format and are a promise: add, never rename.
namespace overjoist {
namespace {

using io::JsonWriter;
using io::write_range;
using io::write_state;

void write_attic(JsonWriter& w, const Evaluation& e) {
  w.key("attic");
  w.begin_object();
  w.field("area_ft2", e.attic.area);
  write_state(w, "existing", e.attic.existing);
  write_state(w, "low", e.planned.low.attic);
  write_state(w, "high", e.planned.high.attic);
  w.end_object();
}

void write_steps(JsonWriter& w, const std::vector<LossStep>& steps) {
  w.key("steps");
  w.begin_array();
  for (const LossStep& step : steps) {
    w.begin_object();
    w.field("step", step.code);
    w.field("change_r", step.change);
    w.field("r_after", step.after);
    w.end_object();
  }
  w.end_array();
}

void write_existing(JsonWriter& w, const ExistingResult& e) {
  w.key("existing");
  w.begin_object();
  w.field("mean_depth_in", e.unmeasured ? std::nullopt : std::optional(e.mean_depth));
  w.field("yardstick_r", e.yardstick_r);
  w.field("working_r", e.working_r);
  write_range(w, "working_r_range", e.working_r_range);
  w.field("effective_r", e.effective_r);
  write_range(w, "effective_r_range", e.effective_r_range);
  w.field("effective_r_parallel", e.effective_r_parallel);
  w.field("effective_r_planes", e.effective_r_planes);
  w.field("effective_r_mean", e.effective_r_mean);
  w.field("weight_psf", e.weight);
  w.field("weight_greatest_psf", e.weight_greatest);
  w.field("readings_needed", e.measure_bare ? std::nullopt : e.readings_needed);
  w.field("readings_more", e.readings_more);
  w.field_or_null("verdict", e.verdict ? io::word(*e.verdict) : std::string_view());
  write_steps(w, e.steps);
  w.key("measure_bare_area");
  w.flag(e.measure_bare);
  w.key("depth_left_unmeasured");
  w.flag(e.unmeasured);
  w.end_object();
}

void write_depths(JsonWriter& w, std::string_view key, const std::optional<NewDepth>& depth) {
  if (!depth) return w.field_null(key);
  w.key(key);
  w.begin_object();
  w.field("least", depth->least);
  w.field("mean", depth->mean);
  w.field("greatest", depth->greatest);
  w.end_object();
}

void write_within_weight(JsonWriter& w, const std::optional<WithinWeight>& within) {
  if (!within) return w.field_null("within_weight_limit");
  w.key("within_weight_limit");
  w.begin_object();
  w.field("initial_level_in", within->initial_level);
  w.field("working_r", within->working_r);
  w.field("effective_r", within->effective_r);
  w.end_object();
}

void write_eave(JsonWriter& w, const std::optional<EaveResult>& eave) {
  if (!eave) return w.field_null("eave");
  w.key("eave");
  w.begin_object();
  w.field("width_in", eave->width);
  w.field("bare_width_in", eave->bare_width);
  w.field("area_ft2", eave->area);
  w.field("working_r_field", eave->working_field);
  w.field("working_r_wedge", eave->working_wedge);
  w.field("met_from_in", eave->met_from);
  w.field("share_short", eave->share_short);
  w.field("ua_added_btu_per_h_f", eave->ua_added);
  w.field("bags_less", eave->bags_less);
  w.end_object();
}

void write_top_up(JsonWriter& w, std::string_view key, const TopUp& t) {
  w.key(key);
  w.begin_object();
  w.field("target_r", t.target_r);
  w.field("basis", io::word(t.basis));
  w.field("status", io::word(t.status));
  w.field_or_null("limited_by", io::word(t.limited_by));
  w.key("reached");
  w.flag(t.reached);
  w.field("initial_level_in", t.initial_level);
  w.field("level_exact_in", t.level_exact);
  w.field("confident_level_in", t.confident_level);
  w.field("settled_level_in", t.settled_level);
  write_depths(w, "initial_depth_in", t.new_depth_initial);
  write_depths(w, "new_depth_in", t.new_depth);
  w.field("working_r", t.working_r);
  write_range(w, "working_r_range", t.working_r_range);
  w.field("effective_r", t.effective_r);
  write_range(w, "effective_r_range", t.effective_r_range);
  w.field("bags", t.bags);
  w.field("bags_exact", t.bags_exact);
  w.field("added_weight_psf", t.added_weight);
  w.field("weight_psf", t.weight);
  w.field("weight_greatest_psf", t.weight_greatest);
  w.key("weight_is_at_least");
  w.flag(t.weight_at_least);
  w.field("weight_limit_psf", t.weight_limit);
  write_within_weight(w, t.within_weight);
  write_eave(w, t.eave);
  io::write_laid_json(w, t);
  w.end_object();
}

void write_removals(JsonWriter& w, const std::vector<RemovalResult>& removals) {
  w.key("removals");
  w.begin_array();
  for (const RemovalResult& r : removals) {
    w.begin_object();
    w.field("material", r.material);
    w.field("area_ft2", r.area);
    w.field("volume_ft3", r.volume);
    w.end_object();
  }
  w.end_array();
}

void write_patches(JsonWriter& w, const std::vector<PatchResult>& patches) {
  w.key("patches");
  w.begin_array();
  for (const PatchResult& p : patches) {
    w.begin_object();
    w.field("kind", p.kind);
    w.field_or_null("where", p.where);
    w.field("area_ft2", p.area);
    w.field("total_r", p.total_r);
    w.end_object();
  }
  w.end_array();
}

void write_cavity(JsonWriter& w, const SectionEnds& s) {
  const auto& cavity = s.found.cavity;
  if (!cavity) return w.field_null("cavity");
  w.key("cavity");
  w.begin_object();
  w.field_or_null("material", cavity->material);
  w.field("room_in", cavity->room);
  w.field("kept_in", cavity->kept);
  w.field("added_in", cavity->added);
  w.field_or_null("nothing_added_since", io::word(cavity->stop));
  w.field("continuous_r", cavity->continuous_r);
  w.field("density_lb_ft3", cavity->density);
  w.field("added_weight_psf", cavity->added_weight);
  w.field("added_lb", cavity->added_mass);
  w.field("short_by_r", s.high.short_by);
  w.field("short_by_low_r", s.low.short_by);
  w.end_object();
}

void write_section(JsonWriter& w, const SectionEnds& s) {
  w.begin_object();
  w.field("name", s.found.name);
  w.field("kind", io::word(s.found.kind));
  w.field("area_ft2", s.found.area);
  w.field("below", std::string_view(s.found.heated_below ? "heated" : "unheated"));
  write_existing(w, s.found.existing);
  w.key("top_up");
  w.begin_object();
  write_top_up(w, "low", s.low);
  write_top_up(w, "high", s.high);
  w.end_object();
  write_cavity(w, s);
  io::write_cut_json(w, s.found.cut);
  io::write_moisture_json(w, s.found);
  write_removals(w, s.found.removals);
  write_patches(w, s.found.patches);
  w.end_object();
}

void write_total(JsonWriter& w, std::string_view key, const Planned& planned, const Evaluation& e) {
  const Totals& t = planned.totals;
  w.key(key);
  w.begin_object();
  w.field("bags", t.bags);
  w.field("bag_net_lb", t.bag_net);
  io::write_packages_json(w, t);
  w.field("added_lb", t.added_mass);
  w.field("blown_area_ft2", t.blown_area);
  w.field("cost", t.cost);
  w.key("cost_by");
  w.begin_object();
  w.field("material", t.material);
  w.field("labour", t.labour);
  w.field("extras", t.extras);
  w.field("tax", t.tax);
  w.end_object();
  w.field_or_null("currency", e.currency);
  io::write_worth_json(w, t, e);
  io::write_counts_json(w, planned.counts);
  w.end_object();
}

void write_totals(JsonWriter& w, const Evaluation& e) {
  w.key("totals");
  w.begin_object();
  write_total(w, "low", e.planned.low, e);
  write_total(w, "high", e.planned.high, e);
  io::write_next_steps_json(w, e);
  w.end_object();
}

void write_target(JsonWriter& w, const TargetBand& target) {
  w.key("target");
  w.begin_object();
  w.field("low_r", target.low);
  w.field("high_r", target.high);
  w.field("basis", io::word(target.basis));
  w.field_or_null("climate_zone", target.zone);
  w.end_object();
}

void write_fault(JsonWriter& w, const Diagnostic& fault) {
  w.begin_object();
  w.field("pointer", fault.pointer);
  const auto place = [&](std::string_view key,
                         std::size_t count) {  // null: the fault has no place in a text
    w.field(key, count > 0 ? std::optional(static_cast<double>(count)) : std::nullopt);
  };
  place("line", fault.line);
  place("column", fault.column);
  w.field("message", fault.message);
  w.field_or_null("hint", fault.hint);
  w.end_object();
}

void write_origin(JsonWriter& w, const Origin& origin) {
  if (!origin.file.empty()) w.field("file", origin.file);
  if (origin.line > 0) w.field("line", static_cast<double>(origin.line));
}

void begin_record(JsonWriter& w) {
  w.begin_object();
  w.field("format", std::string_view("overjoist-evaluation"));
  w.field("version", 1.0);
}

}  // namespace

void write_json(std::string& out, const Evaluation& evaluation, const Tables& tables,
                const JsonStyle& style, const Origin& origin) {
  JsonWriter w(out, style.pretty);
  begin_record(w);
  w.field_or_null("id", evaluation.id);
  w.field_or_null("label", evaluation.label);
  w.field("status", std::string_view("done"));
  write_origin(w, origin);
  io::write_surveyed_json(w, evaluation);
  w.field("framing_method", io::word(evaluation.framing_method));
  write_target(w, evaluation.target);
  w.field_or_null("added_material", evaluation.added_material);
  w.key("hands_off");
  w.flag(evaluation.hands_off);
  write_attic(w, evaluation);
  w.key("sections");
  w.begin_array();
  for (const SectionEnds& section : evaluation.with_ends()) write_section(w, section);
  w.end_array();
  io::write_terms_json(w, evaluation);
  write_totals(w, evaluation);
  io::write_compare_json(w, evaluation, tables);
  io::write_quote_json(w, evaluation);
  io::write_plan_json(w, evaluation, tables);
  io::write_words_json(w, evaluation.findings, tables, style);
  for (const auto& own : evaluation.user_keys) {
    w.text_key(own.first);
    w.raw(own.second);
  }
  w.end_object();
}

void write_rejected_json(std::string& out, std::string_view id, const Diagnostics& faults,
                         bool pretty, const Origin& origin) {
  JsonWriter w(out, pretty);
  begin_record(w);
  w.field_or_null("id", id);
  w.field("status", std::string_view("rejected"));
  write_origin(w, origin);
  w.key("diagnostics");
  w.begin_array();
  for (const Diagnostic& fault : faults) write_fault(w, fault);
  w.end_array();
  w.end_object();
}

}  // namespace overjoist
