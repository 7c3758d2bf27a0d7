// SPDX-License-Identifier: MIT
#include "overjoist/report.hpp"
#include "words/words.hpp"
#include "write/json/compare.hpp"
#include "write/json/drawing.hpp"
#include "write/json/findings.hpp"
#include "write/json/money.hpp"
#include "write/json/parts.hpp"
#include "write/json/plan.hpp"
#include "write/json/quote.hpp"
#include "write/json/writer.hpp"

// The keys are those of the result format and are a promise: add, never rename.
namespace overjoist {
namespace {

using io::JsonWriter;
using io::write_ends;
using io::write_range;
using io::write_state;

void write_attic(JsonWriter& w, const Evaluation& e) {
  w.object("attic", [&] {
    w.field("area_ft2", e.attic.area);
    write_state(w, "existing", e.attic.existing);
    write_ends(e.planned, [&](std::string_view key, const Planned& planned) {
      write_state(w, key, planned.attic);
    });
  });
}

void write_steps(JsonWriter& w, const std::vector<LossStep>& steps) {
  w.objects("steps", steps, [&](const LossStep& step) {
    w.field("step", step.code);
    w.field("change_r", step.change);
    w.field("r_after", step.after);
  });
}

void write_existing(JsonWriter& w, const ExistingResult& e) {
  w.object("existing", [&] {
    w.field("mean_depth_in", e.unmeasured ? std::nullopt : std::optional(e.mean_depth));
    w.field("yardstick_r", e.yardstick_r);
    w.field("working_r", e.working_r);
    write_range(w, "working_r_range", e.working_r_range);
    w.field("effective_r", e.effective_r);
    write_range(w, "effective_r_range", e.effective_r_range);
    w.field("effective_r_parallel", e.effective_r_parallel);
    w.field("effective_r_planes", e.effective_r_planes);
    w.field("effective_r_mean", e.effective_r_mean);
    w.field("effective_r_two_column", e.effective_r_two_column);
    w.field("weight_psf", e.weight);
    w.field("weight_greatest_psf", e.weight_greatest);
    w.field("readings_needed", e.readings_needed);
    w.field("readings_more", e.readings_more);
    w.field_or_null("verdict", e.verdict ? io::word(*e.verdict) : std::string_view());
    write_steps(w, e.steps);
    w.field("measure_bare_area", e.measure_bare);
    w.field("depth_left_unmeasured", e.unmeasured);
  });
}

void write_depths(JsonWriter& w, std::string_view key, const std::optional<NewDepth>& depth) {
  w.object_or_null(key, depth, [&](const NewDepth& d) {
    w.field("least", d.least);
    w.field("mean", d.mean);
    w.field("greatest", d.greatest);
  });
}

void write_within_weight(JsonWriter& w, const std::optional<WithinWeight>& within) {
  w.object_or_null("within_weight_limit", within, [&](const WithinWeight& best) {
    w.field("initial_level_in", best.initial_level);
    w.field("working_r", best.working_r);
    w.field("effective_r", best.effective_r);
  });
}

void write_eave(JsonWriter& w, const std::optional<EaveResult>& eave) {
  w.object_or_null("eave", eave, [&](const EaveResult& e) {
    w.field("width_in", e.width);
    w.field("bare_width_in", e.bare_width);
    w.field("area_ft2", e.area);
    w.field("working_r_field", e.working_field);
    w.field("working_r_wedge", e.working_wedge);
    w.field("met_from_in", e.met_from);
    w.field("share_short", e.share_short);
    w.field("ua_added_btu_per_h_f", e.ua_added);
    w.field("bags_less", e.bags_less);
  });
}

void write_top_up(JsonWriter& w, std::string_view key, const TopUp& t) {
  w.object(key, [&] {
    w.field("target_r", t.target_r);
    w.field("basis", io::word(t.basis));
    w.field("status", io::word(t.status));
    w.field_or_null("limited_by", io::word(t.limited_by));
    w.field("reached", t.reached);
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
    w.field("effective_r_two_column", t.effective_r_two_column);
    w.field("bags", t.bags);
    w.field("bags_exact", t.bags_exact);
    w.field("added_weight_psf", t.added_weight);
    w.field("weight_psf", t.weight);
    w.field("weight_greatest_psf", t.weight_greatest);
    w.field("weight_is_at_least", t.weight_at_least);
    w.field("weight_limit_psf", t.weight_limit);
    write_within_weight(w, t.within_weight);
    write_eave(w, t.eave);
    io::write_laid_json(w, t);
    w.field("confident_level_too_heavy", t.confident_too_heavy);
  });
}

void write_removals(JsonWriter& w, const std::vector<RemovalResult>& removals) {
  w.objects("removals", removals, [&](const RemovalResult& r) {
    w.field("material", r.material);
    w.field("area_ft2", r.area);
    w.field("volume_ft3", r.volume);
  });
}

void write_patches(JsonWriter& w, const std::vector<PatchResult>& patches) {
  w.objects("patches", patches, [&](const PatchResult& p) {
    w.field("kind", p.kind);
    w.field_or_null("where", p.where);
    w.field("area_ft2", p.area);
    w.field("total_r", p.total_r);
  });
}

void write_cavity(JsonWriter& w, const SectionEnds& s) {
  w.object_or_null("cavity", s.found.cavity, [&](const CavityResult& c) {
    w.field_or_null("material", c.material);
    w.field("room_in", c.room);
    w.field("kept_in", c.kept);
    w.field("added_in", c.added);
    w.field_or_null("nothing_added_since", io::word(c.stop));
    w.field("continuous_r", c.continuous_r);
    w.field("density_lb_ft3", c.density);
    w.field("added_weight_psf", c.added_weight);
    w.field("added_lb", c.added_mass);
    w.field("short_by_r", s.high.short_by);
    w.field("short_by_low_r", s.low.short_by);
  });
}

void write_section(JsonWriter& w, const SectionEnds& s) {
  w.field("name", s.found.name);
  w.field("kind", io::word(s.found.kind));
  w.field("area_ft2", s.found.area);
  w.field("below", s.found.heated_below ? "heated" : "unheated");
  write_existing(w, s.found.existing);
  w.object("top_up", [&] {
    write_ends(s, [&](std::string_view key, const TopUp& t) { write_top_up(w, key, t); });
  });
  write_cavity(w, s);
  io::write_cut_json(w, s.found.cut);
  io::write_moisture_json(w, s.found);
  write_removals(w, s.found.removals);
  write_patches(w, s.found.patches);
}

void write_total(JsonWriter& w, std::string_view key, const Planned& planned, const Evaluation& e) {
  const Totals& t = planned.totals;
  w.object(key, [&] {
    w.field("bags", t.bags);
    w.field("bag_net_lb", t.bag_net);
    io::write_packages_json(w, t);
    w.field("added_lb", t.added_mass);
    w.field("blown_area_ft2", t.blown_area);
    w.field("cost", t.cost);
    w.object("cost_by", [&] {
      w.field("material", t.material);
      w.field("labour", t.labour);
      w.field("extras", t.extras);
      w.field("tax", t.tax);
    });
    w.field_or_null("currency", e.currency);
    io::write_worth_json(w, t, e);
    io::write_counts_json(w, planned.counts);
  });
}

void write_totals(JsonWriter& w, const Evaluation& e) {
  w.object("totals", [&] {
    write_ends(e.planned, [&](std::string_view key, const Planned& planned) {
      write_total(w, key, planned, e);
    });
    io::write_next_steps_json(w, e);
  });
}

void write_target(JsonWriter& w, const TargetBand& target) {
  w.object("target", [&] {
    io::field_ends(w, target, {"low_r", "high_r"});
    w.field("basis", io::word(target.basis));
    w.field_or_null("climate_zone", target.zone);
  });
}

void write_origin(JsonWriter& w, const Origin& origin) {
  if (!origin.file.empty()) w.field("file", origin.file);
  if (origin.line > 0) w.field("line", static_cast<double>(origin.line));
}

void write_head(JsonWriter& w) {
  w.field("format", "overjoist-evaluation");
  w.field("version", 1.0);
}

void write_answer(JsonWriter& w, const Evaluation& e) {
  io::write_surveyed_json(w, e);
  w.field("framing_method", io::word(e.framing_method));
  write_target(w, e.target);
  w.field_or_null("added_material", e.added_material);
  w.field("hands_off", e.hands_off);
  write_attic(w, e);
  w.objects("sections", e.with_ends(), [&](const SectionEnds& s) { write_section(w, s); });
  io::write_terms_json(w, e);
  write_totals(w, e);
}

}  // namespace

void write_json(std::string& out, const Evaluation& evaluation, const Tables& tables,
                const JsonStyle& style, const Origin& origin) {
  JsonWriter w(out, style.pretty);
  w.object([&] {
    write_head(w);
    w.field_or_null("id", evaluation.id);
    w.field_or_null("label", evaluation.label);
    w.field("status", "done");
    write_origin(w, origin);
    write_answer(w, evaluation);
    io::write_compare_json(w, evaluation, tables);
    io::write_quote_json(w, evaluation);
    io::write_plan_json(w, evaluation, tables);
    io::write_words_json(w, evaluation.findings, tables, style);
    io::write_own_keys(w, evaluation.user_keys);
  });
}

void write_rejected_json(std::string& out, std::string_view id, const Diagnostics& faults,
                         bool pretty, const Origin& origin) {
  JsonWriter w(out, pretty);
  w.object([&] {
    write_head(w);
    w.field_or_null("id", id);
    w.field("status", "rejected");
    write_origin(w, origin);
    io::write_faults(w, faults);
  });
}

}  // namespace overjoist
