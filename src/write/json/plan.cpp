// SPDX-License-Identifier: MIT
#include "write/json/plan.hpp"

#include "overjoist/leakage.hpp"
#include "words/words.hpp"

namespace overjoist::io {
namespace {

std::optional<double> square_inches_of(const std::optional<Area>& area) {
  return area ? std::optional(in_square_inches(*area)) : std::nullopt;
}
std::optional<double> whole(const std::optional<int>& n) {
  return n ? std::optional(static_cast<double>(*n)) : std::nullopt;
}

void write_readiness(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  const Readiness& r = e.plan.readiness;
  w.object("readiness", [&] {
    w.field("ready", r.ready);
    w.field("state", std::string_view(r.ready             ? "ready"
                                      : r.missing.empty() ? "not-looked-at"
                                                          : "not-ready"));
    w.list("not_looked_at", [&] {
      if (!r.looked.hazards) w.string("hazards");
      if (!r.looked.bypasses) w.string("bypasses");
      if (!r.looked.vents) w.string("vents");
      if (!r.looked.fan_ends) w.string("fan-ends");
    });
    w.objects("missing", r.missing, [&](const MissingItem& m) {
      const CautionRow& row = tables.cautions.at(m.row);
      w.field("code", row.code);
      w.field("level", word(row.level));
      w.field("where", m.where);
      w.field("what", row.brief.empty() ? row.code : row.brief);
      const Caution said = said_of(e, m.row);
      w.field_or_null("who", said.who(row));
      w.field_or_null("clears", said.clears(row));
    });
    w.field("cleared", static_cast<double>(r.cleared));
  });
}

/// @param told  how it is sealed may be said: not while hands are kept off
void write_item(JsonWriter& w, const SealingItem& i, bool told) {
  w.field("kind", i.kind);
  w.field_or_null("where", i.where);
  w.field("rank", static_cast<double>(i.rank));
  w.field("entered", !i.inferred);
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
}

void write_sealing_totals(JsonWriter& w, const SealingTotals& t) {
  w.object("totals", [&] {
    w.objects("beads", t.beads, [&](const BeadTotal& bead) {
      w.field("width_in", bead.width);
      w.field("length_ft", bead.feet);
    });
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
  });
}

void write_house(JsonWriter& w, const std::optional<HouseAir>& house) {
  w.object_or_null("blower_door", house, [&](const HouseAir& h) {
    w.field("cfm50_before", h.cfm50_before);
    w.field("cfm50_after", h.cfm50_after);
    w.field("storeys", static_cast<double>(h.storeys));
    w.field("area_before_in2", in_square_inches(h.ela_before));
    w.field("area_after_in2",
            h.ela_after ? std::optional(in_square_inches(*h.ela_after)) : std::nullopt);
    w.field("heat_before_btu_per_year", h.before);
    w.field("heat_after_btu_per_year", h.after);
  });
}

void write_leakage(JsonWriter& w, const Plan& plan) {
  const SealingTotals& t = plan.sealing.totals;
  const bool known = t.leaks_known > 0;
  w.object("leakage", [&] {
    w.field("area_in2", known ? std::optional(in_square_inches(t.leak_typical)) : std::nullopt);
    w.field("area_sealed_in2",
            known ? std::optional(in_square_inches(t.leak_tight)) : std::nullopt);
    w.field("known", static_cast<double>(t.leaks_known));
    w.field("not_known", static_cast<double>(t.leaks_unknown));
    w.field_or_null("method", word(plan.leak.method));
    w.field_null("heat_upper_bound_btu_per_year");  // of version 1: it was no bound
    w.field_null("heat_sealed_upper_bound_btu_per_year");
    const bool heat = plan.leak.method != LeakMethod::none;
    w.field("air_heat_btu_per_h_cfm_f", heat ? std::optional(plan.leak.air_heat) : std::nullopt);
    const auto end = [](const std::optional<HeatSpan>& span, Energy HeatSpan::*of) {
      return span ? std::optional((*span).*of) : std::nullopt;
    };
    w.field("heat_low_btu_per_year", end(plan.leak.found, &HeatSpan::low));
    w.field("heat_high_btu_per_year", end(plan.leak.found, &HeatSpan::high));
    w.field("heat_sealed_low_btu_per_year", end(plan.leak.sealed, &HeatSpan::low));
    w.field("heat_sealed_high_btu_per_year", end(plan.leak.sealed, &HeatSpan::high));
    write_house(w, plan.house);
    w.field("area_from_memory_in2",
            known ? std::optional(in_square_inches(t.leak_from_memory)) : std::nullopt);
  });
}

void write_sealing(JsonWriter& w, const Plan& plan, bool told) {
  w.object("sealing", [&] {
    w.objects("items", plan.sealing.items,
              [&](const SealingItem& item) { write_item(w, item, told); });
    write_sealing_totals(w, plan.sealing.totals);
    write_leakage(w, plan);
  });
}

void write_tests(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  w.objects("tests", e.plan.tests, [&](const PlanTest& test) {
    const CautionRow& row = tables.cautions.at(test.row);
    w.field("code", row.code);
    w.field("when", test.when == TestTime::before_sealing ? "before-sealing" : "after-sealing");
    const Caution said = said_of(e, test.row);
    w.field_or_null("who", said.who(row));
    w.field("text", said.text(row));
  });
}

void write_equipment(JsonWriter& w, const std::vector<Equipment>& equipment) {
  w.objects("equipment", equipment, [&](const Equipment& x) {
    w.field("kind", word(x.kind));
    w.field_or_null("where", x.where);
    w.field("length_ft", x.length ? std::optional(x.length->us() / 12.0) : std::nullopt);
    w.field("r", x.r);
    w.field("sealed", x.sealed);
    w.field("ends_outdoors", x.ends_outdoors);
  });
}

void write_ventilation(JsonWriter& w, const std::optional<VentilationPlan>& plan) {
  w.object_or_null("ventilation", plan, [&](const VentilationPlan& p) {
    const VentNeed& n = p.need;
    const bool both = n.present.has_value();
    const auto lacking = [&](Area area) {
      return both ? std::optional(in_square_inches(area)) : std::nullopt;
    };
    w.field("entered", p.entered);
    w.field("attic_ft2", p.attic);
    w.field("required_in2", in_square_inches(n.required));
    w.field("required_if_split_in2", in_square_inches(n.required_reduced));
    w.field("split_asks_retarder", n.reduced_asks_retarder);
    w.field("high_in2", square_inches_of(p.high));
    w.field("low_in2", square_inches_of(p.low));
    w.field("verdict", word(n.verdict));
    w.field("split_high_and_low", n.balanced);
    w.field("missing_in2", lacking(n.missing_any));
    w.field("missing_high_in2", lacking(n.missing_high));
    w.field("missing_low_in2", lacking(n.missing_low));
    w.field("retarder_missing", n.retarder_missing);
  });
}

}  // namespace

void write_counts_json(JsonWriter& w, const PlanCounts& c) {
  w.object("counts", [&] {
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
  });
}

void write_plan_json(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  w.object("plan", [&] {
    write_readiness(w, e, tables);
    write_sealing(w, e.plan, !e.hands_off);
    write_tests(w, e, tables);
    write_equipment(w, e.plan.equipment);
    write_ventilation(w, e.plan.ventilation);
  });
}

}  // namespace overjoist::io
