// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>

#include "overjoist/clearing.hpp"
#include "overjoist/framing.hpp"
#include "read/shapes.hpp"

namespace overjoist::io {
namespace {

constexpr double kShareSlack = 0.01;  // shares add to 1 within this (model 1)
constexpr Length kUsualWidth = inches(1.5), kUsualDepth = inches(5.5), kUsualStud = inches(3.5),
                 kUsualSpacing = inches(16);  // 2x6 at 16 in., 2x4 studs

/// The checks of one section whose keys and values are each in order by themselves.
class SectionCheck {
 public:
  SectionCheck(Reader& reader, const SurveyBuild& build, std::size_t index)
      : reader_(reader), build_(build), index_(index), section_(build.survey.sections[index]) {}

  void run() {
    if (section_.ceiling) board(*section_.ceiling, "/ceiling");
    if (section_.deck) board(*section_.deck, "/deck");
    ends();
    joists();
    if (is_lid(section_.kind)) return;
    layers();
    if (is_cavity(section_.kind)) return cavity();
    what_lies_there();
    shares();
    for (std::size_t i = 0; i < section_.readings.size(); ++i) reading(i);
  }

  /// What can still be said of a section that has other faults: all faults come in one go.
  void run_names_only() {
    if (section_.ceiling && !section_.ceiling->material.empty())
      material(section_.ceiling->material, "/ceiling", Place::board);
    if (section_.deck && !section_.deck->material.empty())
      material(section_.deck->material, "/deck", Place::board);
    for (std::size_t i = 0; i < section_.layers.size(); ++i)
      if (!section_.layers[i].material.empty())
        material(section_.layers[i].material, fmt::format("/layers/{}/material", i), Place::layer);
  }

 private:
  void fault(const std::string& below, std::string message, std::string hint) {
    reader_.fault_at(fmt::format("/sections/{}{}", index_, below), std::move(message),
                     std::move(hint));
  }
  const Material* material(const std::string& id, const std::string& below, Place place) {
    return known_material(reader_, build_, id, fmt::format("/sections/{}{}", index_, below), place);
  }

  /// A ceiling or deck must have an R (method eq. 4).
  void board(const Board& board, const std::string& key) {
    if (board.material.empty()) return;
    const Material* m = material(board.material, key, Place::board);
    if (!m) return;
    if (m->form == Form::loose || m->form == Form::batt)
      return fault(key, fmt::format("{} is insulation, not a board", m->id),
                   "name the board, such as gypsum-1/2, and put insulation under layers");
    if (!board.r && !m->resistance && !(m->central() && board.thickness))
      fault(key, fmt::format("the R of {} is not known", m->id),
            "give {\"material\": ..., \"thickness_in\": ...}, or its r");
  }

  /// A bare spot needs some R from the films, the ceiling or the deck: without any, heat would flow
  /// without limit.
  void ends() {
    const auto none = [](const std::optional<Resistance>& r) { return r && *r == Resistance{}; };
    const Section& s = section_;
    if (!none(s.film_inside) || !none(s.film_attic) || !s.ceiling || !none(s.ceiling->r) ||
        (s.deck && !none(s.deck->r)))
      return;
    const auto bare = [](const Reading& r) {
      return !r.flush && std::min(r.depth, r.depth_to) == Length{};
    };
    const auto holes = [](const Layer& l) { return l.condition != Condition::sound; };
    const bool hatch = is_lid(s.kind) && !s.total_r && (!s.insulation_r || none(s.insulation_r));
    const bool hollow = is_cavity(s.kind) && s.layers.empty();
    if (hatch || hollow || std::any_of(s.readings.begin(), s.readings.end(), bare) ||
        std::any_of(s.layers.begin(), s.layers.end(), holes))
      fault("/films",
            "films and ceiling have R 0, so a bare spot would have none at all; allowed: above 0 "
            "in all",
            "leave films or ceiling out for the usual figures, or give their R");
  }

