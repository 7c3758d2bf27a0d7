// SPDX-License-Identifier: MIT
#include "overjoist/leakage.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The keys of a survey that belong to the plan: air leaks, what seals them, vents.
namespace overjoist::io {
namespace {

using enum Dimension;

// Air leaks

/// Sizes that the kind has no use for, or that lack their other half, would be left out of the sums
/// unseen.
void finish_bypass(Reader& r, const Bypass& bypass, const Seen& seen) {
  const BypassRow* row = r.user<SurveyBuild>().tables->bypass(bypass.kind);
  if (row == nullptr) return;
  const bool length_given = seen.has("length_ft"), width_given = seen.has("width_in"),
             area_given = seen.has("area_ft2");
  if (!row->fan && seen.has("ends_outdoors"))
    r.fault_of("ends_outdoors", make_fault<F::outdoors_of_fan>());
  const bool by_foot = row->unit == BypassUnit::ft, by_bay = row->unit == BypassUnit::bay;
  if (by_foot && area_given) r.fault_of("area_ft2", make_fault<F::leak_by_foot>(row->id));
  if (width_given && ((by_foot && !row->rim) || by_bay))
    r.fault_of("width_in", by_bay ? make_fault<F::bay_without_width>(row->id)
                                  : make_fault<F::leak_without_width>(row->id));
  if (by_foot || by_bay) return;
  if (length_given != width_given)
    r.fault(make_fault<F::opening_halved>(length_given ? "width_in" : "length_ft"));
  else if (length_given && area_given)
    r.fault(make_fault<F::opening_twice>());
}
constexpr auto kBypassFields = fields_of<Bypass>({
    bypass_kind_field<&Bypass::kind>(),
    text_field<&Bypass::where>("where", kLineText),
    whole_field<&Bypass::count>("count", from(1, 1000)),
    feet_field<&Bypass::length>("length_ft", from(0.01, 1000)),
    quantity_field<&Bypass::width>("width_in", length, from(0.01, 240)),
    quantity_field<&Bypass::area>("area_ft2", area, from(0.0001, 1000)),
    flag_field<&Bypass::ends_outdoors>("ends_outdoors"),
});

// What seals them

constexpr auto kSealingFields = fields_of<SealingRequest>({
    number_field<&SealingRequest::foam_board_ft_per_can>("foam_board_ft_per_can", from(1, 1000)),
    quantity_field<&SealingRequest::waste_percent>("waste_percent", percent, from(0, 99)),
});

// Vents

template <auto M>
void set_square_inches(Reader&, OwnerOf<M>& object, Scalar& v) {
  object.*M = square_inches(v.number);
}
template <auto M>
constexpr Field<OwnerOf<M>> square_inch_field(std::string_view key) {
  return set_by<set_square_inches<M>>(
      {.key = key, .kinds = kNumber, .dimension = number, .bounds = from(0, 1e6)});
}
constexpr auto kVentilationFields = fields_of<VentilationSurvey>({
    square_inch_field<&VentilationSurvey::low>("low_nfa_in2"),
    square_inch_field<&VentilationSurvey::high>("high_nfa_in2"),
    flag_field<&VentilationSurvey::retarder>("retarder"),
    feet_field<&VentilationSurvey::eave_length>("eave_length_ft", from(0, 10000)),
    quantity_field<&VentilationSurvey::rafter_spacing>("rafter_spacing_in", length, from(1, 120)),
});

// Equipment

void finish_equipment(Reader& r, const Equipment& equipment, const Seen& seen) {
  const EquipmentKind kind = equipment.kind;
  const bool duct = kind == EquipmentKind::duct || kind == EquipmentKind::air_handler;
  if (seen.has("kind") && !duct && seen.has("sealed"))
    r.fault_of("sealed", make_fault<F::sealed_of_duct>());
  if (seen.has("kind") && kind != EquipmentKind::fan && seen.has("ends_outdoors"))
    r.fault_of("ends_outdoors", make_fault<F::equipment_outdoors>());
}
constexpr auto kEquipmentFields = fields_of<Equipment>({
    word_field<&Equipment::kind>("kind", kWords<EquipmentKind>, true),
    text_field<&Equipment::where>("where", kLineText),
    feet_field<&Equipment::length>("length_ft", from(0.1, 10000)),
    quantity_field<&Equipment::r>("r", resistance, from(0, 200)),
    flag_field<&Equipment::sealed>("sealed"),
    flag_field<&Equipment::ends_outdoors>("ends_outdoors"),
});
constexpr auto kBlowerDoorFields = fields_of<BlowerDoor>({
    number_field<&BlowerDoor::cfm50_before>("cfm50_before", from(10, 50000), true),
    number_field<&BlowerDoor::cfm50_after>("cfm50_after", from(10, 50000)),
    whole_field<&BlowerDoor::storeys>("storeys", from(1, 10)),
    number_field<&BlowerDoor::wind_mph>("wind_mph", from(0, 60)),
});

}  // namespace

constinit const Shape<Equipment> kEquipmentShape{kEquipmentFields, finish_by<finish_equipment>()};
constinit const Shape<Bypass> kBypassShape{kBypassFields, finish_by<finish_bypass>()};
constinit const Shape<SealingRequest> kSealingShape{kSealingFields};
constinit const Shape<VentilationSurvey> kVentilationShape{kVentilationFields};
constinit const Shape<BlowerDoor> kBlowerDoorShape{kBlowerDoorFields};

}  // namespace overjoist::io
