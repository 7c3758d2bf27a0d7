// SPDX-License-Identifier: MIT
#include <fmt/core.h>

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
  const char* const hint = low ? "write 0.8 for 80 %; without the heating no saving is worked out"
                           : v.number <= kCop.high ? "a heat pump's COP is given as cop"
                                                   : "give it as a share: 0.8 for 80 %";
  r.fault(fmt::format("efficiency {} is too {}; allowed: {:g} to {:g}", r.raw(),
                      low ? "low" : "high", kLeastEfficiency, kMostEfficiency),
          hint);
}

void finish_bills(Reader& r, const HeatingBills& bills, const Seen&) {
  if (bills.base_load_units && bills.units_per_year > 0 &&
      *bills.base_load_units >= bills.units_per_year)
    r.fault_of("base_load_units",
               fmt::format("base_load_units {:g} leaves nothing of {:g} for heating",
                           *bills.base_load_units, bills.units_per_year),
               "give units of a whole year in both");
}

void finish_heating(Reader& r, const Heating& h, const Seen& seen) {
  need_one_way(r, std::size_t{seen.has("efficiency")} + seen.has("cop"), "the efficiency",
               "give efficiency as a share, or the cop of a heat pump");
  if (seen.has("cop") && !h.fuel.empty() && h.fuel != "electricity")
    r.fault_of("cop", fmt::format("a COP is for a heat pump on electricity, not for {}", h.fuel),
               "give efficiency as a share of 1");
  if (seen.has("hdd_f_day") != seen.has("base_f"))
    r.fault(seen.has("base_f") ? "hdd_f_day is missing" : "base_f is missing",
            "degree days mean nothing without their base: give hdd_f_day and base_f together");
  const double base = h.base_f.value_or(kSiteBase);
  if (h.indoor_f && *h.indoor_f < base)
    r.fault_of(
        "indoor_f",
        fmt::format("indoor_f {:g} is below the base of the degree days, {:g} F", *h.indoor_f,
                    base),
        "a house needs heat only below its indoor temperature: give degree days at a lower base");
}

void finish_cooling(Reader& r, const Cooling&, const Seen& seen) {
  if (!seen.has("cop"))
    r.fault("cop is missing", "give the seasonal COP; a rating in Btu per Wh is divided by 3.412");
  if (!seen.has("degree_hours_f_h") && !seen.has("hours"))
    r.fault("degree_hours_f_h and hours are missing", "give one of them, or both");
}

void finish_rebate(Reader& r, const RebateTerms&, const Seen& seen) {
  need_one_way(r, std::size_t{seen.has("per_ft2")} + seen.has("percent"), "the rebate",
               "give per_ft2 or percent, and a cap if there is one");
}

void finish_money(Reader& r, const MoneyWish& money_wish, const Seen& seen) {
  if (seen.has("sealing_saving_per_year") && money_wish.accept_sealing_upper_bound.value_or(false))
    r.fault_of("accept_sealing_upper_bound", "the sealing saving is given in more than one way",
               "give sealing_saving_per_year, or accept the upper bound");
  if (seen.has("tax_on") && !seen.has("tax_percent"))
    r.fault("tax_percent is missing", "tax_on says what tax_percent is taken of");
}

constexpr auto kBillsFields = fields_of<HeatingBills>({
    number_field<&HeatingBills::units_per_year>("units_per_year", from(0.01, 1e7), true),
    number_field<&HeatingBills::base_load_units>("base_load_units", kUnits),
    number_field<&HeatingBills::allowed_share>("allowed_share", from(0.01, 1)),
});
constexpr Shape<HeatingBills> kBills{kBillsFields, finish_by<finish_bills>()};
constexpr auto kHeatingFields = fields_of<Heating>({
    set_by<set_fuel>({.key = "fuel", .kinds = kText, .required = true}),
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
