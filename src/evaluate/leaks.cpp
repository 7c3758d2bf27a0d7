// SPDX-License-Identifier: MIT
#include "evaluate/leaks.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <optional>

#include "overjoist/leakage.hpp"

// Heat that air carries in a year (method eq. 17b).
namespace overjoist::parts {
namespace {

/// Winter by bins where mean and spread are known, else by degree days over the days of the season.
LeakMethod leak_method(const Site& site) {
  if (site.outdoor_mean_f && site.outdoor_sd_f) return LeakMethod::bins;
  return site.hdd65_f_day && site.heating_days.value_or(0.0) > 0 ? LeakMethod::degree_days
                                                                 : LeakMethod::none;
}

/// The rooms and the base that the survey's heating gives, else the table's. By degree days the
/// base stays that of the site's degree days.
void leak_temperatures(LeakHeat& leak, const Job& job) {
  const Heating heating = job.survey.heating.value_or(Heating{});
  const bool own_base = heating.base_f && leak.method == LeakMethod::bins;
  leak.indoor_f = heating.indoor_f ? *heating.indoor_f : job.tables.figure("indoor-temperature");
  leak.balance_f = own_base ? *heating.base_f : job.tables.figure("balance-temperature");
  if (!heating.indoor_f) use_figures(job.notes, job.tables, {"indoor-temperature"});
  if (!own_base) use_figures(job.notes, job.tables, {"balance-temperature"});
  if (!heating.indoor_f || !own_base)
    job.notes.assume("leak-temperatures", "",
                     {{"indoor", leak.indoor_f}, {"balance", leak.balance_f}});
}

/// Degree days counted from the rooms, and the mean outdoor temperature of their season.
struct RoomSeason {
  double hdd_f_day, mean_f;
};
RoomSeason from_rooms(const LeakHeat& leak, const Site& site) {
  const double days = *site.heating_days, hdd = *site.hdd65_f_day;
  return {std::max(0.0, hdd + (leak.indoor_f - leak.balance_f) * days),
          leak.balance_f - hdd / days};
}

Energy leak_heat(const LeakHeat& leak, Area ela, const Site& site, const Tables& tables) {
  const LeakPath path{
      ela, {leak.indoor_f, leak.height}, tables.figure("flow-exponent"), leak.air_heat};
  if (leak.method == LeakMethod::bins)
    return leak_heat_by_bins(path, {*site.outdoor_mean_f, *site.outdoor_sd_f}, leak.balance_f);
  const RoomSeason season = from_rooms(leak, site);
  return leak_heat_simple(path, season.hdd_f_day, season.mean_f);
}

/// A leak is one of many: the range about the figure of the stack alone, and no more than all the
/// air of a tested house carries.
HeatSpan span_of(Energy stack, std::optional<Energy> house, const Tables& tables) {
  HeatSpan span{stack * tables.figure("leak-heat-low"), stack * tables.figure("leak-heat-high")};
  if (!house) return span;
  return {std::min(span.low, *house), std::min(span.high, *house)};
}

void add_known_leaks(Plan& plan, const Job& job) {
  LeakHeat& leak = plan.leak;
  const Site& site = job.survey.site;
  const SealingTotals& totals = plan.sealing.totals;
  leak.height = inches(12 * job.tables.figure("stack-height") * site.storeys.value_or(1));
  leak.typical = leak_heat(leak, totals.leak_typical, site, job.tables);
  leak.tight = leak_heat(leak, totals.leak_tight, site, job.tables);
  const std::optional<Energy> before = plan.house ? plan.house->before : std::nullopt;
  const std::optional<Energy> after = plan.house ? plan.house->after : std::nullopt;
  leak.found = span_of(*leak.typical, before, job.tables);
  leak.sealed = span_of(*leak.tight, after ? after : before, job.tables);
  use_figures(job.notes, job.tables,
              {"flow-exponent", "stack-height", "leak-heat-low", "leak-heat-high"});
  if (!site.storeys) job.notes.assume("one-storey");
  job.notes.assume("leak-height", "", {{"value", leak.height}});
  job.notes.assume("leak-heat-range");
}

/// Coefficients of the whole-house form stand in the table for so many storeys; a taller house
/// counts as that.
constexpr int kMostStoreys = 3;

std::optional<HouseAir> house_air(const Job& job) {
  if (!job.survey.blower_door) return {};
  const BlowerDoor& test = *job.survey.blower_door;
  HouseAir house{test.cfm50_before, test.cfm50_after, 1, {}, {}, {}, {}};
  const auto storeys = test.storeys ? test.storeys : job.survey.site.storeys;
  house.storeys = storeys.value_or(1);
  if (!storeys) job.notes.assume("one-storey");
  const double exponent = job.tables.figure("flow-exponent");
  house.ela_before = tested_leakage_area(test.cfm50_before, exponent);
  if (test.cfm50_after) house.ela_after = tested_leakage_area(*test.cfm50_after, exponent);
  return house;
}

void add_house_heat(HouseAir& house, const LeakHeat& leak, const Job& job) {
  const Site& site = job.survey.site;
  const int storeys = std::min(house.storeys, kMostStoreys);
  const auto given = job.survey.blower_door->wind_mph;
  const double wind = given ? *given : job.tables.figure("wind-speed");
  const auto heat = [&](Area ela) {
    const TestedHouse tested{ela,
                             leak.indoor_f,
                             wind,
                             {job.tables.figure(fmt::format("house-stack-{}", storeys)),
                              job.tables.figure(fmt::format("house-wind-{}", storeys))},
                             leak.air_heat};
    if (leak.method == LeakMethod::bins)
      return house_heat_by_bins(tested, {*site.outdoor_mean_f, *site.outdoor_sd_f}, leak.balance_f);
    const RoomSeason season = from_rooms(leak, site);
    return house_heat_simple(tested, season.hdd_f_day, season.mean_f);
  };
  house.before = heat(house.ela_before);
  if (house.ela_after) house.after = heat(*house.ela_after);
  if (!given) job.notes.assume("wind-speed", "", {{"value", wind}});
  job.notes.assume("house-form");
  use_figures(job.notes, job.tables, {"house-stack-1", "house-wind-1", "wind-speed"});
}

/// What such work has reached in many houses; more than that is to be shown.
void judge_fall(const HouseAir& house, const Job& job) {
  if (!house.cfm50_after || !(house.cfm50_before > 0)) return;
  const double fall = 100.0 * (1.0 - *house.cfm50_after / house.cfm50_before);
  if (!(fall > 0))
    job.notes.caution("test-no-fall", "attic");
  else if (fall > job.tables.figure("sealing-fall"))
    job.notes.caution("test-great-fall", "attic", {{"fall", fall}});
}

}  // namespace

void use_figures(Notes& notes, const Tables& tables, std::initializer_list<std::string_view> ids) {
  for (const FigureRow& row : tables.figures)
    if (std::find(ids.begin(), ids.end(), row.id) != ids.end()) notes.use_sources(row.sources);
}

void plan_leak_heat(Plan& plan, const Job& job) {
  const Site& site = job.survey.site;
  plan.house = house_air(job);
  if (plan.house) judge_fall(*plan.house, job);
  const bool leaks = plan.sealing.totals.leaks_known > 0;
  if (!leaks && !plan.house) return;
  LeakHeat& leak = plan.leak;
  leak.method = leak_method(site);
  if (leak.method == LeakMethod::none) return;
  leak_temperatures(leak, job);
  leak.elevation_ft = site.elevation_ft.value_or(0.0);
  leak.air_heat = air_heat_factor(leak.elevation_ft);
  if (!site.elevation_ft) job.notes.assume("leak-sea-level");
  if (plan.house) add_house_heat(*plan.house, leak, job);
  if (leaks) add_known_leaks(plan, job);
}

}  // namespace overjoist::parts
