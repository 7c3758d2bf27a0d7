// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/drawing.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"

// What a drawing of a floor shows, gathered from the section as it was built and from its top-up.
namespace overjoist::parts {
namespace {

/// New thickness once settled; what is laid does not settle.
Length added(const TopUp& t, const BaseSpot& base, const Blow& blow) {
  if (!t.batts.empty()) {
    Length sum;
    for (const LaidLayer& layer : t.batts) sum += layer.thickness;
    return sum;
  }
  return t.initial_level && t.new_depth ? new_settled(base, blow.fill, *t.initial_level) : Length{};
}

CutSpot cut_spot(std::size_t spot, const WorkedSection& result, const BuiltSection& built,
                 const BaseFloor& floor, const Blow& blow) {
  CutSpot cut;
  cut.reading = built.spots[spot].depth;
  // Of a spot with voids the first piece is the one where every layer is there.
  for (std::size_t i = 0; i < built.pieces.size(); ++i) {
    if (built.pieces[i].spot != spot) continue;
    const Column& column = built.pieces[i].column;
    cut.layers.assign(column.thickness.begin(),
                      column.thickness.begin() + static_cast<std::ptrdiff_t>(column.count));
    cut.surface = surface_of(built.layers, column, built.framing.depth);
    const BaseSpot& base = floor.spots[i];
    cut.stays = base.surface;
    cut.new_low = added(result.planned.low, base, blow);
    cut.new_high = added(result.planned.high, base, blow);
    break;
  }
  return cut;
}

/// Mean depth and share of the spots of one step of depth.
void close_step(std::vector<DepthShare>& list, double share, double moment) {
  if (share > 0) list.push_back({inches(moment / share), share});
}

std::vector<DepthShare> depth_shares(const std::vector<Spot>& spots) {
  std::vector<DepthShare> list;
  const double least = spots.front().depth.us(),
               step = (spots.back().depth.us() - least) / static_cast<double>(kMostDepths);
  double share = 0.0, moment = 0.0;
  std::size_t at = 0;
  for (const Spot& spot : spots) {
    const bool few = spots.size() <= kMostDepths;
    const auto bin =
        few || !(step > 0)
            ? at
            : std::min(kMostDepths - 1, static_cast<std::size_t>((spot.depth.us() - least) / step));
    if (few || bin != at) {
      close_step(list, share, moment);
      share = moment = 0.0;
    }
    at = bin;
    share += spot.share;
    moment += spot.share * spot.depth.us();
  }
  close_step(list, share, moment);
  return list;
}

}  // namespace

void add_cut(WorkedSection& result, const BuiltSection& built, const Blow& blow,
             const Survey& survey, const Tables& tables) {
  if (!is_floor(result.found.kind) || built.spots.empty() || built.unmeasured) return;
  const std::optional<BaseFloor> own =
      built.floor ? std::nullopt : std::optional(base_floor(built));  // over rooms without heat
  const BaseFloor& floor = own ? *own : *built.floor;
  SectionCut cut;
  cut.joist_depth = built.framing.depth;
  cut.joist_width = built.joist_width;
  cut.spacing = built.spacing;
  cut.under_deck = built.under_deck;
  const Material* board = survey.material(tables, built.board);
  if (board) cut.ceiling = board->name;
  if (built.survey->ceiling && built.survey->ceiling->thickness)
    cut.ceiling_thickness = built.survey->ceiling->thickness;
  else if (board)
    cut.ceiling_thickness = board->thickness;
  for (const BuiltLayer& layer : built.layers)
    cut.layers.push_back(
        {layer.material->name, layer.lies, !layer.batt && !layer.board, layer.comes_out()});
  cut.least = cut_spot(0, result, built, floor, blow);
  cut.greatest = cut_spot(built.spots.size() - 1, result, built, floor, blow);
  cut.depths = depth_shares(built.spots);
  result.found.cut = std::move(cut);
}

}  // namespace overjoist::parts
