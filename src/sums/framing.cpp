// SPDX-License-Identifier: MIT
#include "overjoist/framing.hpp"

#include <fmt/core.h>
#include <algorithm>

#include "overjoist/diagnostics.hpp"
#include "overjoist/two_column.hpp"

namespace overjoist {

Transmittance u_of_paths(std::span<const Path> paths) {
  Transmittance u;
  for (const Path& p : paths) {
    if (!(p.r > Resistance{}))
      throw Error(ErrorCode::out_of_range, "path",
                  fmt::format("a path of R {:g} is not above 0", p.r.us()),
                  "give films and ceiling a positive R");
    u += inverse(p.r) * p.share;
  }
  return u;
}

std::optional<LumberSize> actual_size(std::string_view nominal) {
  // Depths and the 1.5 in. width: published (reference table of joist depths); 3x and 4x widths:
  // from memory (US lumber standard).
  struct Row {
    std::string_view nominal;
    double actual;
  };
  static constexpr Row kWidths[] = {{"2", 1.5}, {"3", 2.5}, {"4", 3.5}};
  static constexpr Row kDepths[] = {
      {"4", 3.5}, {"6", 5.5}, {"8", 7.25}, {"10", 9.25}, {"12", 11.25}};
  const auto x = nominal.find('x');
  if (x == std::string_view::npos) return {};
  const auto find = [](const auto& rows, std::string_view word) -> std::optional<double> {
    for (const Row& row : rows)
      if (row.nominal == word) return row.actual;
    return {};
  };
  const auto width = find(kWidths, nominal.substr(0, x));
  const auto depth = find(kDepths, nominal.substr(x + 1));
  if (!width || !depth) return {};
  return LumberSize{inches(*width), inches(*depth)};
}

namespace {

/// A layer that was cut to lie between the joists: it gives the joist nothing above its top.
bool cut_between(const BuiltLayer& layer) {
  return (layer.batt || layer.board) && layer.lies == Lies::between;
}

/// Height up to which wood counts: the surface of what lies in the bay (an exposed joist loses heat
/// through its bare sides; ISO 6946 rule for proud joists, 2-D check in reference table 5), or the
/// whole joist under a deck.
Length counted_wood(const Framing& framing, std::span<const BuiltLayer> layers,
                    const Column& column, bool under_deck) {
  if (under_deck) return framing.depth;
  Length fill;
  for (std::size_t i = 0; i < column.count; ++i) {
    if (layers[i].lies == Lies::across && column.thickness[i] > Length{}) break;
    fill += column.thickness[i];
  }
  return std::min(framing.depth, fill);
}

}  // namespace

Resistance band_r(const Framing& framing, Length height, Resistance fill) {
  if (!(height > Length{}) || !(fill > Resistance{})) return {};
  const Path side_by_side[] = {{framing.fraction, framing.wood * height},
                               {1.0 - framing.fraction, fill}};
  return inverse(u_of_paths(side_by_side));
}

SpotPaths spot_paths(const PathEnds& ends, const Framing& framing,
                     std::span<const BuiltLayer> layers, const Column& column, bool under_deck) {
  const Length top = framing.depth;
  const Length wood = counted_wood(framing, layers, column, under_deck);
  Resistance bay, above, bands;
  Length z;  // height of the layer's underside
  for (std::size_t i = 0; i < column.count; ++i) {
    const BuiltLayer& layer = layers[i];
    const Length t = column.thickness[i];
    if (!(t > Length{})) continue;
    const Resistance r = layer.counts_nothing() ? Resistance{} : layer.dry_r(t);
    if (layer.lies == Lies::across)
      z = std::max(z, top);  // it lies on the joist tops, whatever the bay holds
    const Length over = std::max(Length{}, z + t - std::max(top, z));
    const double share_over = over / t;
    bay += r;
    if (!cut_between(layer)) above += r * share_over;
    bands += band_r(framing, t - over, r * (1.0 - share_over));
    z += t;
  }
  SpotPaths paths;
  paths.bay = ends.both() + bay;
  if (framing.method == FramingMethod::two_column)
    paths.two_column = two_column_r(ends, framing, layers, column, under_deck);
  if (!(framing.fraction > 0)) {
    paths.joist = paths.planes = paths.bay;
    return paths;
  }
  paths.joist = ends.both() + framing.wood * wood + above;
  paths.planes = ends.both() + bands + above;
  return paths;
}

Transmittance parallel(const Framing& framing, const SpotPaths& paths) {
  const Path both[] = {{framing.fraction, paths.joist}, {1.0 - framing.fraction, paths.bay}};
  return u_of_paths(both);
}

Transmittance iso_mean(Transmittance upper, const SpotPaths& paths) {
  return inverse((inverse(upper) + paths.planes) / 2.0);
}

std::string_view method_words(FramingMethod method) {
  if (method == FramingMethod::parallel) return "the parallel path";
  if (method == FramingMethod::two_column) return "two coupled columns";
  return method == FramingMethod::planes ? "isothermal planes" : "the ISO 6946 mean";
}

Transmittance spot_u(const Framing& framing, const SpotPaths& paths) {
  if (framing.method == FramingMethod::planes) return inverse(paths.planes);
  if (framing.method == FramingMethod::two_column) return inverse(paths.two_column);
  const Transmittance upper = parallel(framing, paths);
  return framing.method == FramingMethod::mean ? iso_mean(upper, paths) : upper;
}

}  // namespace overjoist
