// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <optional>
#include <string>

#include "read/shapes.hpp"

// What a layer says of itself beside its material: used where it means something for that material,
// else refused.
namespace overjoist::io {
namespace {

/// A label is an R at a thickness: a board lies as thick as its label says, the depth of a loose
/// fill is not that of its label.
void check_label(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  const bool loose = m.form == Form::loose;
  const std::optional<Length> lies = layer.thickness ? layer.thickness : m.thickness;
  const std::optional<Length> printed = layer.label_thickness ? layer.label_thickness
                                        : loose               ? std::nullopt
                                                              : lies;
  if (layer.label_thickness && !layer.label_r)
    return r.fault_at(
        at + "/label_thickness_in",
        fmt::format("label_thickness_in of {} says nothing without its label_r", m.id),
        "give label_r with it, or leave it out; how thick the layer lies is thickness_in");
  if (!layer.label_r) return;
  if (!printed)
    return r.fault_at(
        at + "/label_r",
        fmt::format("label_r of {} says nothing without the thickness that it is printed for",
                    m.id),
        loose ? "give label_thickness_in, the settled thickness beside that R on the label, or "
                "leave label_r out; a batt "
                "is another material, such as glass-fiber-batt"
              : "give thickness_in, or label_thickness_in");
  const double per_inch = layer.label_r->us() / printed->us();
  if (per_inch > kPerInch.high)
    r.fault_at(at + "/label_r",
               fmt::format("R-{:g} in {:g} in. is R-{:.1f} per inch; allowed: up to {:g}",
                           layer.label_r->us(), printed->us(), per_inch, kPerInch.high),
               "check label_r and its thickness");
}

}  // namespace

void check_layer_words(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  if (m.form == Form::batt) return;
  check_label(r, layer, m, at);
  if (m.form != Form::loose) return;
  if (layer.lies == Lies::across)  // between is how it is counted
    r.fault_at(
        at + "/lies",
        fmt::format(
            "{} is loose: it does not lie across the joists, it fills the bays and lies over them",
            m.id),
        "leave lies out; across is for batts and boards");
  if (layer.facing != Facing::none)
    r.fault_at(at + "/facing", fmt::format("{} is loose and has no facing", m.id),
               "give the facing to the batt or board that carries it, or leave it out; paper or "
               "film on the ceiling is the retarder "
               "under ventilation");
  if (layer.facing_side)
    r.fault_at(at + "/facing_side", fmt::format("{} is loose and has no facing", m.id),
               "leave facing_side out");
}

}  // namespace overjoist::io
