// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <span>
#include <string_view>

#include "overjoist/assembly.hpp"

/// Heat paths in parallel: joist and bay (model 4 and 5), and areas side by side (model 6 and 8).
namespace overjoist {

/// One path with its share of the area.
struct Path {
  double share;
  Resistance r;  ///< whole path, film to film
};

/// U of paths side by side: sum of share / R (method eq. 5, 6). Depths or R-values are never
/// averaged. Shares need not add to 1.  @throws Error{out_of_range} if a path has no positive R
Transmittance u_of_paths(std::span<const Path> paths);

/// The wood and its share of the area.
struct Framing {
  double fraction = 0.0;  ///< joist width / spacing unless overridden; 0 <= fraction < 1
  Length depth;           ///< actual joist or chord depth
  Resistivity wood;
  FramingMethod method = FramingMethod::parallel;  ///< of `spot_u`
  Length width = inches(1.5);                      ///< of the wood; for the two columns alone
};

/// Actual size of a nominal lumber size such as "2x6".  @returns empty if it is not a size in use
struct LumberSize {
  Length width, depth;
};
std::optional<LumberSize> actual_size(std::string_view nominal);

/// What stands below and above the insulation in every path.
struct PathEnds {
  Resistance below;  ///< inside film + ceiling
  Resistance above;  ///< deck, if any, + attic film
  Resistance both() const { return below + above; }
};

/// R of both paths at one spot.
struct SpotPaths {
  Resistance bay;         ///< film to film
  Resistance joist;       ///< film to film
  Resistance planes;      ///< isothermal planes of the two, film to film (lower limit)
  Resistance two_column;  ///< of the spot by two coupled columns; only where that is the method
};

/// Paths through one column (method eq. 4): the bay holds the whole column; a joist counts only up
/// to the surface of the insulation, or whole under a deck; above the joist top it has what lies
/// across or loose, never a `between` batt.
SpotPaths spot_paths(const PathEnds& ends, const Framing& framing,
                     std::span<const BuiltLayer> layers, const Column& column, bool under_deck);

/// Parallel path of joist and bay, f/R_joist + (1-f)/R_bay (method eq. 5, upper limit of R).
Transmittance parallel(const Framing& framing, const SpotPaths& paths);
/// ISO 6946 combined value: the mean of the parallel-path R and the isothermal-planes R, as U.
/// @param upper  the parallel-path U of the same paths
Transmittance iso_mean(Transmittance upper, const SpotPaths& paths);
/// U of one spot by the method that the framing names: parallel, 1/planes, the ISO 6946 mean, or
/// 1/two_column.
Transmittance spot_u(const Framing& framing, const SpotPaths& paths);
/// "the parallel path", "isothermal planes", "the ISO 6946 mean", "two coupled columns".
std::string_view method_words(FramingMethod method);
/// Isothermal planes of one band: wood and fill of R `fill` side by side over a height. 0 where
/// either is 0.
Resistance band_r(const Framing& framing, Length height, Resistance fill);

}  // namespace overjoist
