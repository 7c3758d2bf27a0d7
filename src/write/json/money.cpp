// SPDX-License-Identifier: MIT
#include "write/json/money.hpp"

#include "write/json/parts.hpp"

namespace overjoist::io {
namespace {

void write_bills(JsonWriter& w, const std::optional<BillCheck>& bills) {
  if (!bills) return w.field_null("bills");
  w.key("bills");
  w.begin_object();
  w.field("ceiling_share", bills->computed_share);
  w.field("allowed_share", bills->allowed_share);
  w.field("ceiling_percent", bills->percent);
  w.field("factor", bills->factor);
  w.end_object();
}

void write_heating(JsonWriter& w, const std::optional<HeatingTerms>& heating) {
  if (!heating) return w.field_null("heating");
  const HeatingTerms& h = *heating;
  w.key("heating");
  w.begin_object();
  w.field("fuel", h.fuel);
  w.field("unit", h.unit);
  w.field("efficiency", h.efficiency.is_cop ? std::nullopt : std::optional(h.efficiency.value));
  w.field("cop", h.efficiency.is_cop ? std::optional(h.efficiency.value) : std::nullopt);
  w.field("price_per_unit", h.price_per_unit);
  w.field("hdd_f_day", h.season.hdd_f_day);
  w.field("base_f", h.season.base_f);
  w.field("days_below_base", h.season.days_below_base);
  w.field("indoor_f", h.indoor_f);
  w.field("form", std::string_view(h.form == SavingForm::plain ? "plain" : "full"));
  w.field("ua_before_btu_per_h_f", h.ua_before);
  write_bills(w, h.bills);
  w.field("attic", std::string_view(h.unvented ? "unvented" : "vented"));
  w.field("ceiling_ua_before_btu_per_h_f", h.ceiling_ua_before);
  w.end_object();
}

void write_line(JsonWriter& w, std::string_view key, const WorthLine& line) {
  w.key(key);
  w.begin_object();
  w.field("annual_saving", line.annual_saving);
  w.field("payback_years", line.payback);
  w.field("present_value", line.present_value);
  w.field("sir", line.sir);
  w.field("cost", line.cost);
  w.field("rebate", line.rebate);
  w.field("payback_after_rebate_years", line.payback_after_rebate);
  w.field("payback_discounted_years", line.payback_discounted);
  w.field("annual_saving_unpriced", line.saving_unpriced);
  w.end_object();
}

void write_energy(JsonWriter& w, const YearSaved& year, const HeatingTerms& heating) {
  w.key("energy_by_fuel");
  w.begin_object();
  w.text_key(heating.fuel);
  w.begin_object();
  w.field("saved", year.fuel.units);
  w.field("unit", heating.unit);
  w.end_object();
  w.end_object();
}

void write_by_bills(JsonWriter& w, const std::optional<YearSaved>& year,
                    const HeatingTerms& heating) {
  if (!year) return w.field_null("scaled_to_bills");
  w.key("scaled_to_bills");
  w.begin_object();
  w.field("annual_saving", year->fuel.money);
  w.field("heat_saved_btu", year->heat);
  write_energy(w, *year, heating);
  w.field("co2_lb", year->fuel.co2_lb);
  w.end_object();
}

void write_pair(JsonWriter& w, std::string_view key, double low, double high) {
  w.key(key);
  w.begin_array();
  w.number(low);
  w.number(high);
  w.end_array();
}

void write_cooling(JsonWriter& w, const std::optional<CoolingRange>& cooling) {
  if (!cooling) return w.field_null("cooling");
  w.key("cooling");
  w.begin_object();
  write_pair(w, "kwh_saved", cooling->kwh_low, cooling->kwh_high);
  if (cooling->money_low && cooling->money_high)
    write_pair(w, "annual_saving", *cooling->money_low, *cooling->money_high);
  else
    w.field_null("annual_saving");
  w.field("confidence", std::string_view("low"));
  w.end_object();
}

void write_step(JsonWriter& w, const StepResult& step) {
  w.begin_object();
  w.field("step", step.step);
  w.field("target_r", step.target_r);
  w.key("reached");
  w.flag(step.reached);
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
  write_flag(w, "earns_cost", step.earns_cost);
  w.field("cost_so_far", step.cost_so_far);
  w.field("annual_saving_so_far", step.saving_so_far);
  w.field("sir_so_far", step.sir_so_far);
  w.end_object();
}

}  // namespace

void write_terms_json(JsonWriter& w, const Evaluation& e) {
  write_heating(w, e.heating);
  if (!e.money) return w.field_null("money");
  w.key("money");
  w.begin_object();
  w.field("life_years", e.money->life_years);
  w.field("real_discount_rate_percent", e.money->discount_percent);
  w.field("real_price_rise_percent", e.money->price_rise_percent);
  w.field("sealing_saving_per_year",
          e.sealing_saving ? std::optional(e.sealing_saving->per_year) : std::nullopt);
  w.field_or_null("sealing_saving_basis", !e.sealing_saving               ? std::string_view()
                                          : e.sealing_saving->upper_bound ? "upper-bound"
                                                                          : "given");
  w.end_object();
}

void write_worth_json(JsonWriter& w, const Totals& t, const Evaluation& e) {
  write_flag(w, "worse", t.worse);
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
}

void write_next_steps_json(JsonWriter& w, const Evaluation& e) {
  if (e.steps.empty()) {
    w.field_null("steps");
  } else {
    w.key("steps");
    w.begin_array();
    for (const StepResult& step : e.steps) write_step(w, step);
    w.end_array();
  }
  w.field_or_null("last_worthwhile_step", e.last_worthwhile);
  write_flag(w, "never_pays_back", e.never_pays);
  w.key("unpriced_sections");
  w.begin_array();
  for (const std::string& name : e.unpriced) w.string(name);
  w.end_array();
}

}  // namespace overjoist::io
