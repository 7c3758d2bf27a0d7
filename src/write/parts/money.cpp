// SPDX-License-Identifier: MIT
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "write/parts/parts.hpp"

// Rounding is against us: savings and what they are worth go down, costs and years go up.
namespace overjoist::io {
namespace {

using Cell = std::string;

/// Three figures or so of an amount of fuel.
Cell fuel_text(double units, std::string_view unit) {
  const int decimals = units < 10 ? 2 : units < 100 ? 1 : 0;
  return fmt::format("{} {}", number_text(units, decimals, Toward::down), unit);
}

void write_saved(const Report& c, Columns& table, std::string_view after,
                 std::optional<YearSaved> Totals::*which) {
  const HeatingTerms& h = *c.e.heating;
  const auto row = [&](std::string_view what, auto words) {
    table.row(fmt::format("{}{}", what, after), c.totals(), [&](const Totals& t) {
      if (!(t.*which)) return Cell(kNone);
      return t.worse ? Cell("none") : words(*(t.*which));  // what is lost is not called saved
    });
  };
  row("heat saved", [&](const YearSaved& y) { return heat_text(y.heat, c.units); });
  row(h.fuel_name + " saved", [&](const YearSaved& y) { return fuel_text(y.fuel.units, h.unit); });
  row("money saved", [&](const YearSaved& y) {
    return y.fuel.money ? money_text(*y.fuel.money, c.e.currency, Toward::down)
                        : Cell("not priced");
  });
  row("CO2 saved", [&](const YearSaved& y) {
    return y.fuel.co2_lb ? mass_text(Mass::from_us(*y.fuel.co2_lb), c.units, Toward::down)
                         : Cell(kNone);
  });
}

Cell between_cell(double low, double high, std::string_view unit) {
  const Cell a = number_text(low, 0, Toward::down), b = number_text(high, 0, Toward::down);
  const Cell numbers = span_text(a, b);
  return unit.empty() ? numbers : fmt::format("{} {}", numbers, unit);
}

void write_cooling(const Report& c, Columns& table) {
  table.row("cooling, low confidence", c.totals(), [](const Totals& t) {
    return t.cooling && !t.worse ? between_cell(t.cooling->kwh_low, t.cooling->kwh_high, "kWh")
                                 : Cell(kNone);
  });
  const auto money = [&](const Totals& t) {
    if (!t.cooling || t.worse || !t.cooling->money_low || !t.cooling->money_high)
      return Cell(kNone);
    return between_cell(*t.cooling->money_low, *t.cooling->money_high, c.e.currency);
  };
  table.below("its money", c.totals(), money);
}

Cell years_text(const std::optional<double>& years) {
  return years ? counted(number_text(*years, 1, Toward::up), "year") : Cell("never");
}

/// The rows of one line of model 14; nothing where the saving has no price.
void write_worth(const Report& c, Columns& table, std::string_view name, WorthLine Totals::*line) {
  const auto shown = [&](auto words) {
    return [line, words](const Totals& t) {
      return (t.*line).present_value ? words(t.*line) : Cell(kNone);
    };
  };
  const auto below = [&](std::string_view label, auto words) {
    table.below(label, c.totals(), shown(words));
  };
  const auto money = [&](const std::optional<double>& amount, Toward toward,
                         std::string_view none) {
    return amount ? money_text(*amount, c.e.currency, toward) : Cell(none);
  };
  table.row(fmt::format("{}, cost", name), c.totals(),
            shown([&](const WorthLine& w) { return money(w.cost, Toward::up, "not priced"); }));
  below("rebate", [&](const WorthLine& w) { return money(w.rebate, Toward::down, kNone); });
  below("saving set against it", [&](const WorthLine& w) {
    return w.saving_unpriced && *w.annual_saving >= 0 ? money(w.annual_saving, Toward::down, kNone)
                                                      : Cell(kNone);
  });
  below("pays back in",
        [&](const WorthLine& w) { return w.cost ? years_text(w.payback) : Cell(kNone); });
  below("after the rebate", [&](const WorthLine& w) {
    return w.cost && w.rebate ? years_text(w.payback_after_rebate) : Cell(kNone);
  });
  const auto not_below_0 = [](const std::optional<double>& x) {
    return x && *x >= 0 ? x : std::nullopt;
  };
  below("all savings, worth today", [&](const WorthLine& w) {
    return money(not_below_0(w.present_value), Toward::down, kNone);
  });
  below("SIR (that over the cost)", [&](const WorthLine& w) {
    return not_below_0(w.sir) ? number_text(*w.sir, 2, Toward::down) : Cell(kNone);
  });
}

/// "in 2.1 to 95 years", "in 2.1 years or never".
Cell years_span(const WorthRange& r) {
  if (!r.payback_low) return "never";
  const Cell low = number_text(*r.payback_low, 1, Toward::down);
  if (!r.payback_high) return fmt::format("in {} or never", counted(low, "year"));
  return "in " + counted(span_text(low, number_text(*r.payback_high, 1, Toward::up)), "year");
}

/// One end's insulation at both ends of what the ranges of R leave.
Cell worth_span(const Report& c, const WorthLine& line) {
  const WorthRange& r = *line.range;
  const auto money = [&](double low, double high) {
    return span_text(money_text(low, c.e.currency, Toward::down),
                     money_text(high, c.e.currency, Toward::up));
  };
  Cell out = money(r.saving_low, r.saving_high) + " a year";
  if (r.present_low) out += ", worth today " + money(*r.present_low, *r.present_high);
  if (!line.cost || !(*line.cost > 0)) return out;
  out += ", pays back " + years_span(r);
  if (r.sir_low)
    out += ", SIR " + span_text(number_text(*r.sir_low, 2, Toward::down),
                                number_text(*r.sir_high, 2, Toward::up));
  return out;
}

/// What the 90 % ranges of R leave of the insulation's worth; "" where nothing is saved.
Cell span_words(const Report& c) {
  Cell out;
  for (const End end : c.ends()) {
    const Totals& t = c.e.planned[end].totals;
    if (t.worse || !t.measure.range || !(t.measure.range->saving_high > 0)) continue;
    out += fmt::format("{} for {} {}", out.empty() ? "At 90 %, the insulation saves" : ";",
                       c.target(c.e.planned[end].target), worth_span(c, t.measure));
  }
  return out.empty() ? out : out + '.';
}

/// What the saving was worked out from.
Cell season_words(const Report& c) {
  const HeatingTerms& h = *c.e.heating;
  Cell out = h.form == SavingForm::plain ? "Plain degree-day figure, usually low but not a bound: "
                                         : "Figure with the indoor term: ";
  out += fmt::format("{} at base {}", degree_days_text(h.season.hdd_f_day, c.units),
                     temperature_text(h.season.base_f, c.units));
  if (h.form == SavingForm::full)
    out += fmt::format(", {} below it, rooms at {}",
                       counted(number_text(*h.season.days_below_base, 0), "day"),
                       temperature_text(*h.indoor_f, c.units));
  out += fmt::format("; {} with {} {}.", h.fuel_name,
                     h.efficiency.is_cop ? "a seasonal COP of" : "an efficiency of",
                     number_text(h.efficiency.value, 3));
  if (h.price_per_unit)
    out += fmt::format(" Price {}{} a {}.", number_text(*h.price_per_unit, 4),
                       c.e.currency.empty() ? "" : " " + c.e.currency, h.unit);
  if (h.unvented) out += " Unvented attic: ceiling and roof in series.";
  return out;
}

/// What the balance of the attic's air takes off, of either end; "" where nothing is counted.
Cell attic_air_words(const Report& c) {
  const auto& low = c.e.planned.low.totals.attic_air_percent;
  const auto& high = c.e.planned.high.totals.attic_air_percent;
  if (!low && !high) return {};
  const double one = low ? *low : *high, other = high ? *high : *low;
  const Cell from = number_text(std::min(one, other), 0), to = number_text(std::max(one, other), 0);
  return fmt::format("Counting that the attic is warmer than outdoors takes {} % off the saving.",
                     from == to ? from : from + " to " + to);
}

Cell money_words(const MoneyTerms& m) {
  const Cell out = fmt::format("Life {}, real discount rate {} % a year",
                               counted(number_text(m.life_years, 1), "year"),
                               number_text(m.discount_percent, 2));
  if (m.price_rise_percent == 0) return out + ", constant real price of the fuel.";
  return out + fmt::format(", real price of the fuel rising {} % a year.",
                           number_text(m.price_rise_percent, 2));
}

Cell bills_words(const BillCheck& bills) {
  return fmt::format(
      "By the bills the ceiling would take {} % of all heating; up to {} % is believed. {}",
      number_text(bills.percent, 1, Toward::down),
      number_text(bills.allowed_share * 100.0, 1, Toward::down),
      bills.factor < 1.0 ? "So the saving scaled to the bills stands beside the one worked out, "
                           "and all money goes by it."
                         : "The bills bear the figure.");
}

/// Ends at which nothing is saved; "" where there are none.
Cell worse_words(const Report& c) {
  if (!either(c.totals(), &Totals::worse)) return {};
  const End worse = c.totals().low.worse ? End::low : End::high;
  const Cell end = both(c.totals(), &Totals::worse)
                       ? Cell()
                       : fmt::format("For {} ", c.target(c.e.target.ends()[worse]));
  return end + (end.empty() ? "The" : "the") +
         " plan leaves the attic worse than found: nothing is saved, see the cautions.";
}

Cell sealing_words(const Report& c) {
  if (!c.e.sealing_saving) return "Sealing saving not counted.";
  const Cell money = money_text(c.e.sealing_saving->per_year, c.e.currency, Toward::down);
  if (c.e.sealing_saving->tested)
    return fmt::format(
        "The package also counts {} a year for sealing, by the blower door before and after.",
        money);
  return fmt::format("The package also counts {} a year for sealing, as given.", money);
}

}  // namespace

std::string saving_span_words(const Totals& t) {
  if (!t.saving_low || reaches(*t.saving_low, *t.saving_high)) return {};
  return fmt::format(" ({})", span_text(number_text(*t.saving_low, 0, Toward::down),
                                        number_text(*t.saving_high, 0, Toward::up)));
}

void write_year(const Report& c) {
  const bool cooling = either(c.totals(), &Totals::cooling);
  if (!c.e.heating && !cooling) return;
  c.page.heading("Each year");
  Columns table(c);
  table.head("for the target of" + r_unit(c), c.e.target,
             [&](Resistance r) { return r_given_cell(r, c.units); });
  if (c.e.heating) {
    write_saved(c, table, "", &Totals::year);
    write_saved(c, table, ", by the bills", &Totals::year_by_bills);
  }
  write_cooling(c, table);
  const auto costs = [](const Totals& t) { return t.measure.cost.value_or(0.0) > 0; };
  if (!nothing_to_do(c.e) || either(c.totals(), costs)) {
    write_worth(c, table, "insulation measure", &Totals::measure);
    write_worth(c, table, "whole package", &Totals::package);
    if (const Cell without = unpriced_words(c.e); c.e.money && !without.empty())
      c.page.paragraph("Cost, payback and SIR are " + without + ".", 2);
  } else if (const Cell free = free_saving_words(c.e); c.e.money && !free.empty()) {
    c.page.paragraph(free, 2);  // there is no cost that could pay back
  }
  if (const Cell span = span_words(c); c.e.money && !span.empty()) c.page.paragraph(span, 2);
  if (const Cell worse = worse_words(c); !worse.empty()) c.page.paragraph(worse, 2);
  if (c.e.heating) c.page.paragraph(season_words(c), 2);
  if (const Cell air = attic_air_words(c); !air.empty()) c.page.paragraph(air, 2);
  if (c.e.money) c.page.paragraph(money_words(*c.e.money), 2);
  if (c.e.heating && c.e.heating->bills) c.page.paragraph(bills_words(*c.e.heating->bills), 2);
  c.page.paragraph(sealing_words(c) + " Savings vary: an estimate, not a promise.", 2);
}

}  // namespace overjoist::io
