// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "evaluate/floor.hpp"
#include "evaluate/spoiled.hpp"
#include "overjoist/clearing.hpp"
#include "overjoist/diagnostics.hpp"

namespace overjoist::parts {
namespace {

Resistance board_r(const Board& board, const Job& job, const std::string& where) {
  if (board.r) return *board.r;
  const Material& m = material_of(job.survey, job.tables, board.material, where);
  job.notes.use_sources(m.sources);
  if (m.resistance && (!board.thickness || !m.thickness)) return *m.resistance;
  if (m.resistance) return *m.resistance * (*board.thickness / *m.thickness);
  if (m.central() && board.thickness) return *m.central() * *board.thickness;
  throw Error(ErrorCode::missing, where, fmt::format("the R of '{}' is not known", board.material),
              "give its r, or its thickness_in");
}

struct JoistSize {
  Length width, depth, spacing;
};

JoistSize joist_size(const Joists& joists, SectionKind kind, const std::string& where,
                     Notes& notes) {
  const bool wall = kind == SectionKind::knee_wall;
  JoistSize size{inches(1.5), inches(wall ? 3.5 : 5.5), joists.spacing.value_or(inches(16))};
  if (joists.width && joists.depth) {
    size.width = *joists.width;
    size.depth = *joists.depth;
  } else if (!joists.size.empty()) {
    const auto actual = actual_size(joists.size);
    if (!actual)
      throw Error(ErrorCode::unknown_name, where,
                  fmt::format("joist size '{}' is not known", joists.size),
                  "give width_in and depth_in");
    size.width = actual->width;
    size.depth = actual->depth;
    notes.assume("nominal-size", where,
                 {{"size", joists.size}, {"width", size.width}, {"depth", size.depth}});
  } else {
    notes.assume("default-joists", where,
                 {{"value", std::string(wall ? "2x4 (1.5 x 3.5 in.)" : "2x6 (1.5 x 5.5 in.)")}});
  }
  if (!joists.spacing) notes.assume("default-spacing", where, {{"value", size.spacing}});
  return size;
}

void build_framing(BuiltSection& built, const Tables& tables, Notes& notes) {
  const Section& s = *built.survey;
  if (is_lid(s.kind) && !s.joists) return;
  const Joists joists = s.joists.value_or(Joists{});
  built.ceiling_assumed = built.ceiling_assumed || !joists.spacing;
  const JoistSize size = joist_size(joists, s.kind, s.name, notes);
  built.joist_width = size.width;
  built.spacing = size.spacing;
  built.framing.depth = size.depth;
  built.framing.width = size.width;
  if (!(size.spacing >= size.width) && !joists.framing_fraction)
    throw Error(ErrorCode::contradiction, s.name, "joist spacing is below the joist width",
                "spacing is measured from center to center");
  built.framing.fraction = joists.framing_fraction.value_or(size.width / size.spacing);
  built.framing.wood = joists.wood.value_or(tables.wood);
  built.framing.method = tables.framing_method;
  if (!joists.framing_fraction)
    notes.assume("framing-from-joists", s.name, {{"value", built.framing.fraction}});
  if (!joists.wood) notes.assume("wood", "", {{"value", tables.wood}});
}

void build_ends(BuiltSection& built, const Job& job) {
  const Section& s = *built.survey;
  Board ceiling = s.ceiling.value_or(Board{"gypsum-1/2", {}, {}});
  if (!s.ceiling) job.notes.assume("default-ceiling", s.name, {{"value", ceiling.material}});
  const bool wall = s.kind == SectionKind::knee_wall;
  const Resistance inside = wall ? job.tables.film_vertical : job.tables.film_inside,
                   attic = wall ? job.tables.film_vertical : job.tables.film_attic;
  if (!s.film_inside || !s.film_attic) {
    if (wall)
      job.notes.assume("wall-films", s.name, {{"value", job.tables.film_vertical}});
    else
      job.notes.assume("default-films", "", {{"inside", inside}, {"attic", attic}});
  }
  built.board = ceiling.material;
  built.ceiling_assumed = !s.ceiling;
  const Material* row = job.survey.material(job.tables, ceiling.material);
  built.thin_board =
      row && row->thickness && ceiling.thickness && *ceiling.thickness < *row->thickness;
  built.ends.below = s.film_inside.value_or(inside) + board_r(ceiling, job, s.name);
  built.ends.above = s.film_attic.value_or(attic);
  if (s.deck) built.ends.above += board_r(*s.deck, job, s.name);
  built.under_deck = s.kind == SectionKind::decked || (wall && s.deck);
  built.vent_gap = is_cavity(s.kind) && s.kind != SectionKind::slope
                       ? Length{}
                       : s.vent_gap.value_or(job.tables.vent_gap);
  if (s.kind != SectionKind::slope) return;
  if (!s.vent_gap) job.notes.assume("vent-gap", s.name, {{"value", job.tables.vent_gap}});
  built.under_deck = !(built.vent_gap > Length{});
}

}  // namespace

Length fitting_room(const BuiltSection& built) {
  if (!(built.framing.depth > built.vent_gap))
    throw Error(ErrorCode::contradiction, built.survey->name,
                "the vent gap leaves nothing of the cavity",
                "give a vent_gap_in below the depth of the wood");
  return built.framing.depth - built.vent_gap;
}

namespace {

void add_pieces(BuiltSection& built, std::size_t spot, const Column& column, std::size_t layer,
                double share) {
  while (layer < built.layers.size() && !(built.layers[layer].void_share > 0)) ++layer;
  if (layer == built.layers.size()) {
    Piece piece{share,
                spot,
                built.spots[spot].depth,
                column,
                spot_paths(built.ends, built.framing, built.layers, column, built.under_deck),
                insulation_r(built.layers, column),
                built.spots[spot].depth < built.bare_below};
    built.pieces.push_back(piece);
    return;
  }
  // Voids (model 16): a share of the area where this layer is missing, in parallel.
  const double v = built.layers[layer].void_share;
  add_pieces(built, spot, column, layer + 1, share * (1.0 - v));
  Column without = column;
  without.thickness[layer] = Length{};
  add_pieces(built, spot, without, layer + 1, share * v);
}

void build_weight(BuiltSection& built) {
  if (built.unmeasured) return;
  MassPerArea mean, greatest;
  for (const Piece& p : built.pieces) {
    MassPerArea here;
    for (std::size_t i = 0; i < p.column.count; ++i) {
      if (!(p.column.thickness[i] > Length{})) continue;
      const auto& density = built.layers[i].material->density_high;
      if (!density) return;
      here += *density * p.column.thickness[i];
    }
    mean += here * p.share;
    greatest = std::max(greatest, here);
  }
  built.weight = mean;
  built.weight_greatest = greatest;
}

/// What lies in a slope or wall takes the depth that fits, or less.
Length depth_in_cavity(const BuiltSection& built) {
  const Length room = fitting_room(built);
  Length sum;
  for (const BuiltLayer& layer : built.layers) sum += layer.thickness;
  const bool full = std::any_of(built.layers.begin(), built.layers.end(),
                                [](const BuiltLayer& l) { return l.takes_rest; });
  return full ? room : std::min(sum, room);
}

/// The bare area that was measured, before what the readings say of the rest.
std::vector<Spot> beside_bare(std::vector<Spot> covered, const BuiltSection& built) {
  const Section& s = *built.survey;
  if (!s.bare_share) return covered;
  for (const Spot& spot : covered)
    if (spot.depth < built.bare_below)
      throw Error(ErrorCode::contradiction, s.name, "a reading of 0 beside a measured bare area",
                  "read what is covered alone: the bare area counts by itself");
  if (!(*s.bare_share > 0)) return covered;
  for (Spot& spot : covered) spot.share *= 1.0 - *s.bare_share;
  if (reaches(*s.bare_share, 1.0)) covered.clear();
  covered.insert(covered.begin(), Spot{*s.bare_share, Length{}, nullptr});
  return covered;
}

std::vector<Spot> section_spots(const BuiltSection& built, Notes& notes) {
  const Section& s = *built.survey;
  if (!s.readings.empty()) {
    if (s.readings.front().share < 0 && s.readings.size() > 1) notes.assume("equal-shares", s.name);
    return merge_readings(s.readings, built.framing.depth);
  }
  if (is_cavity(s.kind)) return {Spot{1.0, depth_in_cavity(built), nullptr}};
  Length sum;
  for (const BuiltLayer& layer : built.layers) sum += layer.thickness;
  if (!built.layers.empty() && !built.unmeasured)
    notes.assume("layer-thickness-as-depth", s.name, {{"value", sum}});
  return {Spot{1.0, sum, nullptr}};
}

/// A batt or board that does not say how it lies: on the joist tops if fixed layers fill the bay
/// below it, else between.
void settle_lies(BuiltSection& built, Length underside, Notes& notes) {
  BuiltLayer& layer = built.layers.back();
  if ((!layer.batt && !layer.board) || !(built.framing.fraction > 0)) return;
  const bool over = !built.under_deck && reaches(underside.us(), built.framing.depth.us());
  if (over) layer.lies = Lies::across;
  notes.assume(over ? "lies-across" : "lies-between", built.survey->name,
               {{"material", layer.material->name}});
}

/// Where a fill that nobody may touch comes out, what lies on it goes with it.
void take_out_above(BuiltSection& built, const Survey& survey, const Tables& tables) {
  const Section& s = *built.survey;
  bool out = false;
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    BuiltLayer& layer = built.layers[i];
    if (out && !layer.comes_out()) layer.condition = Condition::remove;
    out = out || (layer.comes_out() && hands_off_layer(s.layers[i], s, survey, tables));
  }
}

/// A fill that nobody may touch and that has no depth: it counts nothing, and the result says so.
void leave_unmeasured(BuiltSection& built, const Job& job) {
  const Section& s = *built.survey;
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    if (!depth_left_alone(s.layers[i], s, job.survey, job.tables)) continue;
    built.unmeasured = true;
    job.notes.caution("depth-left-alone", s.name, {{"material", built.layers[i].material->name}});
  }
}

}  // namespace

