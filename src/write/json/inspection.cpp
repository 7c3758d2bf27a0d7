// SPDX-License-Identifier: MIT
#include "write/parts/inspection.hpp"
#include "overjoist/report_inspect.hpp"
#include "write/json/findings.hpp"
#include "write/json/parts.hpp"
#include "write/json/writer.hpp"

// The keys are a promise: add, never rename.
namespace overjoist {
namespace {

using io::JsonWriter;
using io::write_range;

void write_count(JsonWriter& w, std::string_view key, const std::optional<int>& n) {
  w.field(key, n ? std::optional(static_cast<double>(*n)) : std::nullopt);
}

// ---- Sections

void write_weight(JsonWriter& w, const WeightCheck& c) {
  w.object("weight", [&] {
    w.field("result", io::word(c.met));
    w.field_or_null("why", c.why);
    w.field("bags_used", c.used);
    w.field("bags_needed", c.needed);
    w.field("bags_needed_by_tag", c.by_tag);
    w.field("bags_needed_of_lightest", c.lightest);
    w.field("short_bags", c.short_bags);
    w.field("counted_together", c.shared);
    w.field("weight_psf", c.weight);
    w.field("least_weight_psf", c.least);
  });
}

void write_depth(JsonWriter& w, const DepthCheck& d) {
  w.object("depth", [&] {
    w.field("result", io::word(d.met));
    w.field_or_null("why", d.why);
    w.field_or_null("judged_as", d.count > 0 ? io::word(d.kind) : std::string_view());
    w.field("kind_recorded", d.kind_known);
    w.field("readings", static_cast<double>(d.count));
    w.field("readings_below", static_cast<double>(d.below));
    const bool any = d.count > 0;
    const auto length = [&](std::string_view key, Length l) {
      w.field(key, any ? std::optional(l) : std::nullopt);
    };
    length("least_in", d.least);
    length("mean_in", d.mean);
    length("greatest_in", d.greatest);
    length("needed_least_in", d.needed_least);
    length("needed_mean_in", d.needed_mean);
    w.field("needed_mean_by_tag_in", d.tag_mean);
    w.field("needed_mean_at_best_in", d.best_mean);
    w.field("settled_taken_for_initial", d.settled_for_initial);
  });
}

void write_layer(JsonWriter& w, const NewLayerBuilt& l) {
  w.object("new_layer", [&] {
    w.field("r", l.r);
    w.field("r_by_weight", l.by_weight);
    w.field("r_by_thickness", l.by_thickness);
    w.field("r_at_most", l.most);
    w.field("settled_thickness_in", l.settled);
    w.field("initial_thickness_in", l.initial);
    w.field("beyond_chart", l.beyond_chart);
  });
}

void write_planned(JsonWriter& w, const TopUp& t) {
  w.object("planned", [&] {
    w.field("target_r", t.target_r);
    w.field("status", io::word(t.status));
    w.field("reached", t.reached);
    w.field("initial_level_in", t.initial_level);
    w.field("settled_level_in", t.settled_level);
    w.field("bags", t.bags);
    w.field("working_r", t.working_r);
    w.field("effective_r", t.effective_r);
  });
}

void write_section(JsonWriter& w, const SectionInspection& s) {
  w.field("name", s.name);
  w.field("kind", io::word(s.kind));
  w.field("area_ft2", s.area);
  w.field("verdict", io::word(s.verdict));
  w.field("sold_level_in", s.sold);
  w.field_or_null("read_again", s.read_again);
  write_planned(w, s.plan);
  write_weight(w, s.weight);
  write_depth(w, s.depth);
  write_layer(w, s.layer);
  w.object_or_null("as_built", s.built, [&](const BuiltR& b) {
    w.field("working_r", b.working);
    write_range(w, "working_r_range", b.working_range);
    w.field("effective_r", b.effective);
    write_range(w, "effective_r_range", b.effective_range);
    w.field("target_reached", b.reached);
    w.field("range_verdict", io::word(b.verdict));
    w.field("at_most", b.at_most);
  });
  w.object_or_null("lid", s.lid, [&](const LidCheck& lid) {
    w.field("done", lid.done);
    w.field("insulation_r", lid.insulation_r);
    w.field("weatherstripped", lid.weatherstripped);
    w.field("latched", lid.latched);
  });
  w.field("done", s.done);
}

// ---- The job

void write_installer(JsonWriter& w, const Installer& i) {
  w.object("installer", [&] {
    w.field_or_null("name", i.name);
    w.field_or_null("address", i.address);
    w.field_or_null("license", i.license);
  });
}

void write_head(JsonWriter& w, const Inspection& in) {
  w.field_or_null("date", in.date);
  write_installer(w, in.installer);
  w.object("sold", [&] {
    w.field("end", io::word(in.sold));
    w.field("by_quote", in.sold_by_quote);
    w.field("target_r", in.target);
    w.field("basis", io::word(in.basis));
  });
  w.field_or_null("fill", in.fill);
  w.field("method", io::word(in.method));
  w.field("verdict", io::word(in.verdict));
  w.object("totals", [&] {
    w.field("bags_used", in.totals.bags_used);
    w.field("bags_needed", in.totals.bags_needed);
    w.field("short_bags", in.totals.short_bags);
    w.field("bags_unplaced", in.totals.bags_unplaced);
    write_count(w, "counts_open", in.totals.counts_open);
    write_count(w, "seals_open", in.totals.seals_open);
    write_count(w, "hazards_open", in.totals.hazards_open);
    write_count(w, "stops_open", in.totals.stops_open);
    write_count(w, "lids_open", in.totals.lids_open);
    write_count(w, "papers_missing", in.totals.papers_missing);
  });
}

void write_checks(JsonWriter& w, const Inspection& in) {
  w.objects("counts", in.counts, [&](const CountCheck& c) {
    w.field("item", c.item);
    write_count(w, "planned", c.planned);
    write_count(w, "found", c.found);
    w.field("result", io::word(c.state));
  });
  w.objects("sealing", in.sealing, [&](const SealCheck& s) {
    w.field("kind", s.kind);
    w.field_or_null("where", s.where);
    w.field("planned", s.planned);
    w.field("sealed", s.ticked);
  });
  w.objects("hazards", in.hazards, [&](const HazardCheck& h) {
    w.field("kind", h.kind);
    w.field_or_null("where", h.where);
    w.field("cleared", h.cleared);
    w.field_or_null("by", h.by);
    w.field_or_null("trade", h.trade);
    w.field_or_null("date", h.date);
    w.field_or_null("paper", h.paper);
    w.field_or_null("said_to_be_cleared_but", h.but);
  });
  w.objects("tag", in.tag, [&](const TagCheck& t) {
    w.field("what", t.what);
    w.field("claimed", t.claimed);
    w.field("found", t.found);
    w.field("found_high", t.found_high);
    w.field("verdict", io::word(t.verdict));
    w.field_or_null("why", t.why);
  });
  w.texts("changes", in.changes);
}

void write_saving(JsonWriter& w, const Inspection& in) {
  const auto attic = [&](std::string_view key, const std::optional<AtticState>& a) {
    a ? io::write_state(w, key, *a) : w.field_null(key);
  };
  const auto saving = [&](std::string_view key, const std::optional<SavingCheck>& c) {
    w.object_or_null(key, c, [&](const SavingCheck& s) {
      w.field("heat_saved_btu", s.heat);
      w.field("fuel_saved", s.fuel_units);
      w.field_or_null("fuel_unit", in.fuel_unit);
      w.field("annual_saving", s.money);
      w.field("worse", s.heat < Energy{});
    });
  };
  attic("attic_planned", in.attic_planned);
  attic("attic_built", in.attic_built);
  saving("saving_planned", in.saving_planned);
  saving("saving_built", in.saving_built);
  w.field("built_at_most", in.saving_at_most);
  w.field_or_null("currency", in.currency);
}

// ---- Papers

void write_receipt_line(JsonWriter& w, const io::ReceiptLine& line) {
  w.field("item", line.label);
  w.field_or_null("asked_by", line.section);
  w.field_or_null("value", line.value);
  w.field_or_null("blank", line.value.empty() ? line.blank : std::string_view());
}

void write_receipt(JsonWriter& w, const Inspection& in, Units units) {
  w.object("receipt", [&] {
    w.objects("lines", io::receipt_head(in, units),
              [&](const io::ReceiptLine& line) { write_receipt_line(w, line); });
    w.objects("parts", in.receipt.parts, [&](const ReceiptPart& p) {
      w.field("part", p.name);
      w.field("coverage_area_ft2", p.area);
      w.field("initial_thickness_in", p.initial);
      w.field("settled_thickness_in", p.settled);
      w.field("r", p.r);
      w.field("bags", p.bags);
      w.field("installed_density_lb_ft3", p.density);
      w.field("existing_r", p.existing);
      w.objects("lines", io::receipt_lines(p, units),
                [&](const io::ReceiptLine& line) { write_receipt_line(w, line); });
    });
    w.field("bags_counted_together", in.receipt.bags_together);
    w.texts("left_out", in.receipt.left_out);
  });
}

void write_packets(JsonWriter& w, const Inspection& in) {
  w.objects("rebates", in.rebates, [&](const RebatePacket& p) {
    w.field("name", p.name);
    w.object_or_null("as_built", p.built, [&](const RebateEnd& end) {
      w.field("verdict", io::word(end.verdict));
      w.field("amount", end.amount);
      w.field("amount_least", end.amount_least);
    });
    w.objects("papers", p.papers, [&](const PaperCheck& paper) {
      w.field("paper", paper.paper);
      w.field("have", paper.have);
    });
  });
}

/// What a record says first, whether the pair could be read or not.
void write_record_head(JsonWriter& w, std::string_view status, std::string_view id,
                       const PairOrigin& origin) {
  w.field("format", "overjoist-inspection");
  w.field("version", 1.0);
  w.field("status", status);
  w.field_or_null("id", id);
  if (!origin.survey.empty()) w.field("survey_file", origin.survey);
  if (!origin.record.empty()) w.field("record_file", origin.record);
}

}  // namespace

void write_inspection_json(std::string& out, const Inspection& in, const Tables& tables,
                           const JsonStyle& style, const PairOrigin& origin) {
  JsonWriter w(out, style.pretty);
  w.object([&] {
    write_record_head(w, "done", in.id, origin);
    w.field_or_null("label", in.label);
    w.field_or_null("record_id", in.record_id);
    write_head(w, in);
    w.objects("sections", in.sections, [&](const SectionInspection& s) { write_section(w, s); });
    write_checks(w, in);
    write_saving(w, in);
    write_receipt(w, in, style.units);
    write_packets(w, in);
    io::write_words_json(w, in.findings, tables, style);
    w.object("survey_keys", [&] { io::write_own_keys(w, in.survey_keys); });
    io::write_own_keys(w, in.record_keys);
  });
}

void write_rejected_pair_json(std::string& out, std::string_view id, const Diagnostics& faults,
                              bool pretty, const PairOrigin& origin) {
  JsonWriter w(out, pretty);
  w.object([&] {
    write_record_head(w, "rejected", id, origin);
    io::write_faults(w, faults);
  });
}

}  // namespace overjoist
