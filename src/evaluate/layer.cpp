// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include <algorithm>
#include <string>

#include "evaluate/floor.hpp"
#include "overjoist/diagnostics.hpp"

// A layer with its material and every default filled in.
namespace overjoist::parts {
namespace {

/// Label of a batt: as given, else from its thickness and the table's R per inch.
void build_batt(BuiltLayer& built, const Layer& layer, const std::string& where, Notes& notes) {
  const Material& m = *built.material;
  const std::optional<Length> l0 = layer.label_thickness ? layer.label_thickness : layer.thickness;
  if (layer.label_r && l0) {
    built.label_r = *layer.label_r;
    built.label_thickness = *l0;
  } else if (l0 && m.central()) {
    built.label_thickness = *l0;
    built.label_r = *m.central_at(*l0) * *l0;
    built.label_from_table = true;
    notes.assume("label-r", where, {{"material", m.name}, {"value", built.label_r}});
  } else if (layer.label_r && m.central()) {
    built.label_r = *layer.label_r;
    built.label_thickness = inches(layer.label_r->us() / m.central()->us());
    notes.assume("label-thickness-from-r", where,
                 {{"material", m.name}, {"value", built.label_thickness}});
  } else {
    throw Error(ErrorCode::missing, where,
                fmt::format("a batt of '{}' has neither label R nor thickness", layer.material),
                "give label_r and label_thickness_in from its print");
  }
  built.thickness = layer.thickness.value_or(built.label_thickness);
  if (!layer.thickness)
    notes.assume("label-thickness", where, {{"material", m.name}, {"value", built.thickness}});
}

/// R per inch of loose fill or a board: by its label, else by its row.
void build_rho(BuiltLayer& built, const Layer& layer, const std::string& where, Notes& notes) {
  const Material& m = *built.material;
  const bool sheet = m.resistance && m.thickness;
  const std::optional<Length> l0 =
      layer.label_thickness ? layer.label_thickness
      : built.board         ? std::optional(built.thickness)
                            : std::nullopt;  // the depth of a loose fill is not that of its label
  if (layer.label_r && l0 && *l0 > Length{}) {
    built.rho = *layer.label_r / *l0;
    built.labelled = true;
    return notes.assume("label-of-layer", where, {{"material", m.name}, {"value", built.rho}});
  }
  if (layer.label_r)
    throw Error(ErrorCode::missing, where,
                fmt::format("the label of '{}' has an R without its thickness", layer.material),
                "give label_thickness_in, or leave label_r out");
  const auto rho = sheet ? std::optional(*m.resistance / *m.thickness) : m.central();
  if (!rho)
    throw Error(ErrorCode::missing, where,
                fmt::format("no R per inch is known for '{}'", layer.material),
                "define it under materials");
  built.rho = *rho;
  notes.assume(sheet    ? "material-r"
               : m.aged ? "found-r"
                        : rho_code(m),
               "", {{"material", m.name}, {"value", built.rho}});
}

double void_share(const Layer& layer, const std::string& where, Notes& notes) {
  if (layer.condition != Condition::voids) return layer.void_share.value_or(0.0);
  if (layer.void_share) return *layer.void_share;
  constexpr double kGradeIII = 0.05;  // the larger preset (model 16): rounding against us
  notes.assume("void-share", where, {{"value", kGradeIII}});
  return kGradeIII;
}

}  // namespace

const Material& material_of(const Survey& survey, const Tables& tables, const std::string& id,
                            const std::string& where) {
  const Material* m = survey.material(tables, id);
  if (!m)
    throw Error(ErrorCode::unknown_name, where, fmt::format("material '{}' is not known", id),
                "see the materials command");
  return *m;
}

BuiltLayer build_layer(const Layer& layer, const Job& job, const std::string& where, Lain lain) {
  BuiltLayer built;
  const Material& row = material_of(job.survey, job.tables, layer.material, where);
  built.material = lain == Lain::found ? &row.as_found() : &row;
  const Material& m = *built.material;
  job.notes.use_sources(m.sources);
  built.batt = m.form == Form::batt;
  built.board = m.form == Form::board || m.form == Form::spray || m.form == Form::ceiling ||
                m.form == Form::wood;
  built.lies = layer.lies.value_or(Lies::between);
  built.condition = layer.condition;
  built.void_share = void_share(layer, where, job.notes);
  if (built.batt) {
    build_batt(built, layer, where, job.notes);
  } else {
    built.thickness = layer.thickness ? *layer.thickness : m.thickness.value_or(Length{});
    built.takes_rest = m.form == Form::loose && !layer.thickness;
    build_rho(built, layer, where, job.notes);
  }
  if (built.counts_nothing()) job.notes.assume("wet-counts-zero", where, {{"material", m.name}});
  return built;
}

}  // namespace overjoist::parts