BuiltSection build_section(const Section& section, const Job& job) {
  BuiltSection built;
  built.survey = &section;
  built.unvented = job.survey.site.unvented();
  build_ends(built, job);
  build_framing(built, job.tables, job.notes);
  if (section.layers.size() > kMostLayers)
    throw Error(ErrorCode::out_of_range, section.name,
                fmt::format("{} layers; at most {}", section.layers.size(), kMostLayers),
                "join like layers");
  built.layers.reserve(section.layers.size());
  Length underside;
  for (const Layer& layer : section.layers) {
    built.layers.push_back(build_layer(layer, job, section.name, Lain::found));
    if (!layer.lies) settle_lies(built, underside, job.notes);
    underside += built.layers.back().thickness;
  }
  // Model 3: at most one layer takes the rest; by default the topmost loose one.
  const auto& read = section.readings;
  const bool each_read =
      !read.empty() && std::all_of(read.begin(), read.end(),
                                   [](const Reading& r) { return !r.layer_depths.empty(); });
  if (!each_read && std::count_if(built.layers.begin(), built.layers.end(),
                                  [](const BuiltLayer& layer) { return layer.takes_rest; }) > 1)
    throw Error(ErrorCode::contradiction, section.name,
                "more than one loose layer has no thickness",
                "give the thickness of all but one, or each layer's depth in each reading");
  take_out_above(built, job.survey, job.tables);
  leave_unmeasured(built, job);
  spoil_by_hazards(built, job);
  built.bare_below = inches(job.tables.figure("range-bare-depth"));
  built.spots = beside_bare(section_spots(built, job.notes), built);
  if (built.layers.empty() && built.spots.back().depth > Length{})
    throw Error(ErrorCode::missing, section.name,
                "there is a depth, but no layer says what lies there",
                "name the material under layers");
  built.pieces.reserve(built.spots.size());
  for (std::size_t i = 0; i < built.spots.size(); ++i) {
    const Spot& spot = built.spots[i];
    const Column column = spot.layer_depths ? column_of(built.layers, *spot.layer_depths)
                                            : column_at(built.layers, spot.depth);
    add_pieces(built, i, column, 0, spot.share);
  }
  build_weight(built);
  return built;
}

BuiltSection with_layers(const BuiltSection& built, std::vector<BuiltLayer> layers,
                         Resistance continuous) {
  BuiltSection after = built;
  after.layers = std::move(layers);
  after.ends.above += continuous;
  after.spots = {Spot{1.0, depth_in_cavity(after), nullptr}};
  after.pieces.clear();
  add_pieces(after, 0, column_at(after.layers, after.spots.front().depth), 0, 1.0);
  build_weight(after);
  return after;
}

Length greatest_top(const BuiltSection& built, std::size_t layer) {
  Length top;
  for (const Piece& p : built.pieces) {
    if (!(p.column.thickness[layer] > Length{})) continue;
    Length z;
    for (std::size_t k = 0; k <= layer; ++k) z += p.column.thickness[k];
    top = std::max(top, z);
  }
  return top;
}

}  // namespace overjoist::parts
