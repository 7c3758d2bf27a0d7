// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "evaluate/target.hpp"
#include "overjoist/diagnostics.hpp"

// The target band (model 9): as the survey asks, else of its climate zone.
namespace overjoist::parts {
namespace {

bool rule_holds(const ZoneRule& rule, double hdd, double cdd, bool marine) {
  return (!rule.marine || marine) && (!rule.cdd50_above || cdd > *rule.cdd50_above) &&
         (!rule.cdd50_upto || cdd <= *rule.cdd50_upto) &&
         (!rule.hdd65_above || hdd > *rule.hdd65_above) &&
         (!rule.hdd65_upto || hdd <= *rule.hdd65_upto);
}

/// Zone by the site's degree days, or null.
const ZoneRule* rule_of(const Site& site, const Tables& tables) {
  if (!site.hdd65_f_day || !site.cdd50_f_day) return nullptr;
  const auto rule = std::find_if(tables.zones.begin(), tables.zones.end(), [&](const ZoneRule& r) {
    return rule_holds(r, *site.hdd65_f_day, *site.cdd50_f_day, site.marine.value_or(false));
  });
  return rule == tables.zones.end() ? nullptr : &*rule;
}

/// A zone that was given and degree days that say another.
void zone_caution(const Site& site, const Tables& tables, Notes& notes) {
  const ZoneRule* rule = rule_of(site, tables);
  if (site.climate_zone.empty() || !rule) return;
  if (std::max(1, site.climate_zone[0] - '0') != rule->zone)
    notes.caution("zone-contradicts", "attic",
                  {{"given", site.climate_zone}, {"found", fmt::format("{}", rule->zone)}});
}

/// Zone number from the site, 0 if it is not known; zone 0 counts as 1 (model 9).
int zone_of(const Site& site, const Tables& tables, Notes& notes) {
  if (!site.climate_zone.empty()) {
    notes.assume("zone-given", "", {{"value", site.climate_zone}});
    return std::max(1, site.climate_zone[0] - '0');
  }
  if (!site.hdd65_f_day || !site.cdd50_f_day) {
    if (site.hdd65_f_day || site.cdd50_f_day) notes.assume("degree-days-half");
    return 0;
  }
  const ZoneRule* rule = rule_of(site, tables);
  if (!rule) return 0;
  notes.assume("zone-from-degree-days", "",
               {{"value", fmt::format("{}{}", rule->zone, rule->marine ? "C" : "")}});
  return rule->zone;
}

void band_of_zone(TargetBand& band, int zone, const Tables& tables, Notes& notes) {
  const auto row = std::find_if(tables.targets.begin(), tables.targets.end(),
                                [&](const TargetRow& r) { return r.zone == zone; });
  if (row == tables.targets.end()) {
    set(band, Ends<Resistance>{tables.default_low, tables.default_high});
    notes.assume("default-target", "",
                 {{"low", tables.default_low}, {"high", tables.default_high}});
    return;
  }
  band.zone = static_cast<char>('0' + zone);
  set(band, *row);
  notes.use_sources(row->sources);
}

}  // namespace

TargetBand target_band(const Job& job) {
  TargetBand band;
  const TargetRequest& wish = job.survey.target;
  if (either(wish, kKnown)) {
    const Resistance given = wish.low ? *wish.low : *wish.high;  // where one stands for both
    set(band, map(wish, [&](const auto& asked) { return asked.value_or(given); }));
    if (!job.survey.site.climate_zone.empty())
      band.zone = std::max(
          '1', job.survey.site.climate_zone[0]);  // told, though the band does not follow it
    if (!both(wish, kKnown)) job.notes.assume("band-one-given", "", {{"value", given}});
    if (band.low > band.high)
      throw Error(ErrorCode::contradiction, "target", "low_r is above high_r",
                  "give the lower figure as low_r");
  } else {
    band_of_zone(band, zone_of(job.survey.site, job.tables, job.notes), job.tables, job.notes);
  }
  zone_caution(job.survey.site, job.tables, job.notes);
  if (!wish.basis) job.notes.assume("basis-working");
  band.basis = wish.basis.value_or(Basis::working);
  return band;
}

/// The section's own target, that of every knee wall, or the attic's band.
TargetBand section_band(const Section& section, const TargetBand& attic, const Tables& tables,
                        Notes& notes) {
  TargetBand band = attic;
  if (section.target_r) {
    set_both(band, *section.target_r);
  } else if (section.kind == SectionKind::knee_wall) {
    set_both(band, tables.knee_wall_r);
    notes.assume("knee-wall-target", section.name, {{"value", tables.knee_wall_r}});
  }
  return band;
}

}  // namespace overjoist::parts