  void joists() {
    const Joists j = section_.joists.value_or(Joists{});
    const auto size = actual_size(j.size);
    const Length width = j.width.value_or(size ? size->width : kUsualWidth);
    const Length spacing = j.spacing.value_or(kUsualSpacing);
    const bool wall = section_.kind == SectionKind::knee_wall;
    joist_depth_ = j.depth.value_or(size ? size->depth : wall ? kUsualStud : kUsualDepth);
    if (!j.framing_fraction && spacing < width)
      fault(wall                                  ? "/studs/spacing_in"
            : section_.kind == SectionKind::slope ? "/rafters/spacing_in"
                                                  : "/joists/spacing_in",
            fmt::format("spacing {:g} in. is below the joist width {:g} in.", spacing.us(),
                        width.us()),
            "measure from center to center");
  }

  void layers() {
    std::size_t takers = 0;
    for (std::size_t i = 0; i < section_.layers.size(); ++i) {
      const Layer& layer = section_.layers[i];
      const std::string key = "/layers/" + std::to_string(i);
      const Material* m = material(layer.material, key + "/material", Place::layer);
      if (!m) {
        materials_known_ = false;
        continue;
      }
      check_layer_words(reader_, layer, *m, fmt::format("/sections/{}{}", index_, key));
      if (m->form == Form::batt)
        batt(layer, *m, key);
      else
        other_layer(layer, *m, key);
      if (depth_left_alone(layer, section_, build_.survey, *build_.tables)) continue;
      takers += m->form == Form::loose && !layer.thickness ? 1 : 0;
      if (takers == 2)
        fault(key, "more than one loose layer has no thickness",
              "give thickness_in of all but one");
    }
  }

  void batt(const Layer& layer, const Material& m, const std::string& key) {
    const auto thickness = layer.label_thickness ? layer.label_thickness : layer.thickness;
    if (!layer.label_r && !thickness)
      return fault(key, fmt::format("label_r of the {} is missing", m.name),
                   "give label_r and label_thickness_in from its print, or thickness_in");
    if (!m.central() && !(layer.label_r && thickness))
      return fault(key, fmt::format("no R per inch is known for {}", m.id),
                   "give label_r and label_thickness_in");
    if (!layer.label_r || !thickness) return;
    const double ratio = thickness->us() / layer.label_r->us();
    if (ratio <= kBattConstant)
      fault(key,
            fmt::format("R-{:g} in {:g} in. is {:.3f} in. per R; allowed for a batt: above {:g}",
                        layer.label_r->us(), thickness->us(), ratio, kBattConstant),
            "check label_r and label_thickness_in; a board is not a batt");
  }

  void other_layer(const Layer& layer, const Material& m, const std::string& key) {
    const bool sheet = m.resistance && m.thickness;
    if (!sheet && !m.central())
      return fault(key, fmt::format("no R per inch is known for {}", m.id),
                   "define it under materials");
    if (m.form == Form::loose) return;
    const auto thickness = layer.thickness ? layer.thickness : m.thickness;
    if (thickness)
      boards_ += board_[static_cast<std::size_t>(&layer - section_.layers.data())] = *thickness;
    else
      fault(key, fmt::format("thickness_in of the {} is missing", m.name),
            "only loose fill can take what a reading leaves");
  }

