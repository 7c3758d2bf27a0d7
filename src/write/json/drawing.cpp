// SPDX-License-Identifier: MIT
#include "write/json/drawing.hpp"

namespace overjoist::io {
namespace {

void write_spot(JsonWriter& w, std::string_view key, const CutSpot& spot) {
  w.key(key);
  w.begin_object();
  w.field("reading_in", spot.reading);
  w.key("layers_in");
  w.begin_array();
  for (const Length thickness : spot.layers) w.number(thickness.us());
  w.end_array();
  w.field("surface_in", spot.surface);
  w.field("stays_in", spot.stays);
  w.field("new_low_in", spot.new_low);
  w.field("new_high_in", spot.new_high);
  w.end_object();
}

void write_layers(JsonWriter& w, const std::vector<CutLayer>& layers) {
  w.key("layers");
  w.begin_array();
  for (const CutLayer& layer : layers) {
    w.begin_object();
    w.field("material", layer.material);
    w.field("lies", std::string_view(layer.lies == Lies::across ? "across" : "between"));
    w.key("loose");
    w.flag(layer.loose);
    w.key("comes_out");
    w.flag(layer.comes_out);
    w.end_object();
  }
  w.end_array();
}

void write_depths(JsonWriter& w, const std::vector<DepthShare>& depths) {
  w.key("depths");
  w.begin_array();
  for (const DepthShare& d : depths) {
    w.begin_array();
    w.number(d.depth.us());
    w.number(d.share);
    w.end_array();
  }
  w.end_array();
}

}  // namespace

void write_cut_json(JsonWriter& w, const std::optional<SectionCut>& cut) {
  if (!cut) return w.field_null("cut");
  w.key("cut");
  w.begin_object();
  w.field("joist_width_in", cut->joist_width);
  w.field("joist_depth_in", cut->joist_depth);
  w.field("spacing_in", cut->spacing);
  w.key("under_deck");
  w.flag(cut->under_deck);
  w.field_or_null("ceiling", cut->ceiling);
  w.field("ceiling_thickness_in", cut->ceiling_thickness);
  write_layers(w, cut->layers);
  write_spot(w, "least", cut->least);
  write_spot(w, "greatest", cut->greatest);
  write_depths(w, cut->depths);
  w.end_object();
}

void write_surveyed_json(JsonWriter& w, const Evaluation& e) {
  if (e.surveyed_by.empty() && e.surveyed_date.empty()) return w.field_null("surveyed");
  w.key("surveyed");
  w.begin_object();
  w.field_or_null("by", e.surveyed_by);
  w.field_or_null("date", e.surveyed_date);
  w.end_object();
}

}  // namespace overjoist::io
