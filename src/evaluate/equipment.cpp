// SPDX-License-Identifier: MIT
#include "evaluate/equipment.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

// What runs through the attic, and where its fans end.
namespace overjoist::parts {
namespace {

void runs_through(const std::vector<Equipment>& equipment, Notes& notes) {
  for (const Equipment& x : equipment) {
    const std::string_view where =
        x.where.empty() ? std::string_view("attic") : std::string_view(x.where);
    if (x.kind == EquipmentKind::pipe) notes.caution("pipe-freezes", where);
    if (x.kind == EquipmentKind::duct || x.kind == EquipmentKind::air_handler)
      notes.caution("buried-duct", where);
    if (x.kind == EquipmentKind::fan && x.ends_outdoors == false)
      notes.caution("vent-into-attic", where);
  }
}

/// A fan of `equipment` speaks for an exhaust fan of the bypasses if it names the same place, or
/// none.
bool told_by_equipment(const Bypass& fan, std::vector<const Equipment*>& fans) {
  const auto same = std::find_if(fans.begin(), fans.end(), [&](const Equipment* x) {
    return x->where == fan.where || x->where.empty();
  });
  if (same == fans.end()) return false;
  fans.erase(same);
  return true;
}

/// Where the duct of an exhaust fan ends is asked of a bypass as of `equipment`, unless a hazard
/// says that it ends in the attic.
void fan_cautions(const Job& job) {
  std::vector<const Equipment*> fans;
  for (const Equipment& x : job.survey.equipment)
    if (x.kind == EquipmentKind::fan) fans.push_back(&x);
  const auto& hazards = job.survey.hazards;
  const bool said = std::any_of(hazards.begin(), hazards.end(),
                                [](const Hazard& h) { return h.kind == "fan-into-attic"; });
  for (const Equipment* x : fans)
    if (!said && !x->ends_outdoors)
      job.notes.caution("fan-end-unknown", x->where.empty() ? "attic" : x->where);
  for (const Section& section : job.survey.sections)
    for (const Bypass& b : section.bypasses) {
      const BypassRow* row = job.tables.bypass(b.kind);
      if (!row || !row->fan || b.ends_outdoors == true) continue;
      const std::string& where = b.where.empty() ? section.name : b.where;
      if (b.ends_outdoors == false)
        job.notes.caution("vent-into-attic", where);
      else if (!said && !told_by_equipment(b, fans))
        job.notes.caution("fan-end-unknown", where);
    }
}

}  // namespace

void equipment_cautions(const Job& job) {
  runs_through(job.survey.equipment, job.notes);
  fan_cautions(job);
}

}  // namespace overjoist::parts