  /// What lies in a slope or wall must fit it, and so must what goes in.
  void cavity() {
    const Section& s = section_;
    const Length gap =
        s.kind == SectionKind::slope ? s.vent_gap.value_or(build_.tables->vent_gap) : Length{};
    if (!(joist_depth_ > gap))
      return fault(
          "/vent_gap_in",
          fmt::format("a vent gap of {:g} in. leaves nothing of a cavity of {:g} in.", gap.us(),
                      joist_depth_.us()),
          "give a gap below the depth of the rafters, or 0 where the slope is filled whole");
    const Length room = joist_depth_ - gap;
    if (!reaches(room.us(), boards_.us()))
      fault("/layers",
            fmt::format("boards of {:g} in. do not fit into {:g} in.", boards_.us(), room.us()),
            "boards do not compress; check the wood's depth");
    if (!s.add) return;
    const Material* m = material(s.add->material, "/add/material", Place::layer);
    if (!m) return;
    check_layer_words(reader_, *s.add, *m, fmt::format("/sections/{}/add", index_));
    if (s.add->lies == Lies::across)
      fault("/add/lies", "what is put in lies between the wood",
            "leave lies out; a board across the wood is continuous_r");
    if (m->existing_only || build_.tables->hands_off(*m))
      fault("/add/material", fmt::format("{} is found in attics, it is not put in", m->id),
            "name a material that is sold");
    else if (m->form == Form::batt)
      batt(*s.add, *m, "/add");
    else if (!m->central() && !(m->resistance && m->thickness))
      fault("/add/material", fmt::format("no R per inch is known for {}", m->id),
            "define it under materials");
    else if (m->form != Form::loose && !s.add->thickness && !m->thickness)
      fault("/add", fmt::format("thickness_in of the {} is missing", m->name),
            "only loose fill takes the room that is left");
    if (s.add->condition != Condition::sound)
      fault("/add", "what is put in is sound; another condition is for what lies there",
            "leave condition out");
  }

  void what_lies_there() {
    const bool bare = std::all_of(
        section_.readings.begin(), section_.readings.end(),
        [](const Reading& r) { return !r.flush && r.depth == Length{} && r.depth_to == Length{}; });
    if (section_.layers.empty() && section_.readings.empty())
      return fault("", "nothing says what lies there",
                   hands_off_by_hazard(section_, build_.survey, *build_.tables)
                       ? "name the fill under layers, such as unknown-loose; touch nothing, its "
                         "depth is not asked for"
                       : "give layers and readings; a bare floor is \"readings\": [0]");
    if (section_.layers.empty() && !bare)
      return fault("/readings", "there is a depth, but no layer says what lies there",
                   "name the material under layers, such as unknown-loose");
    if (!section_.readings.empty()) return;
    for (std::size_t i = 0; i < section_.layers.size(); ++i) {
      const Layer& layer = section_.layers[i];
      const Material* m = build_.survey.material(*build_.tables, layer.material);
      if (m && m->form == Form::loose && !layer.thickness &&
          !depth_left_alone(layer, section_, build_.survey, *build_.tables))
        fault("/layers/" + std::to_string(i),
              "the layer has no thickness and there are no readings",
              "give readings, or thickness_in");
    }
  }

  void shares() {
    std::size_t given = 0;
    double sum = 0.0;
    for (const Reading& r : section_.readings)
      if (r.share >= 0) {
        ++given;
        sum += r.share;
      }
    if (given == 0) return;
    if (given < section_.readings.size())
      fault("/readings",
            fmt::format("a share of the area is given to {} of {} readings", given,
                        section_.readings.size()),
            "give a share to all of them or to none");
    else if (std::fabs(sum - 1.0) > kShareSlack)
      fault("/readings",
            fmt::format("the shares of the readings add to {:.4g}; allowed: 1 within {:g}", sum,
                        kShareSlack),
            "shares are fractions of the section's area");
  }

