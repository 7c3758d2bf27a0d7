// SPDX-License-Identifier: MIT
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// Heating, cooling and money of a survey; the core checks the same limits again.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr double
    kLeastEfficiency = 0.05,
    kMostEfficiency =
        1.1;  // condensing boilers rated on net heat come above 1; heat pumps begin well above
constexpr double kSiteBase = 65.0;  // of site.hdd65_f_day
constexpr Bounds kUnits = from(0, 1e7);

void set_fuel(Reader& r, Heating& heating, Scalar& v) {
  if (r.word(*v.text, r.user<SurveyBuild>().fuels, "fuel")) heating.fuel = std::move(*v.text);
}

/// A share; what is above it gets its likely meaning as a hint.
void set_efficiency(Reader& r, Heating& heating, Scalar& v) {
  if (v.number >= kLeastEfficiency && v.number <= kMostEfficiency) {
    heating.efficiency = v.number;
    return;
  }
  const bool low = !(v.number >= kLeastEfficiency);
  if (low)
    r.fault(make_fault<F::efficiency_too_low>(r.raw(), kLeastEfficiency, kMostEfficiency));
  else if (v.number <= kCop.high)
    r.fault(make_fault<F::efficiency_as_cop>(r.raw(), kLeastEfficiency, kMostEfficiency));
  else
    r.fault(make_fault<F::efficiency_as_percent>(r.raw(), kLeastEfficiency, kMostEfficiency));
}

void finish_bills(Reader& r, const HeatingBills& bills, const Seen&) {
  if (bills.base_load_units && bills.units_per_year > 0 &&
      *bills.base_load_units >= bills.units_per_year)
    r.fault_of("base_load_units",
               make_fault<F::base_load_above_bills>(*bills.base_load_units, bills.units_per_year));
}

void finish_heating(Reader& r, const Heating& h, const Seen& seen) {
  need_one_way<F::efficiency_missing, F::efficiency_twice>(
      r, std::size_t{seen.has("efficiency")} + seen.has("cop"));
  if (seen.has("cop") && !h.fuel.empty() && h.fuel != "electricity")
    r.fault_of("cop", make_fault<F::cop_of_fuel>(h.fuel));
  if (seen.has("hdd_f_day") != seen.has("base_f"))
    r.fault(make_fault<F::degree_days_halved>(seen.has("base_f") ? "hdd_f_day" : "base_f"));
  const double base = h.base_f.value_or(kSiteBase);
  if (h.indoor_f && *h.indoor_f < base)
    r.fault_of("indoor_f", make_fault<F::indoors_below_base>(*h.indoor_f, base));
}

void finish_cooling(Reader& r, const Cooling&, const Seen& seen) {
  if (!seen.has("cop")) r.fault(make_fault<F::cooling_cop_missing>());
  if (!seen.has("degree_hours_f_h") && !seen.has("hours"))
    r.fault(make_fault<F::cooling_hours_missing>());
}

void finish_rebate(Reader& r, const RebateTerms&, const Seen& seen) {
  need_one_way<F::rebate_missing, F::rebate_two_ways>(
      r, std::size_t{seen.has("per_ft2")} + seen.has("percent"));
}

void finish_money(Reader& r, const MoneyWish&, const Seen& seen) {
  if (seen.has("tax_on") && !seen.has("tax_percent")) r.fault(make_fault<F::tax_missing>());
}

constexpr auto kBillsFields = fields_of<HeatingBills>({
    number_field<&HeatingBills::units_per_year>("units_per_year", from(0.01, 1e7), true),
    number_field<&HeatingBills::base_load_units>("base_load_units", kUnits),
    number_field<&HeatingBills::allowed_share>("allowed_share", from(0.01, 1)),
});
constexpr Shape<HeatingBills> kBills{kBillsFields, finish_by<finish_bills>()};
constexpr auto kHeatingFields = fields_of<Heating>({
    set_by<set_fuel>(
        {.key = "fuel", .kinds = kText, .required = true, .missing = key_fault<F::missing_fuel>}),
    set_by<set_efficiency>({.key = "efficiency",
                            .kinds = kNumber,
                            .dimension = number,
                            .bounds = from(-1e300, 1e300)}),
    number_field<&Heating::cop>("cop", kCop),
    number_field<&Heating::price_per_unit>("price_per_unit", kPrice),
    number_field<&Heating::co2_lb_per_unit>("co2_lb_per_unit", from(0, 1e6)),
    number_field<&Heating::hdd_f_day>("hdd_f_day", from(0, 25000)),
    number_field<&Heating::base_f>("base_f", from(30, 80)),
    number_field<&Heating::days_below_base>("days_below_base", from(1, 366)),
    number_field<&Heating::indoor_f>("indoor_f", from(40, 90)),
    object_field<&Heating::bills>("bills", kBills),
});
constexpr auto kCoolingFields = fields_of<Cooling>({
    number_field<&Cooling::cop>("cop", kCop),
    number_field<&Cooling::price_per_kwh>("price_per_kwh", kPrice),
    number_field<&Cooling::degree_hours_f_h>("degree_hours_f_h", from(0, 1e6)),
    number_field<&Cooling::hours>("hours", from(0, 8784)),
});
constexpr auto kRebateFields = fields_of<RebateTerms>({
    number_field<&RebateTerms::per_ft2>("per_ft2", kPrice),
    quantity_field<&RebateTerms::percent>("percent", percent, from(0, 100)),
    number_field<&RebateTerms::cap>("cap", kPrice),
});
constexpr Shape<RebateTerms> kRebate{kRebateFields, finish_by<finish_rebate>()};
constexpr auto kMoneyWishFields = fields_of<MoneyWish>({
    number_field<&MoneyWish::life_years>("life_years", from(1, 100)),
    quantity_field<&MoneyWish::real_discount_rate_percent>("real_discount_rate_percent", percent,
                                                           from(0, 100)),
    quantity_field<&MoneyWish::real_price_rise_percent>("real_price_rise_percent", percent,
                                                        from(0, 100)),
    object_field<&MoneyWish::rebate>("rebate", kRebate),
    number_field<&MoneyWish::sealing_saving_per_year>("sealing_saving_per_year", kPrice),
    flag_field<&MoneyWish::accept_sealing_upper_bound>("accept_sealing_upper_bound"),
    quantity_field<&MoneyWish::tax_percent>("tax_percent", percent, from(0, 100)),
    word_field<&MoneyWish::tax_on>("tax_on", kWords<TaxOn>),
});

}  // namespace

constinit const Shape<Heating> kHeatingShape{kHeatingFields, finish_by<finish_heating>()};
constinit const Shape<Cooling> kCoolingShape{kCoolingFields, finish_by<finish_cooling>()};
constinit const Shape<MoneyWish> kMoneyWishShape{kMoneyWishFields, finish_by<finish_money>()};

}  // namespace overjoist::io
