// SPDX-License-Identifier: MIT
#include "write/json/drawing.hpp"

namespace overjoist::io {
namespace {

void write_spot(JsonWriter& w, std::string_view key, const CutSpot& spot) {
  w.object(key, [&] {
    w.field("reading_in", spot.reading);
    w.list("layers_in", spot.layers, [&](const Length thickness) { w.number(thickness.us()); });
    w.field("surface_in", spot.surface);
    w.field("stays_in", spot.stays);
    w.field("new_low_in", spot.new_low);
    w.field("new_high_in", spot.new_high);
  });
}

void write_layers(JsonWriter& w, const std::vector<CutLayer>& layers) {
  w.objects("layers", layers, [&](const CutLayer& layer) {
    w.field("material", layer.material);
    w.field("lies", layer.lies == Lies::across ? "across" : "between");
    w.field("loose", layer.loose);
    w.field("comes_out", layer.comes_out);
  });
}

void write_depths(JsonWriter& w, const std::vector<DepthShare>& depths) {
  w.list("depths", depths, [&](const DepthShare& d) {
    w.list([&] {
      w.number(d.depth.us());
      w.number(d.share);
    });
  });
}

}  // namespace

void write_cut_json(JsonWriter& w, const std::optional<SectionCut>& cut) {
  w.object_or_null("cut", cut, [&](const SectionCut& c) {
    w.field("joist_width_in", c.joist_width);
    w.field("joist_depth_in", c.joist_depth);
    w.field("spacing_in", c.spacing);
    w.field("under_deck", c.under_deck);
    w.field_or_null("ceiling", c.ceiling);
    w.field("ceiling_thickness_in", c.ceiling_thickness);
    write_layers(w, c.layers);
    write_spot(w, "least", c.least);
    write_spot(w, "greatest", c.greatest);
    write_depths(w, c.depths);
  });
}

void write_surveyed_json(JsonWriter& w, const Evaluation& e) {
  if (e.surveyed_by.empty() && e.surveyed_date.empty()) return w.field_null("surveyed");
  w.object("surveyed", [&] {
    w.field_or_null("by", e.surveyed_by);
    w.field_or_null("date", e.surveyed_date);
  });
}

}  // namespace overjoist::io
