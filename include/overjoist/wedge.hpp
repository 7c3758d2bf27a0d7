// SPDX-License-Identifier: MIT
#pragma once
#include <memory>

#include "overjoist/eaves.hpp"
#include "overjoist/topup.hpp"

/// The wedge at the eave of a floor (method eq. 10a): every depth from the plate inwards is the
/// floor blown to a lower level. Summed spot by spot, each in a fixed number of steps, so that the
/// cost is linear in the spots. Pure and thread safe.
namespace overjoist {

/// The strip of a section that lies along its eaves.
struct EaveStrip {
  Eave eave;
  Length
      most;  ///< width of the section, from the plate's outer edge inwards: no strip is wider; > 0
  double share_per_inch =
      0.0;  ///< of the section's area, for each inch of the strip's width; most x this is 1
};

/// Width of the strip where a level does not fit; 0 for a level of 0 or one that fits over the
/// plate.
Length strip_width(const EaveStrip& strip, Length level);
/// Room where the strip is widest: no level above it fits anywhere in the section. May be below 0.
Length strip_room(const EaveStrip& strip);

/// Means over the wedge of a level.
struct WedgeMeans {
  Transmittance bay, both;  ///< U of the bays, and of both paths
  Length settled, initial;  ///< new thickness, settled and as blown
  MassPerArea weight;       ///< of the new fill on the bays; 0 if the density is not known
  MassPerArea mass;  ///< of the new fill, wood taken out as in `fill_quantity`; 0 if the density is
                     ///< not known
  double bags_per_ft2 = 0;  ///< with a chart; wood taken out likewise
};
/// U within 1e-10 of its value. @param level  > 0, with a strip wider than 0
WedgeMeans wedge_means(const BaseFloor& floor, const NewFill& fill, const EaveStrip& strip,
                       Length level, bool chart_deducts_framing);

/// R of a whole floor with its eave after blowing to a level; without a strip the same as
/// `floor_r`.
struct StripR {
  Resistance working, effective;
};
StripR strip_r(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip, Length level);

/// What `strip_scatter` gives for one floor and strip, at many levels: the wedge is summed once up
/// to the least of them, and each adds only what lies above. A level below the least is summed
/// anew. Holds references to all three.
class StripScatter {
 public:
  StripScatter(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip, Length least);
  ~StripScatter();
  StripScatter(const StripScatter&) = delete;
  StripScatter& operator=(const StripScatter&) = delete;
  /// @param each  keeps the mean of each spot
  CoveredScatter at(const LevelOf& at, bool each = false) const;

 private:
  struct Sums;
  const BaseFloor& floor_;
  const NewFill& fill_;
  const EaveStrip* strip_;
  std::unique_ptr<const Sums> sums_;  ///< none without a strip
};

/// Scatter of the local U with the eave in it, each spot over field and wedge; without a strip the
/// same as `floor_scatter`.
CoveredScatter strip_scatter(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip,
                             const LevelOf& at);

}  // namespace overjoist
