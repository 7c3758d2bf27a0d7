// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>

#include "overjoist/clearing.hpp"
#include "overjoist/framing.hpp"
#include "read/shapes.hpp"

// What a section whose keys and values are each in order contradicts.
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
  std::string place_of(const std::string& below) const {
    return fmt::format("/sections/{}{}", index_, below);
  }
  void fault(const std::string& below, std::string message, std::string hint) {
    reader_.fault_at(place_of(below), std::move(message), std::move(hint));
  }
  const Material* material(const std::string& id, const std::string& below, Place place) {
    return known_material(reader_, build_, id, place_of(below), place);
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
      check_layer_words(reader_, layer, *m, place_of(key));
      if (m->form == Form::batt)
        check_batt(reader_, layer, *m, place_of(key));
      else
        other_layer(layer, *m, key);
      if (depth_left_alone(layer, section_, build_.survey, *build_.tables)) continue;
      takers += m->form == Form::loose && !layer.thickness ? 1 : 0;
      if (takers == 2)
        fault(key, "more than one loose layer has no thickness",
              "give thickness_in of all but one");
    }
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
    if (s.add) check_added(reader_, build_, *s.add, place_of("/add"));
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

}  // namespace

void check_section(Reader& reader, const SurveyBuild& build, std::size_t index) {
  SectionCheck(reader, build, index).run();
}

void check_section_names(Reader& reader, const SurveyBuild& build, std::size_t index) {
  SectionCheck(reader, build, index).run_names_only();
}

}  // namespace overjoist::io
