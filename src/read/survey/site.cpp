// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <utility>

#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// Where the house stands and what its attic is.
namespace overjoist::io {
namespace {

using enum Dimension;

/// A zone is a digit and perhaps a moisture letter: "5", "5A", "4C".
void set_zone(Reader& r, Site& site, Scalar& v) {
  std::string zone = v.kind == kText ? *v.text : fmt::format("{}", v.number);
  if (zone.size() == 2 && zone[1] >= 'a' && zone[1] <= 'c')
    zone[1] = static_cast<char>(zone[1] - 'a' + 'A');
  const bool digit = !zone.empty() && zone[0] >= '0' && zone[0] <= '8';
  if (digit && (zone.size() == 1 || (zone.size() == 2 && zone[1] >= 'A' && zone[1] <= 'C')))
    site.climate_zone = std::move(zone);
  else
    r.fault(make_fault<F::unknown_zone>(r.token()));
}

void finish_site(Reader& r, const Site& site, const Seen& seen) {
  const bool mean = seen.has("outdoor_mean_f"), sd = seen.has("outdoor_sd_f");
  if (mean != sd)
    r.fault(make_fault<F::missing_partner>(mean ? "outdoor_sd_f" : "outdoor_mean_f",
                                           "outdoor_mean_f", "outdoor_sd_f"));
  for (const char* key : {"attic_air", "roof_pitch_in_12", "attic_air_changes", "attic_volume_ft3"})
    if (seen.has(key) && site.unvented()) r.fault_of(key, make_fault<F::key_of_vented>(key));
  if (site.unvented() || site.balanced()) return;
  for (const char* key :
       {"roof_r", "roof_area_ft2", "roof_pitch_in_12", "attic_air_changes", "attic_volume_ft3"})
    if (seen.has(key)) r.fault_of(key, make_fault<F::key_of_balance>(key));
}
constexpr auto kSiteFields = fields_of<Site>({
    set_by<set_zone>({.key = "climate_zone", .kinds = kNumber | kText}),
    number_field<&Site::hdd65_f_day>("hdd65_f_day", from(0, 25000)),
    number_field<&Site::cdd50_f_day>("cdd50_f_day", from(0, 25000)),
    flag_field<&Site::marine>("marine"),
    number_field<&Site::heating_days>("heating_days", from(1, 366)),
    quantity_field<&Site::elevation_ft>("elevation_ft", feet, from(-500, 20000)),
    whole_field<&Site::year_built>("year_built", from(1600, 2100)),
    whole_field<&Site::storeys>("storeys", from(1, 10)),
    number_field<&Site::outdoor_mean_f>("outdoor_mean_f", from(-40, 100)),
    number_field<&Site::outdoor_sd_f>("outdoor_sd_f", from(0.1, 40)),
    word_field<&Site::attic>("attic", kWords<AtticKind>),
    quantity_field<&Site::roof_r>("roof_r", resistance, kPositiveR),
    quantity_field<&Site::roof_area>("roof_area_ft2", area, from(1, 1e7)),
    word_field<&Site::attic_air>("attic_air", kWords<AtticConvention>),
    number_field<&Site::roof_pitch_in_12>("roof_pitch_in_12", from(0, 48)),
    number_field<&Site::attic_air_changes>("attic_air_changes", from(0, 60)),
    number_field<&Site::attic_volume_ft3>("attic_volume_ft3", from(1, 1e8)),
});

}  // namespace

constinit const Shape<Site> kSiteShape{kSiteFields, finish_by<finish_site>()};

}  // namespace overjoist::io