  void reading(std::size_t i) {
    const Reading& r = section_.readings[i];
    const Length low = r.flush ? joist_depth_ : std::min(r.depth, r.depth_to),
                 high = r.flush ? joist_depth_ : std::max(r.depth, r.depth_to);
    const bool wrong_count =
        !r.layer_depths.empty() && r.layer_depths.size() != section_.layers.size();
    const bool above_roof = section_.headroom && high > *section_.headroom;
    const bool above_deck =
        section_.kind == SectionKind::decked && !reaches(joist_depth_.us(), high.us());
    const bool below_boards = materials_known_ && !wrong_count &&
                              (r.layer_depths.empty() ? cuts(low, boards_) || cuts(high, boards_)
                                                      : cuts_a_board(r.layer_depths));
    if (!wrong_count && !above_roof && !above_deck && !below_boards) return;
    const std::string key = "/readings/" + std::to_string(i);
    if (wrong_count)
      fault(key,
            fmt::format("depths given: {}, layers: {}", r.layer_depths.size(),
                        section_.layers.size()),
            "give one depth for each layer, from the ceiling up");
    if (above_roof)
      fault(key,
            fmt::format(
                "depth {:.7g} in. is above the headroom of {:.7g} in.: a reading above the roof",
                high.us(), section_.headroom->us()),
            "check the reading and headroom_in");
    if (above_deck)
      fault(key,
            fmt::format(
                "depth {:.7g} in. is above the joist depth of {:.7g} in., where the deck lies",
                high.us(), joist_depth_.us()),
            "check the reading and the joists; what lies on a deck is a section of its own");
    if (below_boards)
      fault(key,
            fmt::format("depth {:.7g} in. is below the boards alone, {:.7g} in.",
                        cuts(low, boards_) ? low.us() : high.us(), boards_.us()),
            "boards do not compress; write 0 for a bare spot");
  }

  /// True if something lies there that is thinner than the board.
  static bool cuts(Length depth, Length board) {
    return depth > Length{} && !reaches(depth.us(), board.us());
  }
  bool cuts_a_board(const std::vector<Length>& depths) const {
    for (std::size_t i = 0; i < depths.size(); ++i)
      if (cuts(depths[i], board_[i])) return true;
    return false;
  }

