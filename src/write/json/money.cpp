// SPDX-License-Identifier: MIT
#include "write/json/money.hpp"

#include "words/survey_words.hpp"
#include "write/json/parts.hpp"

namespace overjoist::io {
namespace {

void write_bills(JsonWriter& w, const std::optional<BillCheck>& bills) {
  w.object_or_null("bills", bills, [&](const BillCheck& b) {
    w.field("ceiling_share", b.computed_share);
    w.field("allowed_share", b.allowed_share);
    w.field("ceiling_percent", b.percent);
    w.field("factor", b.factor);
  });
}

void write_attic_air(JsonWriter& w, const HeatingTerms& h) {
  if (h.unvented) return w.field_null("attic_air");
  w.object("attic_air", [&] {
    const bool balance = h.air.attic || h.air.side;
    w.field("convention", word(balance ? AtticConvention::balance : AtticConvention::outdoors));
    w.field("attic_conductance_btu_per_h_f", h.air.attic);
    w.field("side_attic_conductance_btu_per_h_f", h.air.side);
  });
}

void write_heating(JsonWriter& w, const std::optional<HeatingTerms>& heating) {
  w.object_or_null("heating", heating, [&](const HeatingTerms& h) {
    w.field("fuel", h.fuel);
    w.field("unit", h.unit);
    w.field("efficiency", h.efficiency.is_cop ? std::nullopt : std::optional(h.efficiency.value));
    w.field("cop", h.efficiency.is_cop ? std::optional(h.efficiency.value) : std::nullopt);
    w.field("price_per_unit", h.price_per_unit);
    w.field("hdd_f_day", h.season.hdd_f_day);
    w.field("base_f", h.season.base_f);
    w.field("days_below_base", h.season.days_below_base);
    w.field("indoor_f", h.indoor_f);
    w.field("form", h.form == SavingForm::plain ? "plain" : "full");
    w.field("ua_before_btu_per_h_f", h.ua_before);
    write_bills(w, h.bills);
    w.field("attic", h.unvented ? "unvented" : "vented");
    w.field("ceiling_ua_before_btu_per_h_f", h.ceiling_ua_before);
    write_attic_air(w, h);
  });
}

/// What the 90 % ranges of R leave of a saving and its worth.
void write_ends(JsonWriter& w, const std::optional<WorthRange>& range) {
  const auto field = [&](std::string_view key, auto get) {
    w.field(key, range ? get(*range) : std::nullopt);
  };
  field("annual_saving_low", [](const WorthRange& r) { return std::optional(r.saving_low); });
  field("annual_saving_high", [](const WorthRange& r) { return std::optional(r.saving_high); });
  field("payback_low_years", [](const WorthRange& r) { return r.payback_low; });
  field("payback_high_years", [](const WorthRange& r) { return r.payback_high; });
  field("present_value_low", [](const WorthRange& r) { return r.present_low; });
  field("present_value_high", [](const WorthRange& r) { return r.present_high; });
  field("sir_low", [](const WorthRange& r) { return r.sir_low; });
  field("sir_high", [](const WorthRange& r) { return r.sir_high; });
}

void write_line(JsonWriter& w, std::string_view key, const WorthLine& line) {
  w.object(key, [&] {
    w.field("annual_saving", line.annual_saving);
    w.field("payback_years", line.payback);
    w.field("present_value", line.present_value);
    w.field("sir", line.sir);
    w.field("cost", line.cost);
    w.field("rebate", line.rebate);
    w.field("payback_after_rebate_years", line.payback_after_rebate);
    w.field("payback_discounted_years", line.payback_discounted);
    w.field("annual_saving_unpriced", line.saving_unpriced);
    write_ends(w, line.range);
  });
}

void write_energy(JsonWriter& w, const YearSaved& year, const HeatingTerms& heating) {
  w.object("energy_by_fuel", [&] {
    w.text_key(heating.fuel);
    w.object([&] {
      w.field("saved", year.fuel.units);
      w.field("unit", heating.unit);
    });
  });
}

void write_by_bills(JsonWriter& w, const std::optional<YearSaved>& year,
                    const HeatingTerms& heating) {
  w.object_or_null("scaled_to_bills", year, [&](const YearSaved& y) {
    w.field("annual_saving", y.fuel.money);
    w.field("heat_saved_btu", y.heat);
    write_energy(w, y, heating);
    w.field("co2_lb", y.fuel.co2_lb);
  });
}

void write_pair(JsonWriter& w, std::string_view key, double low, double high) {
  w.list(key, [&] {
    w.number(low);
    w.number(high);
  });
}

void write_cooling(JsonWriter& w, const std::optional<CoolingRange>& cooling) {
  w.object_or_null("cooling", cooling, [&](const CoolingRange& c) {
    write_pair(w, "kwh_saved", c.kwh_low, c.kwh_high);
    if (c.money_low && c.money_high)
      write_pair(w, "annual_saving", *c.money_low, *c.money_high);
    else
      w.field_null("annual_saving");
    w.field("confidence", "low");
  });
}

void write_step(JsonWriter& w, const StepResult& step) {
  w.field("step", step.step);
  w.field("target_r", step.target_r);
  w.field("reached", step.reached);
  w.field("effective_r", step.effective_r);
  w.field("added_in", step.added);
  w.field("bags", step.bags);
  w.field("cost", step.cost);
  w.field("fixed_cost", step.fixed_cost);
  w.field("rebate", step.rebate);
  w.field("fuel_saved", step.fuel_units);
  w.field("annual_saving", step.annual_saving);
  w.field("payback_years", step.payback);
  w.field("sir", step.sir);
  w.field("earns_cost", step.earns_cost);
  w.field("cost_so_far", step.cost_so_far);
  w.field("annual_saving_so_far", step.saving_so_far);
  w.field("sir_so_far", step.sir_so_far);
  write_ends(w, step.range);
}

}  // namespace

void write_terms_json(JsonWriter& w, const Evaluation& e) {
  write_heating(w, e.heating);
  w.object_or_null("money", e.money, [&](const auto& m) {
    w.field("life_years", m.life_years);
    w.field("real_discount_rate_percent", m.discount_percent);
    w.field("real_price_rise_percent", m.price_rise_percent);
    w.field("sealing_saving_per_year",
            e.sealing_saving ? std::optional(e.sealing_saving->per_year) : std::nullopt);
    w.field_or_null("sealing_saving_basis", !e.sealing_saving          ? std::string_view()
                                            : e.sealing_saving->tested ? "blower-door"
                                                                       : "given");
  });
}

void write_worth_json(JsonWriter& w, const Totals& t, const Evaluation& e) {
  w.field("worse", t.worse);
  const auto& year = t.year_by_bills ? t.year_by_bills : t.year;
  w.field("annual_saving", year ? year->fuel.money : std::nullopt);
  write_line(w, "measure", t.measure);
  write_line(w, "package", t.package);
  if (!t.year || !e.heating) {
    for (const std::string_view key :
         {"energy_by_fuel", "co2_lb", "heat_saved_btu", "scaled_to_bills"})
      w.field_null(key);
  } else {
    write_energy(w, *t.year, *e.heating);
    w.field("co2_lb", t.year->fuel.co2_lb);
    w.field("heat_saved_btu", t.year->heat);
    write_by_bills(w, t.year_by_bills, *e.heating);
  }
  write_cooling(w, t.cooling);
  w.field("attic_air_percent_off", t.attic_air_percent);
  w.field("annual_saving_low", t.saving_low);
  w.field("annual_saving_high", t.saving_high);
}

void write_next_steps_json(JsonWriter& w, const Evaluation& e) {
  if (e.steps.empty()) {
    w.field_null("steps");
  } else {
    w.objects("steps", e.steps, [&](const StepResult& step) { write_step(w, step); });
  }
  w.field_or_null("last_worthwhile_step", e.last_worthwhile);
  w.field("never_pays_back", e.never_pays);
  w.texts("unpriced_sections", e.unpriced);
  w.field_or_null("last_worthwhile_step_low", e.last_worthwhile_low);
}

}  // namespace overjoist::io
