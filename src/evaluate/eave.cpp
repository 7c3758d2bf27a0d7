// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "evaluate/eave.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"

// The wedge at the eave (method eq. 10a) in the results of a section.
namespace overjoist::parts {

std::optional<EaveStrip> strip_of(const BuiltSection& built) {
  if (!built.survey->eave) return {};
  const EaveSurvey& given = *built.survey->eave;
  // Gap and baffle are square to the deck; upright they take more.
  const double upright = std::hypot(1.0, given.pitch_in_12 / 12.0);
  EaveStrip strip;
  strip.eave = {given.heel, given.pitch_in_12, given.vent_gap.value_or(built.vent_gap) * upright,
                given.baffle.value_or(Length{}) * upright};
  strip.most = inches(built.survey->area.us() / (given.length.us() / 12.0) * 12.0);
  strip.share_per_inch = 1.0 / strip.most.us();
  return strip;
}

namespace {

/// Mass, bags and board feet of a top-up with the room that the strip lacks taken off.
void take_amounts(TopUp& t, const Blow& blow, const WedgeMeans& wedge, Area area) {
  EaveResult& e = *t.eave;
  const double share = e.area / area;
  const auto mean = [&](auto field, auto strip) { return field * (1.0 - share) + strip * share; };
  e.mean_field = t.new_depth->mean;
  e.initial_mean_field = t.new_depth_initial->mean;
  e.weight_field = t.added_weight;
  t.new_depth->mean = mean(e.mean_field, wedge.settled);
  t.new_depth_initial->mean = mean(e.initial_mean_field, wedge.initial);
  if (t.added_weight) t.added_weight = mean(*e.weight_field, wedge.weight);
  if (t.added_mass)
    t.added_mass =
        Mass::from_us((1.0 - share) * t.added_mass->us() + share * wedge.mass.us() * area.us());
  if (t.bags_exact) {
    const double per_ft2 =
        blow.fill.chart ? wedge.bags_per_ft2 : wedge.mass.us() / blow.bag_net.us();
    e.bags_less = share * (*t.bags_exact - per_ft2 * area.us() * (1.0 + blow.waste));
    t.bags_exact = *t.bags_exact - *e.bags_less;
  }
  if (t.board_ft_exact)
    t.board_ft_exact = (1.0 - share) * *t.board_ft_exact +
                       share * area.us() * wedge.settled.us() * (1.0 + blow.waste);
}

/// The least new depth of the section is that of the outermost part of its strip.
void take_least(TopUp& t, const BaseFloor& floor, const NewFill& fill, const Eave& eave) {
  const Length room = std::max(Length{}, eave.heel - eave.vent_gap - eave.baffle);
  t.eave->least_field = t.new_depth->least;
  for (const BaseSpot& spot : floor.spots) {
    t.new_depth->least = std::min(t.new_depth->least, new_settled(spot, fill, room));
    t.new_depth_initial->least =
        std::min(t.new_depth_initial->least, std::max(Length{}, room - spot.surface));
  }
}

}  // namespace

void apply_eave(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  const auto strip = strip_of(built);
  if (!strip || !t.initial_level) return;
  const Length level = *t.initial_level;
  EaveResult e;
  e.width = strip_width(*strip, level);
  if (!(e.width > Length{})) return;
  e.bare_width = std::min(e.width, eave_distance(strip->eave, Length{}));
  const Area area = built.survey->area;
  const double share = std::min(1.0, e.width.us() * strip->share_per_inch);
  e.area = area * share;
  e.no_field = reaches(share, 1.0);
  const WedgeMeans wedge = wedge_means(floor, blow.fill, *strip, level, blow.chart_deducts_framing);
  const Resistance ends = floor.ends.both();
  e.working_field = t.working_r;
  e.working_wedge = std::max(Resistance{}, inverse(wedge.bay) - ends);
  e.u_added = Transmittance::from_us(share * (wedge.both.us() - 1.0 / t.effective_r.us()));
  e.ua_added = e.u_added * area;
  const double bay = (1.0 - share) / (t.working_r + ends).us() + share * wedge.bay.us();
  t.working_r = std::max(Resistance{}, r_value(1.0 / bay) - ends);
  t.effective_r = r_value(1.0 / ((1.0 - share) / t.effective_r.us() + share * wedge.both.us()));
  if (t.level_exact && reaches(level.us(), t.level_exact->us())) {
    e.met_from = std::min(e.width, eave_distance(strip->eave, *t.level_exact));
    e.share_short = *e.met_from / e.width * share;
  }
  t.eave = e;
  take_least(t, floor, blow.fill, strip->eave);
  take_amounts(t, blow, wedge, area);
}

}  // namespace overjoist::parts
