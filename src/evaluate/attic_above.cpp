// SPDX-License-Identifier: MIT
#include "evaluate/attic_above.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

#include "overjoist/attic_air.hpp"
#include "overjoist/leakage.hpp"

namespace overjoist::parts {
namespace {

constexpr double kLeastPitch = 1.0;  // in 12: no room stands behind a wall under a flatter roof

/// All that lies under one roof, over rooms with heat or without: the roof loses heat over both.
struct RoofPart {
  Area floor;
  Area largest{};                 ///< of its floors
  std::optional<Length> shorter;  ///< side of the largest floor
};

Area with_patches(const Section& section) {
  Area sum = section.area;
  for (const Patch& p : section.patches) sum += p.area;
  return sum;
}

std::optional<Length> shorter_side(const Section& s) {
  if (!s.length || !s.width) return {};
  return std::min(*s.length, *s.width);
}

void add_floor(RoofPart& part, const Section& section) {
  part.floor += with_patches(section);
  if (!is_floor(section.kind) || section.area < part.largest) return;
  const auto side = shorter_side(section);
  const bool longer = side && (!part.shorter || *part.shorter < *side);
  // Of floors alike the longer side counts, whichever comes first in the survey.
  if (section.area > part.largest || longer) part.shorter = side;
  part.largest = section.area;
}

/// A side attic whose floor is not in the survey is as deep as the roof is high over its wall.
void add_side_floor(RoofPart& side, const Survey& survey, double pitch) {
  if (side.floor > Area{}) {
    if (side.shorter) *side.shorter = *side.shorter * 2.0;  // half a gable
    return;
  }
  if (pitch < kLeastPitch) return;
  for (const Section& s : survey.sections)
    if (s.kind == SectionKind::knee_wall) side.floor += with_patches(s) * (12.0 / pitch);
}

/// A figure of the table; its sources are then among those of the result.
double taken(const Job& job, std::string_view id) {
  const auto& rows = job.tables.figures;
  const auto row =
      std::find_if(rows.begin(), rows.end(), [&](const FigureRow& f) { return f.id == id; });
  if (row != rows.end()) job.notes.use_sources(row->sources);
  return job.tables.figure(id);
}

/// Of the site, else the least of the eaves, which rounds the saving against us.
std::optional<double> pitch_given(const Survey& survey) {
  if (survey.site.roof_pitch_in_12) return survey.site.roof_pitch_in_12;
  std::optional<double> least;
  for (const Section& s : survey.sections)
    if (s.eave) least = std::min(least.value_or(s.eave->pitch_in_12), s.eave->pitch_in_12);
  return least;
}

/// Roof and air over one part.
struct RoofSize {
  Area roof;
  Volume air;
};

RoofSize size_of(const RoofPart& part, double pitch) {
  const AtticShape shape{part.floor, part.shorter, pitch};
  return {roof_area(shape), attic_volume(shape)};
}

/// What the site gives for the whole attic, shared out by floor.
RoofSize given_size(RoofSize own, const Site& site, double share) {
  if (site.roof_area) own.roof = *site.roof_area * share;
  if (site.attic_volume_ft3) own.air = Volume::from_us(*site.attic_volume_ft3 * share);
  return own;
}

/// The terms that both parts share; a default that is taken is listed.
AtticLoss loss_terms(const Job& job) {
  const Site& site = job.survey.site;
  AtticLoss loss;
  loss.roof_r = site.roof_r ? *site.roof_r : r_value(taken(job, "attic-roof-r"));
  loss.air_changes =
      site.attic_air_changes ? *site.attic_air_changes : taken(job, "attic-air-changes");
  loss.air_heat = air_heat_factor(site.elevation_ft.value_or(0.0));
  if (!site.roof_r) job.notes.assume("attic-roof-r", "", {{"value", loss.roof_r}});
  if (!site.attic_air_changes)
    job.notes.assume("attic-air-changes", "", {{"value", loss.air_changes}});
  if (!site.elevation_ft) job.notes.assume("attic-sea-level");
  return loss;
}

}  // namespace

AtticAir attic_air(const Job& job) {
  const Site& site = job.survey.site;
  AtticAir air{!site.unvented(), site.roof_r, site.roof_area};
  if (!site.balanced()) return air;
  const auto given = pitch_given(job.survey);
  const double pitch = given ? *given : taken(job, "attic-pitch");
  RoofPart attic, side;
  for (const Section& s : job.survey.sections)
    if (!is_cavity(s.kind)) add_floor(above(s.kind) == Above::side ? side : attic, s);
  add_side_floor(side, job.survey, pitch);
  const Area floor = attic.floor + side.floor;
  if (!(floor > Area{})) return air;  // slopes alone
  job.notes.assume("attic-balance");
  AtticLoss loss = loss_terms(job);
  RoofSize whole;
  const auto way_out = [&](const RoofPart& part) -> std::optional<Conductance> {
    if (!(part.floor > Area{})) return {};
    const RoofSize size = given_size(size_of(part, pitch), site, part.floor / floor);
    whole.roof += size.roof;
    whole.air += size.air;
    loss.roof = size.roof;
    loss.volume = size.air;
    return attic_conductance(loss);
  };
  air.attic = way_out(attic);
  air.side = way_out(side);
  if (!site.roof_area || !site.attic_volume_ft3)
    job.notes.assume("attic-shape", "",
                     {{"pitch", pitch}, {"area", whole.roof}, {"volume", whole.air}});
  return air;
}

Losses losses_of(const Evaluation& e, const Planned& planned) {
  const AtticAir air = e.heating ? e.heating->air : AtticAir{};
  const auto out = [&](const CeilingUa& ua) { return ua_to_outdoors(ua, air)->us(); };
  const auto& sections = e.sections;
  CeilingUa found = ceiling_ua(e, [&](std::size_t i) { return sections[i].existing.effective_r; });
  Losses l{};
  l.after = out(ceiling_ua(e, [&](std::size_t i) { return planned.sections[i].effective_r; }));
  l.found = l.most = out(found);
  const AtticState& now = e.attic.existing;
  if (!now.effective_r_range || !(now.effective_r_range->low > Resistance{})) return l;
  const double more = now.effective_r / now.effective_r_range->low;
  for (Conductance* part : {&found.attic, &found.side, &found.slope}) *part = *part * more;
  l.most = std::max(l.found, out(found));
  return l;
}

}  // namespace overjoist::parts
