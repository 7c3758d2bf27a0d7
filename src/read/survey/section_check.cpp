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
  void fault(const std::string& below, Fault fault) {
    reader_.fault_at(place_of(below), std::move(fault));
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
      return fault(key, make_fault<F::insulation_as_board>(m->id));
    if (!board.r && !m->resistance && !(m->central() && board.thickness))
      fault(key, make_fault<F::board_r_unknown>(m->id));
  }

  /// A bare spot or patch needs some R from the films, the ceiling or the deck: without any, heat
  /// would flow without limit.
  void ends() {
    const auto none = [](const std::optional<Resistance>& r) { return r && *r == Resistance{}; };
    const Section& s = section_;
    if (!none(s.film_inside) || !none(s.film_attic) || !s.ceiling || !none(s.ceiling->r) ||
        (s.deck && !none(s.deck->r)))
      return;
    const auto bare = [](const Reading& r) {
      return !r.flush && std::min(r.depth, r.depth_to) == Length{};
    };
    const auto open = [&](const Patch& p) { return !p.total_r || none(p.total_r); };
    const auto holes = [](const Layer& l) { return l.condition != Condition::sound; };
    const bool hatch = is_lid(s.kind) && !s.total_r && (!s.insulation_r || none(s.insulation_r));
    const bool hollow = is_cavity(s.kind) && s.layers.empty();
    if (hatch || hollow || std::any_of(s.readings.begin(), s.readings.end(), bare) ||
        std::any_of(s.patches.begin(), s.patches.end(), open) ||
        std::any_of(s.layers.begin(), s.layers.end(), holes))
      fault("/films", make_fault<F::no_r_at_all>());
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
            make_fault<F::joists_overlap>(spacing.us(), width.us()));
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
      if (takers == 2 && !each_layer_read()) fault(key, make_fault<F::layers_without_thickness>());
    }
  }

  /// A core probe tells the depth of each layer at each spot.
  bool each_layer_read() const {
    return !section_.readings.empty() &&
           std::all_of(section_.readings.begin(), section_.readings.end(),
                       [](const Reading& r) { return !r.layer_depths.empty(); });
  }

  void other_layer(const Layer& layer, const Material& m, const std::string& key) {
    const bool sheet = m.resistance && m.thickness;
    if (!sheet && !m.central()) return fault(key, make_fault<F::no_r_per_inch>(m.id));
    if (m.form == Form::loose) return;
    const auto thickness = layer.thickness ? layer.thickness : m.thickness;
    if (thickness)
      boards_ += board_[static_cast<std::size_t>(&layer - section_.layers.data())] = *thickness;
    else
      fault(key, make_fault<F::board_without_thickness>(m.name));
  }

  /// What lies in a slope or wall must fit it, and so must what goes in.
  void cavity() {
    const Section& s = section_;
    const Length gap =
        s.kind == SectionKind::slope ? s.vent_gap.value_or(build_.tables->vent_gap) : Length{};
    if (!(joist_depth_ > gap))
      return fault("/vent_gap_in", make_fault<F::gap_fills_cavity>(gap.us(), joist_depth_.us()));
    const Length room = joist_depth_ - gap;
    if (!reaches(room.us(), boards_.us()))
      fault("/layers", make_fault<F::boards_above_cavity>(boards_.us(), room.us()));
    if (s.add) check_added(reader_, build_, *s.add, place_of("/add"));
  }

  void what_lies_there() {
    const bool bare = std::all_of(
        section_.readings.begin(), section_.readings.end(),
        [](const Reading& r) { return !r.flush && r.depth == Length{} && r.depth_to == Length{}; });
    if (section_.layers.empty() && section_.readings.empty())
      return fault("", hands_off_by_hazard(section_, build_.survey, *build_.tables)
                           ? make_fault<F::fill_not_told>()
                           : make_fault<F::floor_not_told>());
    if (section_.layers.empty() && !bare)
      return fault("/readings", make_fault<F::depth_of_nothing>());
    if (!section_.readings.empty()) return;
    for (std::size_t i = 0; i < section_.layers.size(); ++i) {
      const Layer& layer = section_.layers[i];
      const Material* m = build_.survey.material(*build_.tables, layer.material);
      if (m && m->form == Form::loose && !layer.thickness &&
          !depth_left_alone(layer, section_, build_.survey, *build_.tables))
        fault("/layers/" + std::to_string(i), make_fault<F::layer_without_thickness>());
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
      fault("/readings", make_fault<F::shares_of_some>(given, section_.readings.size()));
    else if (std::fabs(sum - 1.0) > kShareSlack)
      fault("/readings", make_fault<F::sum_of_shares>(sum, kShareSlack));
  }

  void reading(std::size_t i) {
    const Reading& r = section_.readings[i];
    const Length low = r.flush ? joist_depth_ : std::min(r.depth, r.depth_to),
                 high = r.flush ? joist_depth_ : std::max(r.depth, r.depth_to);
    if (section_.bare_share && low < inches(build_.tables->figure("range-bare-depth")))
      fault(fmt::format("/readings/{}", i), make_fault<F::reading_beside_bare>(low.us()));
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
            make_fault<F::depths_of_some_layers>(r.layer_depths.size(), section_.layers.size()));
    if (above_roof)
      fault(key, make_fault<F::reading_above_roof>(high.us(), section_.headroom->us()));
    if (above_deck) fault(key, make_fault<F::reading_above_deck>(high.us(), joist_depth_.us()));
    if (below_boards)
      fault(key, make_fault<F::reading_below_boards>(cuts(low, boards_) ? low.us() : high.us(),
                                                     boards_.us()));
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