  Reader& reader_;
  const SurveyBuild& build_;
  std::size_t index_;
  const Section& section_;
  Length joist_depth_, boards_;
  std::array<Length, kMostLayers>
      board_{};  ///< thickness of each layer that never compresses, else 0
  bool materials_known_ = true;
};

void check_names(Reader& r, const std::vector<Section>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const auto twin =
        std::find_if(sections.begin(), sections.begin() + static_cast<std::ptrdiff_t>(i),
                     [&](const Section& s) { return s.name == sections[i].name; });
    if (twin != sections.begin() + static_cast<std::ptrdiff_t>(i) && !twin->name.empty())
      r.fault_at(fmt::format("/sections/{}/name", i),
                 fmt::format("two sections are called \"{}\"", shortened(twin->name)),
                 "give each section a name of its own");
  }
}

/// A row whose own figures are in order can still contradict the row below it or the bag.
void check_chart(Reader& r, const Proposal& proposal, double settling, const std::string& at) {
  const auto& rows = proposal.product->chart;
  const auto refusal = refusal_of([&] { CoverageChart(rows, *proposal.bag_net, settling); });
  if (!refusal) return;
  const auto is_named = [&](const ChartRow& row) {
    return refusal->where() == fmt::format("chart row R-{:g}", row.r.us());
  };
  const auto named = std::find_if(rows.begin(), rows.end(), is_named);
  const std::string row =
      named == rows.end() ? std::string() : '/' + std::to_string(named - rows.begin());
  r.fault_at(at + "/product/chart" + row, refusal->what(), refusal->hint());
}

/// Share by which a fill settles, < 0 if no figure is known.
double settling_of(const Material* m) {
  if (!m) return -1.0;
  return m->settling_high ? *m->settling_high : m->settling_low.value_or(-1.0);
}

void check_fill(Reader& r, const Tables& tables, const Material& m, const std::string& pointer,
                bool has_chart) {
  if (m.existing_only || tables.hands_off(m))
    r.fault_at(pointer, fmt::format("{} is found in attics, it is not blown in", m.id),
               "name a loose fill that is sold");
  else if (m.form != Form::loose && m.form != Form::spray)
    r.fault_at(
        pointer,
        fmt::format("{} is not blown in; allowed: loose fill, or spray foam on a bare ceiling",
                    m.id),
        m.form == Form::batt || m.form == Form::board
            ? "list batts and boards under batts, with their labels"
            : "name a loose fill, such as cellulose-loose");
  else if (m.form == Form::spray && has_chart)
    r.fault_at(pointer, fmt::format("{} is sprayed; a chart is for a loose fill", m.id),
               "leave the product out");
  else if (m.form == Form::loose && !has_chart && settling_of(&m) < 0)
    r.fault_at(pointer, fmt::format("no settling is known for {}, so it is not blown open", m.id),
               "name another loose fill, or define this one under materials with its settling");
  else if (!has_chart && !m.central())
    r.fault_at(pointer, fmt::format("no R per inch is known for {}", m.id),
               "define it under materials");
}

/// Foam is sprayed on the bare ceiling: what stays there is a contradiction.
void check_bare(Reader& r, const SurveyBuild& build, const std::string& pointer) {
  for (const Section& s : build.survey.sections) {
    if (!is_floor(s.kind) || s.below.value_or(Below::heated) == Below::unheated) continue;
    const bool bare =
        !s.readings.empty() &&
        std::all_of(s.readings.begin(), s.readings.end(), [](const Reading& reading) {
          return !reading.flush && std::max(reading.depth, reading.depth_to) == Length{};
        });
    const bool stays = std::any_of(s.layers.begin(), s.layers.end(), [](const Layer& l) {
      return l.condition == Condition::sound || l.condition == Condition::voids;
    });
    if (bare || !stays) continue;
    return r.fault_at(
        pointer,
        fmt::format("foam is sprayed on the bare ceiling, but fill stays in \"{}\"",
                    shortened(s.name)),
        "give the old layers the condition remove, or propose loose fill or batts on top of them");
  }
}

void check_extras(Reader& r, const Survey& survey, const std::vector<Extra>& extras,
                  const std::string& pointer) {
  for (std::size_t i = 0; i < extras.size(); ++i)
    for (std::size_t k = 0; k < extras[i].covers.size(); ++k) {
      const std::string& name = extras[i].covers[k];
      const auto s = std::find_if(survey.sections.begin(), survey.sections.end(),
                                  [&](const Section& x) { return x.name == name; });
      const std::string here = fmt::format("{}/{}/covers/{}", pointer, i, k);
      if (s == survey.sections.end())
        r.fault_at(here, fmt::format("no section is called \"{}\"", shortened(name)),
                   "give the name of a section");
      else if (is_floor(s->kind))
        r.fault_at(here,
                   fmt::format("\"{}\" is a floor: its fill and labor have prices of their own",
                               shortened(name)),
                   "name slopes, knee walls and lids alone");
    }
}

}  // namespace

void check_proposal(Reader& r, const SurveyBuild& build, const Proposal& proposal,
                    const std::string& at) {
  check_extras(r, build.survey, proposal.extras, at + "/extras");
  if (!proposal.batts.empty()) return check_batts(r, build, proposal.batts, at + "/batts");
  const std::string pointer = at + "/material";
  const Material* m = proposal.material.empty()
                          ? nullptr
                          : known_material(r, build, proposal.material, pointer, Place::fill);
  if (m) check_fill(r, *build.tables, *m, pointer, proposal.product.has_value());
  if (m && m->form == Form::spray) check_bare(r, build, pointer);
  if (!proposal.product || (!m && !proposal.material.empty())) return;
  const auto& rows = proposal.product->chart;
  const auto lacking =
      std::find_if(rows.begin(), rows.end(), [](const ChartRow& row) { return !row.initial; });
  const double settling = settling_of(m);
  if (lacking != rows.end() && settling < 0)
    r.fault_at(fmt::format("{}/product/chart/{}", at, lacking - rows.begin()),
               "initial_thickness_in is missing, and no material says how far the fill settles",
               "copy initial_thickness_in from the label, or name the product's material");
  else
    check_chart(r, proposal, std::max(settling, 0.0), at);
}

