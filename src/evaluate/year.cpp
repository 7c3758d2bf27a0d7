// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <utility>

#include "evaluate/attic_above.hpp"
#include "evaluate/blown.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/money.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/saving_range.hpp"
#include "evaluate/sealing.hpp"
#include "evaluate/worked.hpp"
#include "evaluate/year.hpp"
#include "overjoist/diagnostics.hpp"

// The yearly saving (method eq. 13), what it is worth (eq. 14) and the next-step table (eq. 14a) of
// a whole attic.
namespace overjoist::parts {
namespace {

constexpr double kSiteBase = 65.0;  // of Site::hdd65_f_day

/// A default of the money table; its sources are then among those of the result.
double taken(const Tables& tables, std::string_view id, Notes& notes) {
  const auto row = std::find_if(tables.money.begin(), tables.money.end(),
                                [&](const MoneyDefault& d) { return d.id == id; });
  if (row != tables.money.end()) notes.use_sources(row->sources);
  return tables.money_default(id);
}

// ---- Terms

/// Degree days of the survey's heating, else of its site at base 65 F; empty without either.
std::optional<DegreeDays> season_of(const Heating& heating, const Site& site, Notes& notes) {
  if (heating.hdd_f_day && heating.base_f)
    return DegreeDays{*heating.hdd_f_day, *heating.base_f, heating.days_below_base};
  if (heating.hdd_f_day || heating.base_f)
    throw Error(ErrorCode::missing, "heating", "degree days and their base are not both given",
                "give hdd_f_day and base_f together");
  if (!site.hdd65_f_day) {
    notes.assume("no-degree-days");
    return {};
  }
  notes.assume("degree-days-of-site", "", {{"value", *site.hdd65_f_day}});
  return DegreeDays{*site.hdd65_f_day, kSiteBase, heating.days_below_base};
}

Efficiency efficiency_of(const Heating& heating) {
  if (heating.efficiency.has_value() == heating.cop.has_value())
    throw Error(ErrorCode::missing, "heating", "not just one of efficiency and COP is given",
                "give the one or the other");
  return heating.cop ? Efficiency{*heating.cop, true} : Efficiency{*heating.efficiency, false};
}

const Fuel& fuel_of(const Heating& heating, const Tables& tables, Notes& notes) {
  const Fuel* fuel = tables.fuel(heating.fuel);
  if (!fuel)
    throw Error(ErrorCode::unknown_name, "heating",
                fmt::format("fuel '{}' is not known", heating.fuel), "see the table of fuels");
  notes.use_sources(fuel->sources);
  notes.assume("fuel-heat", "",
               {{"fuel", fuel->name},
                {"unit", fuel->unit},
                {"value", fuel->btu_per_unit},
                {"year", fuel->year ? fmt::format(" in {}", *fuel->year) : std::string()}});
  return *fuel;
}

BillCheck bill_check(const HeatingBills& given, const Year& year, Conductance before,
                     const Tables& tables, Notes& notes) {
  constexpr double kPercent = 100.0;
  if (!given.base_load_units) notes.assume("bills-no-base-load");
  const double share =
      given.allowed_share ? *given.allowed_share : taken(tables, "ceiling-bill-share", notes);
  if (!given.allowed_share)
    notes.assume("default-ceiling-share", "", {{"value", share * kPercent}});
  const Calibration c = calibrate(
      before, year.season, {given.units_per_year, given.base_load_units.value_or(0.0), share},
      delivered_per_unit(year.efficiency, *year.fuel.fuel));
  double percent = round_up(c.computed_share * kPercent,
                            1.0);  // once, and up: never equal to a share that it is above
  if (!(c.factor < 1.0))
    percent = std::min(percent, share * kPercent);        // nor above one that it keeps
  const double most = round_down(share * kPercent, 0.1);  // as the report shows it
  if (c.factor < 1.0) notes.caution("bills-too-low", "attic", {{"share", percent}, {"most", most}});
  return {c.factor, c.computed_share, share, percent};
}

MoneyTerms money_terms(const MoneyWish& wish, const Tables& tables, Notes& notes) {
  MoneyTerms terms;
  terms.life_years = wish.life_years ? *wish.life_years : taken(tables, "life-years", notes);
  terms.discount_percent = wish.real_discount_rate_percent
                               ? *wish.real_discount_rate_percent
                               : taken(tables, "real-discount-rate-percent", notes);
  terms.price_rise_percent = wish.real_price_rise_percent.value_or(0.0);
  if (!wish.life_years) notes.assume("default-life", "", {{"value", terms.life_years}});
  if (!wish.real_discount_rate_percent)
    notes.assume("default-discount-rate", "", {{"value", terms.discount_percent}});
  if (!wish.real_price_rise_percent) notes.assume("constant-price");
  return terms;
}

// ---- Cooling

/// What the cooling of either end is worked out with.
struct CoolingWork {
  const Cooling& cooling;
  Conductance before;
  const Fuel& power;
  const Tables& tables;
};

void add_cooling(Totals& t, const CoolingWork& work, Conductance after, Notes& notes) {
  const auto& [cooling, before, power, tables] = work;
  const CoolingSeason season{cooling.degree_hours_f_h, cooling.hours,
                             taken(tables, "attic-rise-low-f", notes),
                             taken(tables, "attic-rise-high-f", notes)};
  if (!cooling.cop)
    throw Error(ErrorCode::missing, "cooling", "no COP is given", "give the seasonal COP");
  const CoolingSaved saved = cooling_saved(before, after, season, *cooling.cop);
  const FuelTerms terms{&power, cooling.price_per_kwh, {}};
  const auto [low, high] = map(saved, [&](const auto& s) { return fuel_for(s, terms); });
  t.cooling = CoolingRange{low.units,  high.units,           low.money,
                           high.money, saved.counts_outdoor, saved.counts_rise};
  if (saved.counts_rise)
    notes.assume("cooling-rise", "", {{"low", season.rise_low_f}, {"high", season.rise_high_f}});
  if (!saved.counts_outdoor || !saved.counts_rise)
    notes.assume(saved.counts_rise ? "cooling-no-degree-hours" : "cooling-no-hours");
  notes.caution("cooling-uncertain", "attic");
}

// ---- Together

/// UA of the ceiling after either end, and the same with nothing done where the work has no price.
struct EndUa {
  CeilingUa all, paid;
};

EndUa ua_after(const Evaluation& e, const std::vector<SectionSaving>& savings,
               const Planned& planned) {
  const auto after = [&](std::size_t i) { return planned.sections[i].effective_r; };
  const auto paid = [&](std::size_t i) {
    return paid_r(e, e.sections[i], savings[i].before, after(i));
  };
  return {ceiling_ua(e, after), ceiling_ua(e, paid)};
}

/// Percent that the warmth of the attic's air takes off a saving; empty where nothing is saved.
std::optional<double> taken_off(const HeatingTerms& before, Conductance ceiling,
                                Conductance to_outdoors) {
  constexpr double kPercent = 100.0;
  if (!before.air.attic && !before.air.side) return {};
  if (reaches(ceiling.us(), before.ceiling_ua_before.us())) return {};
  return kPercent * (1.0 - (before.ua_before - to_outdoors) / (before.ceiling_ua_before - ceiling));
}

/// A year of one end; where the bills refute it, all money goes by theirs.
void add_year(Evaluation& e, Totals& t, const EndUa& after, const Year& year) {
  const HeatingTerms& heating = *e.heating;
  const Conductance before = heating.ua_before, all = *ua_to_outdoors(after.all, heating.air);
  const double factor = heating.bills ? heating.bills->factor : 1.0;
  t.attic_air_percent = taken_off(heating, after.all.sum(), all);
  t.year = year.saved(before, all);
  if (factor < 1.0) t.year_by_bills = year.saved(before, all, factor);
  const auto paid = year.saved(before, *ua_to_outdoors(after.paid, heating.air), factor).fuel.money;
  const auto whole = t.year_by_bills ? t.year_by_bills->fuel.money : t.year->fuel.money;
  for (WorthLine* line : {&t.measure, &t.package}) {
    add_worth(*line, paid, e.money);
    if (!e.unpriced.empty() && paid) line->saving_unpriced = *whole - *paid;
  }
}

/// Money of a year at both ends of what the ranges of R leave.
void add_saving_range(Evaluation& e, Planned& planned, const SavingsWork& work, const Year& year) {
  const auto per_ua = year.saved(Conductance::from_us(1), Conductance{}).fuel.money;
  if (!per_ua) return;
  Totals& t = planned.totals;
  const Ends<double> all = saved_ends(saved_ua(e, work, planned, false));
  t.saving_low = all.low * *per_ua;
  t.saving_high = all.high * *per_ua;
  const Ends<double> paid = e.unpriced.empty() ? all : saved_ends(saved_ua(e, work, planned, true));
  t.measure.range.emplace();
  t.measure.range->saving_low = paid.low * *per_ua;
  t.measure.range->saving_high = paid.high * *per_ua;
}

CeilingUa ua_before(const Evaluation& e, const std::vector<SectionSaving>& savings) {
  return ceiling_ua(e, [&](std::size_t i) { return savings[i].before; });
}

void say_terms(const Evaluation& e, const Heating& heating, const Proposal& proposal,
               const FuelSaved& fuel, Notes& notes) {
  if (e.heating->form == SavingForm::plain) notes.assume("plain-degree-days");
  if (!heating.price_per_unit)
    notes.assume("no-energy-price", "", {{"fuel", e.heating->fuel_name}});
  if (!fuel.co2_lb) notes.assume("co2-not-known", "", {{"fuel", e.heating->fuel_name}});
  const auto unsaid = [](const Extra& extra) { return !extra.part; };
  if (std::any_of(proposal.extras.begin(), proposal.extras.end(), unsaid))
    notes.assume("extras-in-measure");
  notes.caution("savings-vary", "attic");
}

void add_heating(Evaluation& e, const Job& job, const SavingsWork& work) {
  const Heating& heating = *job.survey.heating;
  const auto season = season_of(heating, job.survey.site, job.notes);
  if (!season || !(e.attic.area > Area{})) return;
  const Fuel& fuel = fuel_of(heating, job.tables, job.notes);
  const Year year{*season,
                  heating.indoor_f,
                  efficiency_of(heating),
                  {&fuel, heating.price_per_unit, heating.co2_lb_per_unit}};
  const CeilingUa ceiling = ua_before(e, work.sections);
  const AtticAir air = attic_air(job);
  const auto to_outdoors = ua_to_outdoors(ceiling, air);
  if (!to_outdoors) return job.notes.assume("unvented-no-roof");
  if (!air.vented)
    job.notes.assume("unvented-roof", "", {{"r", *air.roof_r}, {"area", *air.roof_area}});
  const Conductance before = *to_outdoors;
  const SavingForm form = year.load(before, before).form;
  e.heating = HeatingTerms{fuel.id,
                           fuel.name,
                           fuel.unit,
                           year.efficiency,
                           heating.price_per_unit,
                           *season,
                           heating.indoor_f,
                           form,
                           before,
                           ceiling.sum(),
                           !air.vented,
                           {},
                           air};
  if (heating.bills)
    e.heating->bills = bill_check(*heating.bills, year, before, job.tables, job.notes);
  const MoneyWish wish = job.survey.money.value_or(MoneyWish{});
  if (heating.price_per_unit) e.money = money_terms(wish, job.tables, job.notes);
  for (Planned* p : each(e.planned)) {
    add_year(e, p->totals, ua_after(e, work.sections, *p), year);
    add_saving_range(e, *p, work, year);
  }
  say_terms(e, heating, work.proposal, e.planned.high.totals.year->fuel, job.notes);
  add_steps(e, wish, work, year);
}

/// An attic, or a floor of it, that the plan leaves worse than found, wet fill as if it were dry.
void worse_cautions(const Evaluation& e, const std::vector<SectionSaving>& savings, Notes& notes) {
  const auto say = [&](std::string_view where, Resistance before, Resistance after) {
    notes.caution("worse-than-found", where, {{"before", before}, {"after", after}});
  };
  const auto& [low, high] = e.planned;
  if (low.totals.worse || high.totals.worse) {
    const Resistance before = inverse(ua_before(e, savings).sum() / e.attic.area);
    return say("attic", before, (low.totals.worse ? low : high).attic.effective_r);
  }
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    if (!s.heated_below || is_lid(s.kind)) continue;  // a lid has a caution of its own
    const Resistance before = savings[i].before,
                     after = std::min(low.sections[i].effective_r, high.sections[i].effective_r);
    if (!reaches(after.us(), before.us())) say(s.name, before, after);
  }
}

}  // namespace

