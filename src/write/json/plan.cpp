// SPDX-License-Identifier: MIT
#include "write/parts/plan.hpp"
#include "overjoist/leakage.hpp"
#include "write/json/parts.hpp"

namespace overjoist::io {
namespace {

std::optional<double> square_inches_of(const std::optional<Area>& area) {
  return area ? std::optional(in_square_inches(*area)) : std::nullopt;
}
std::optional<double> whole(const std::optional<int>& n) {
  return n ? std::optional(static_cast<double>(*n)) : std::nullopt;
}
void flag(JsonWriter& w, std::string_view key, bool value) {
  w.key(key);
  w.flag(value);
}

void write_readiness(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  const Readiness& r = e.plan.readiness;
  w.key("readiness");
  w.begin_object();
  flag(w, "ready", r.ready);
  w.field("state", std::string_view(r.ready             ? "ready"
                                    : r.missing.empty() ? "not-looked-at"
                                                        : "not-ready"));
  w.key("not_looked_at");
  w.begin_array();
  if (!r.looked.hazards) w.string("hazards");
  if (!r.looked.bypasses) w.string("bypasses");
  if (!r.looked.vents) w.string("vents");
  if (!r.looked.fan_ends) w.string("fan-ends");
  w.end_array();
  w.key("missing");
  w.begin_array();
  for (const MissingItem& m : r.missing) {
    const CautionRow& row = tables.cautions.at(m.row);
    w.begin_object();
    w.field("code", row.code);
    w.field("level", word(row.level));
    w.field("where", m.where);
    w.field("what", row.brief.empty() ? row.code : row.brief);
    const Caution said = said_of(e, m.row);
    w.field_or_null("who", said.who(row));
    w.field_or_null("clears", said.clears(row));
    w.end_object();
  }
  w.end_array();
  w.field("cleared", static_cast<double>(r.cleared));
  w.end_object();
}

/// @param told  how it is sealed may be said: not while hands are kept off
void write_item(JsonWriter& w, const SealingItem& i, bool told) {
  w.begin_object();
  w.field("kind", i.kind);
  w.field_or_null("where", i.where);
  w.field("rank", static_cast<double>(i.rank));
  flag(w, "entered", !i.inferred);
  w.field("unit", word(i.unit));
  w.field("quantity", i.quantity);
  w.field("opening_ft2", i.opening);
  w.field("sealant", word(i.sealant));
  w.field_or_null("seal_with", told ? std::string_view(i.seal_with) : std::string_view());
  w.field_or_null("fire_rule", told ? std::string_view(i.fire_rule) : std::string_view());
  w.field("bead_ft", i.bead_ft);
  w.field("bead_width_in", i.bead_width);
  w.field("tubes_small", i.tubes_small);
  w.field("weatherstrip_ft", i.weatherstrip_ft);
  w.field("board_ft2", i.board);
  w.field("metal_low_ft2", i.metal_low);
  w.field("metal_high_ft2", i.metal_high);
  w.field("covers", i.covers);
  w.field("leak_in2", square_inches_of(i.leak_typical));
  w.field("leak_sealed_in2", square_inches_of(i.leak_tight));
  w.field_or_null("leak_status",
                  i.leak_typical ? std::string_view(i.leak_status) : std::string_view());
  w.end_object();
}

void write_sealing_totals(JsonWriter& w, const SealingTotals& t) {
  w.key("totals");
  w.begin_object();
  w.key("beads");
  w.begin_array();
  for (const BeadTotal& bead : t.beads) {
    w.begin_object();
    w.field("width_in", bead.width);
    w.field("length_ft", bead.feet);
    w.end_object();
  }
  w.end_array();
  w.field("tubes_small", t.tubes_small);
  w.field("tubes_large", t.tubes_large);
  w.field("foam_cans", t.foam_cans);
  w.field("tubes_small_beside_foam", t.tubes_small_with_foam);
  w.field("heat_tubes_small", t.heat_tubes_small);
  w.field("board_ft2", t.board);
  w.field("sheets", t.sheets);
  w.field("metal_low_ft2", t.metal_low);
  w.field("metal_high_ft2", t.metal_high);
  w.field("covers", t.covers);
  w.field("weatherstrip_ft", t.weatherstrip_ft);
  w.field("not_measured", static_cast<double>(t.not_measured));
  w.end_object();
}

void write_leakage(JsonWriter& w, const Plan& plan) {
  const SealingTotals& t = plan.sealing.totals;
  const bool known = t.leaks_known > 0;
  w.key("leakage");
  w.begin_object();
  w.field("area_in2", known ? std::optional(in_square_inches(t.leak_typical)) : std::nullopt);
  w.field("area_sealed_in2", known ? std::optional(in_square_inches(t.leak_tight)) : std::nullopt);
  w.field("known", static_cast<double>(t.leaks_known));
  w.field("not_known", static_cast<double>(t.leaks_unknown));
  w.field_or_null("method", word(plan.leak.method));
  w.field("heat_upper_bound_btu_per_year", plan.leak.typical);
  w.field("heat_sealed_upper_bound_btu_per_year", plan.leak.tight);
  const bool heat = plan.leak.method != LeakMethod::none;
  w.field("air_heat_btu_per_h_cfm_f", heat ? std::optional(plan.leak.air_heat) : std::nullopt);
  w.end_object();
}

void write_sealing(JsonWriter& w, const Plan& plan, bool told) {
  w.key("sealing");
  w.begin_object();
  w.key("items");
  w.begin_array();
  for (const SealingItem& item : plan.sealing.items) write_item(w, item, told);
  w.end_array();
  write_sealing_totals(w, plan.sealing.totals);
  write_leakage(w, plan);
  w.end_object();
}

void write_tests(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  w.key("tests");
  w.begin_array();
  for (const PlanTest& test : e.plan.tests) {
    const CautionRow& row = tables.cautions.at(test.row);
    w.begin_object();
    w.field("code", row.code);
    w.field("when", std::string_view(test.when == TestTime::before_sealing ? "before-sealing"
                                                                           : "after-sealing"));
    const Caution said = said_of(e, test.row);
    w.field_or_null("who", said.who(row));
    w.field("text", said.text(row));
    w.end_object();
  }
  w.end_array();
}

void write_equipment(JsonWriter& w, const std::vector<Equipment>& equipment) {
  w.key("equipment");
  w.begin_array();
  for (const Equipment& x : equipment) {
    w.begin_object();
    w.field("kind", word(x.kind));
    w.field_or_null("where", x.where);
    w.field("length_ft", x.length ? std::optional(x.length->us() / 12.0) : std::nullopt);
    w.field("r", x.r);
    write_flag(w, "sealed", x.sealed);
    write_flag(w, "ends_outdoors", x.ends_outdoors);
    w.end_object();
  }
  w.end_array();
}

void write_ventilation(JsonWriter& w, const std::optional<VentilationPlan>& plan) {
  if (!plan) return w.field_null("ventilation");
  const VentNeed& n = plan->need;
  const bool both = n.present.has_value();
  const auto lacking = [&](Area area) {
    return both ? std::optional(in_square_inches(area)) : std::nullopt;
  };
  w.key("ventilation");
  w.begin_object();
  flag(w, "entered", plan->entered);
  w.field("attic_ft2", plan->attic);
  w.field("required_in2", in_square_inches(n.required));
  w.field("required_if_split_in2", in_square_inches(n.required_reduced));
  write_flag(w, "split_asks_retarder", n.reduced_asks_retarder);
  w.field("high_in2", square_inches_of(plan->high));
  w.field("low_in2", square_inches_of(plan->low));
  w.field("verdict", word(n.verdict));
  flag(w, "split_high_and_low", n.balanced);
  w.field("missing_in2", lacking(n.missing_any));
  w.field("missing_high_in2", lacking(n.missing_high));
  w.field("missing_low_in2", lacking(n.missing_low));
  flag(w, "retarder_missing", n.retarder_missing);
  w.end_object();
}

}  // namespace

void write_counts_json(JsonWriter& w, const PlanCounts& c) {
  w.key("counts");
  w.begin_object();
  w.field("baffles", whole(c.baffles));
  w.field("dams", whole(c.dams));
  w.field("flue_dams", whole(c.flue_dams));
  w.field("edge_dams", static_cast<double>(c.edge_dams));
  w.field("dam_height_in", c.dam_height);
  w.field("flue_dam_height_in", c.flue_dam_height);
  w.field("markers", static_cast<double>(c.markers));
  w.field("light_covers", whole(c.light_covers));
  w.field("flags", static_cast<double>(c.flags));
  w.field("lid_board_ft2", c.lid_board);
  w.field("weatherstrip_ft", c.weatherstrip_ft);
  w.end_object();
}

void write_plan_json(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  w.key("plan");
  w.begin_object();
  write_readiness(w, e, tables);
  write_sealing(w, e.plan, !e.hands_off);
  write_tests(w, e, tables);
  write_equipment(w, e.plan.equipment);
  write_ventilation(w, e.plan.ventilation);
  w.end_object();
}

}  // namespace overjoist::io