void check_batts(Reader& r, const SurveyBuild& build, const std::vector<BattProduct>& batts,
                 const std::string& pointer) {
  for (std::size_t i = 0; i < batts.size(); ++i) {
    const BattProduct& p = batts[i];
    const std::string here = fmt::format("{}/{}", pointer, i);
    const bool twin = std::any_of(batts.begin(), batts.begin() + static_cast<std::ptrdiff_t>(i),
                                  [&](const BattProduct& b) { return b.name == p.name; });
    if (twin)
      r.fault_at(here + "/name", fmt::format("two products are called \"{}\"", shortened(p.name)),
                 "give each product a name of its own");
    if (p.faced)
      r.fault_at(here + "/faced", "a faced product lies on top; allowed: unfaced",
                 "a facing above the fill traps damp: list the unfaced product");
    const Material* m = known_material(r, build, p.material, here + "/material", Place::laid);
    if (!m) continue;
    const bool batt = m->form == Form::batt;
    if (!batt && m->form != Form::board)
      r.fault_at(here + "/material", fmt::format("{} is neither a batt nor a board", m->id),
                 "name a batt or a foam board");
    else if (!p.label_r && !m->central() && !(m->resistance && m->thickness))
      r.fault_at(here, fmt::format("label_r is missing, and no R per inch is known for {}", m->id),
                 "give label_r from its print");
    else if (batt && p.label_r && p.thickness.us() / p.label_r->us() <= kBattConstant)
      r.fault_at(
          here,
          fmt::format("R-{:g} in {:g} in. is {:.3f} in. per R; allowed for a batt: above {:g}",
                      p.label_r->us(), p.thickness.us(), p.thickness.us() / p.label_r->us(),
                      kBattConstant),
          "check label_r and label_thickness_in; a board is not a batt");
  }
}

void check_materials(Reader& reader, const std::vector<Material>& rows, const Tables& tables,
                     std::string_view pointer) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto here = rows.begin() + static_cast<std::ptrdiff_t>(i);
    const std::string row = fmt::format("{}/{}", pointer, i);
    if (!rows[i].id.empty() &&
        std::any_of(rows.begin(), here, [&](const Material& m) { return m.id == rows[i].id; }))
      reader.fault_at(row + "/id", fmt::format("two materials are called \"{}\"", rows[i].id),
                      "give each row an id of its own");
    const bool known = rows[i].caution.empty() ||
                       std::any_of(tables.cautions.begin(), tables.cautions.end(),
                                   [&](const CautionRow& c) { return c.code == rows[i].caution; });
    if (!known)
      reader.fault_at(row + "/caution", fmt::format("caution \"{}\" is not known", rows[i].caution),
                      "use a code of the table of cautions, or leave it out");
  }
}

void check_survey(Reader& reader, const SurveyBuild& build) {
  const Survey& survey = build.survey;
  const bool all_clean = reader.fault_count() == 0;
  check_materials(reader, survey.materials, *build.tables, "/materials");
  check_names(reader, survey.sections);
  check_claims(reader, survey);
  for (std::size_t i = 0; i < survey.sections.size(); ++i) {
    SectionCheck check(reader, build, i);
    if (all_clean || reader.clean("/sections/" + std::to_string(i)))
      check.run();
    else
      check.run_names_only();
  }
  if (survey.proposal && (all_clean || reader.clean("/proposal")))
    check_proposal(reader, build, *survey.proposal, "/proposal");
  for (std::size_t i = 0; i < survey.compare.size(); ++i) {
    const std::string at = fmt::format("/compare/{}", i);
    if (all_clean || reader.clean(at)) check_proposal(reader, build, survey.compare[i], at);
  }
}

}  // namespace overjoist::io