Conductance after_work(Conductance before, Conductance after) {
  return reaches(before.us(), after.us()) && reaches(after.us(), before.us()) ? before : after;
}

YearSaved Year::saved(Conductance before, Conductance after, double factor) const {
  const Energy heat = load(before, after_work(before, after)).load * factor;
  return {heat, fuel_saved(heat, efficiency, fuel)};
}

void add_savings(Evaluation& e, const Job& job, const SavingsWork& work) {
  add_costs(e, work, job.survey.money.value_or(MoneyWish{}));
  const Conductance found = ua_before(e, work.sections).sum();  // with or without heating
  for (Planned* p : each(e.planned)) p->totals.worse = !reaches(found.us(), p->attic.ua.us());
  if (job.survey.heating) add_heating(e, job, work);
  worse_cautions(e, work.sections, job.notes);
  if (!job.survey.cooling || !(e.attic.area > Area{})) return;
  if (job.survey.site.unvented()) return job.notes.assume("unvented-no-cooling");
  const Fuel* power = job.tables.fuel("electricity");
  if (!power)
    throw Error(ErrorCode::unknown_name, "cooling", "the table of fuels has no electricity");
  job.notes.use_sources(power->sources);
  const Conductance before = e.heating ? e.heating->ceiling_ua_before : e.attic.existing.ua;
  for (Planned* p : each(e.planned))
    add_cooling(p->totals, {*job.survey.cooling, before, *power, job.tables},
                after_work(before, p->attic.ua), job.notes);
}

}  // namespace overjoist::parts
