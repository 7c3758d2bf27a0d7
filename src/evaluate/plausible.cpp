// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <string_view>
#include <utility>

#include "evaluate/floor.hpp"
#include "evaluate/plausible.hpp"
#include "evaluate/plausible_judge.hpp"
#include "overjoist/ends.hpp"
#include "overjoist/leakage.hpp"
#include "words/alike.hpp"

// What a survey says against the thresholds of data/plausible.json. Thresholds and words are rows
// of that table; here is only what each measure of it is. A new row for a measure needs no code.
namespace overjoist::parts {
namespace {

Area opening_of(const Bypass& b) {
  const double count = std::max(1.0, b.count);
  if (b.area) return *b.area * count;
  return b.length && b.width ? square_inches(b.length->us() * b.width->us() * count) : Area{};
}

Area floors_of(const Survey& survey) {
  Area sum;
  for (const Section& s : survey.sections)
    if (is_floor(s.kind)) sum += s.area;
  return sum;
}

/// Depth that half of the area does not pass; spots stand in rising depth.
Length median_depth(const std::vector<Spot>& spots) {
  double share = 0.0;
  for (const Spot& spot : spots)
    if ((share += spot.share) >= 0.5 - 1e-9) return spot.depth;
  return spots.back().depth;
}

/// A depth that would be rare as an average, and is far from the others.  @returns true if said
bool wild(const Judge& judge, const std::vector<Spot>& spots, Length greatest) {
  if (!judge.beyond(Measure::mean_depth, {}, greatest.us(), greatest.us()).above) return false;
  const Length median = median_depth(spots);
  const double ratio =
      median > Length{} ? greatest / median : std::numeric_limits<double>::infinity();
  const Beyond b = judge.beyond(Measure::reading_over_median, {}, ratio, ratio);
  if (b.row)
    judge.notes.caution(b.row->code, judge.where, {{"value", greatest}, {"other", median}});
  return b.row != nullptr;
}

/// Ceiling, deck and films by themselves, and the R from air to air of what has no less than its
/// films.
void surfaces(const Judge& judge, const BuiltSection& built) {
  const Section& s = *built.survey;
  const Resistance inside = s.film_inside.value_or(judge.tables.film_inside);
  const Resistance attic = s.film_attic.value_or(judge.tables.film_attic);
  judge.one(Measure::film_r, std::max(inside, attic));
  if (s.ceiling) judge.one(Measure::ceiling_r, built.ends.below - inside, "ceiling");
  if (s.kind == SectionKind::decked)
    judge.one(Measure::ceiling_r, built.ends.above - attic, "deck");
  for (const Patch& p : s.patches) {
    if (!p.total_r) continue;
    const double ratio = *p.total_r / (inside + attic);
    const Beyond b = judge.beyond(Measure::patch_r_over_films, {}, ratio, ratio);
    if (b.row)
      return judge.notes.caution(b.row->code, judge.where,
                                 {{"value", *p.total_r}, {"limit", inside + attic}});
  }
}

void depths(const Judge& judge, const BuiltSection& built) {
  const Section& s = *built.survey;
  Length greatest;
  for (const Spot& spot : built.spots) greatest = std::max(greatest, spot.depth);
  if (judge.one(Measure::mean_depth, mean_depth(built.spots))) return;
  if ((s.readings.empty() && is_floor(s.kind)) || !(greatest > Length{})) return;
  if (wild(judge, built.spots, greatest)) return;
  const bool boards = std::all_of(built.layers.begin(), built.layers.end(),
                                  [](const BuiltLayer& l) { return l.board; });
  if (!boards) judge.one(Measure::greatest_depth, greatest);
}

void openings(const Judge& judge, const Section& s, const Survey& survey) {
  Area patches;
  for (const Patch& p : s.patches) patches += p.area;
  if (patches > Area{}) judge.share(Measure::patch_share, patches, s.area);
  const Area floor = is_floor(s.kind) ? s.area : floors_of(survey);
  Area sum;
  bool said = false;
  for (const Bypass& b : s.bypasses) {
    const BypassRow* row = judge.tables.bypass(b.kind);
    if (!row || row->unit == BypassUnit::ft || row->unit == BypassUnit::bay) continue;
    sum += opening_of(b);
    said = judge.share(Measure::bypass_share, opening_of(b), floor, row->name) || said;
  }
  if (!said) judge.share(Measure::bypass_share, sum, floor, "all leaks of this section together");
}

void lid(const Judge& judge, const BuiltSection& built, const Survey& survey) {
  const Section& s = *built.survey;
  if (!judge.one(Measure::lid_area, s.area))
    judge.share(Measure::lid_share, s.area, floors_of(survey));
  if (!s.total_r) return;
  const Resistance films = s.film_inside.value_or(judge.tables.film_inside) +
                           s.film_attic.value_or(judge.tables.film_attic);
  const Beyond b =
      judge.beyond(Measure::lid_r_over_films, {}, *s.total_r / films, *s.total_r / films);
  if (b.row)
    judge.notes.caution(b.row->code, judge.where, {{"value", *s.total_r}, {"limit", films}});
}

Measure r_measure(Form form) {
  return form == Form::batt    ? Measure::batt_r_per_inch
         : form == Form::board ? Measure::board_r_per_inch
         : form == Form::spray ? Measure::foam_r_per_inch
                               : Measure::loose_r_per_inch;
}

void layer(const Judge& judge, const BuiltLayer& built) {
  const Material& m = *built.material;
  const Form form = m.form;
  if (form == Form::ceiling || form == Form::wood) return;
  judge.one(r_measure(form), built.batt ? built.label_r / built.label_thickness : built.rho,
            m.name);
  const Measure density = form == Form::batt ? Measure::batt_density : Measure::fill_density;
  if (m.density_low && m.density_high) judge.span(density, *m.density_low, *m.density_high, m.name);
}

// ---- The rest of the survey

void chart(const Judge& judge, const Product& product) {
  if (product.chart.empty()) return;
  const auto ends = [&](auto of) {
    auto least = of(product.chart.front()), greatest = least;
    for (const ChartRow& row : product.chart) {
      least = std::min(least, of(row));
      greatest = std::max(greatest, of(row));
    }
    return std::pair(least, greatest);
  };
  const auto r = ends([](const ChartRow& row) { return row.r / row.settled; });
  judge.span(Measure::chart_r_per_inch, r.first, r.second, product.name);
  const auto density = ends([](const ChartRow& row) {
    return Density::from_us(row.weight.us() / row.settled.us() * 12.0);
  });
  judge.span(Measure::blown_density, density.first, density.second, product.name);
}

void batt(const Judge& judge, const BattProduct& p, const Survey& survey) {
  const Material* m = survey.material(judge.tables, p.material);
  if (!m) return;
  if (p.label_r) judge.one(r_measure(m->form), *p.label_r / p.thickness, p.name);
  if (m->form == Form::batt && p.package_weight)
    judge.one(
        Measure::batt_density,
        Density::from_us(p.package_weight->us() / (p.coverage.us() * p.thickness.us() / 12.0)),
        p.name);
}

/// A price of 0 is an answer; prices in other money than the table's have no span.
void price(const Judge& judge, Measure measure, const std::optional<double>& value,
           std::string_view what = {}) {
  if (value && *value > 0) judge.one(measure, *value, what);
}

void proposal(const Judge& judge, const Proposal& p, const Survey& survey, bool prices) {
  if (p.product) chart(judge, *p.product);
  const Material* m =
      p.product || p.material.empty() ? nullptr : survey.material(judge.tables, p.material);
  if (m && m->central()) judge.one(r_measure(m->form), *m->central(), m->name);
  if (m && m->form == Form::loose && m->density_low && m->density_high)
    judge.span(Measure::blown_density, *m->density_low, *m->density_high, m->name);
  for (const BattProduct& b : p.batts) batt(judge, b, survey);
  if (p.bag_net) judge.one(Measure::bag_weight, *p.bag_net);
  if (p.waste_percent) judge.one(Measure::waste, *p.waste_percent);
  if (!prices) return;
  price(judge, Measure::price_of_bag, p.price_per_bag, "bag");
  for (const BattProduct& b : p.batts) price(judge, Measure::price_of_bag, b.price, b.name);
  price(judge, Measure::price_per_board_ft, p.price_per_board_ft);
  if (!p.labour) return;
  price(judge, Measure::labour_per_ft2, p.labour->price_per_ft2);
  price(judge, Measure::labour_per_hour, p.labour->price_per_hour);
}

void degree_days(const Judge& judge, const Survey& survey) {
  if (survey.site.climate_zone.empty()) return;
  constexpr double kSiteBase = 65.0;   // F, of Site::hdd65_f_day
  constexpr double kNearlySame = 1.0;  // F: 65 F and 18 C are the same base
  const char digit = survey.site.climate_zone.front();
  const std::string_view zone =
      digit == '0' ? "1" : std::string_view(survey.site.climate_zone).substr(0, 1);
  if (survey.site.hdd65_f_day) judge.one(Measure::degree_days, *survey.site.hdd65_f_day, zone);
  const auto& h = survey.heating;
  if (h && h->hdd_f_day && h->base_f && std::fabs(*h->base_f - kSiteBase) <= kNearlySame)
    judge.one(Measure::degree_days, *h->hdd_f_day, zone);
}

void heating(const Judge& judge, const Survey& survey, bool prices) {
  if (const auto& h = survey.heating) {
    if (h->efficiency) judge.one(Measure::efficiency, *h->efficiency);
    if (h->cop) judge.one(Measure::heat_pump_cop, *h->cop);
    if (h->hdd_f_day && h->days_below_base && *h->days_below_base > 0)
      judge.one(Measure::degree_days_a_day, *h->hdd_f_day / *h->days_below_base);
    if (h->indoor_f) judge.one(Measure::indoor_temperature, *h->indoor_f);
    if (prices) price(judge, Measure::fuel_price, h->price_per_unit, h->fuel);
  }
  if (const auto& c = survey.cooling) {
    if (c->cop) judge.one(Measure::cooling_cop, *c->cop);
    if (prices) price(judge, Measure::fuel_price, c->price_per_kwh, "electricity");
  }
  if (survey.winter) judge.one(Measure::indoor_temperature, survey.winter->indoor_f);
}

void money(const Judge& judge, const MoneyWish& m) {
  if (m.life_years) judge.one(Measure::life, *m.life_years);
  if (m.real_discount_rate_percent)
    judge.one(Measure::discount_rate, *m.real_discount_rate_percent);
  if (m.real_price_rise_percent) judge.one(Measure::price_rise, *m.real_price_rise_percent);
  if (m.tax_percent) judge.one(Measure::tax, *m.tax_percent);
}

void names(const Judge& judge, const std::vector<Section>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (alike(sections[i].name, sections[k].name))
        Judge{judge.tables, judge.notes, sections[i].name}.one(
            Measure::names_alike, 1.0, sections[k].name, Value(sections[i].name));
}

}  // namespace

void plausible_section(const BuiltSection& built, const Job& job) {
  const Section& s = *built.survey;
  const Judge judge{job.tables, job.notes, s.name};
  openings(judge, s, job.survey);
  surfaces(judge, built);
  if (is_lid(s.kind)) return lid(judge, built, job.survey);
  judge.one(Measure::floor_area, s.area);
  depths(judge, built);
  judge.one(Measure::wood_share, built.framing.fraction * 100.0);
  judge.one(Measure::joist_spacing, built.spacing);
  if (s.joists && s.joists->width) judge.one(Measure::joist_width, *s.joists->width);
  for (const BuiltLayer& l : built.layers) layer(judge, l);
}

void plausible_survey(const Job& job) {
  const Judge judge{job.tables, job.notes, "attic"};
  const std::string_view currency =
      job.survey.proposal ? std::string_view(job.survey.proposal->currency) : std::string_view();
  const auto& known = job.tables.plausible_currencies;
  const bool prices =
      currency.empty() || std::find(known.begin(), known.end(), currency) != known.end();
  if (job.survey.proposal) proposal(judge, *job.survey.proposal, job.survey, prices);
  for (const Proposal& p : job.survey.compare) proposal(judge, p, job.survey, prices);
  const bool told_as_bare = job.survey.written.all_metric() && job.survey.written.bare_r;
  const TargetRequest& wish = job.survey.target;
  if (both(wish, kKnown) && !told_as_bare) judge.span(Measure::target_r, *wish.low, *wish.high);
  degree_days(judge, job.survey);
  heating(judge, job.survey, prices);
  if (job.survey.money) money(judge, *job.survey.money);
  names(judge, job.survey.sections);
  const UnitsWritten& w = job.survey.written;
  if (!w.all_metric()) return;
  if (w.bare_r) judge.one(Measure::metric_bare_r, *w.bare_r, w.bare_r_key);
  if (w.bare_surface_r)
    judge.one(Measure::metric_bare_surface_r, *w.bare_surface_r, w.bare_surface_key);
  if (w.bare_depth) judge.one(Measure::metric_bare_depth, *w.bare_depth);
}

}  // namespace overjoist::parts
