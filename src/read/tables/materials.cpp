// SPDX-License-Identifier: MIT
#include <optional>
#include <string_view>

#include "read/tables/table.hpp"
#include "words/survey_words.hpp"

// The table of materials, ours (data/materials.json) and a user's.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr Bounds kSolidDensity = from(0.05, 200);
constexpr std::string_view kUses[] = {"any", "existing"};

template <auto M>
void set_percent(Reader&, OwnerOf<M>& object, Scalar& v) {
  object.*M = v.number / 100.0;
}
template <auto M>
constexpr Field<OwnerOf<M>> percent_field(std::string_view key) {
  return set_by<set_percent<M>>(
      {.key = key, .kinds = kNumber | kText, .dimension = percent, .bounds = from(0, 50)});
}

template <class T>
void need_order(Reader& r, std::string_view what, const std::optional<T>& low,
                const std::optional<T>& high) {
  if (low && high && *low > *high) r.fault(make_fault<F::low_above_high>(what));
}
void need_pair(Reader& r, const Seen& seen, std::string_view a, std::string_view b) {
  if (seen.has(a) != seen.has(b))
    r.fault(make_fault<F::missing_partner>(seen.has(a) ? b : a, a, b));
}
void finish_material(Reader& r, Material& m, const Seen& seen) {
  if (m.name.empty()) m.name = m.id;
  if (m.status.empty()) m.status = "survey";
  if (!seen.has("r_per_inch") && !seen.has("r_per_inch_low") && !seen.has("r"))
    r.fault(make_fault<F::material_without_r>());
  need_pair(r, seen, "thickness_in", "r");
  need_pair(r, seen, "density_low_lb_ft3", "density_high_lb_ft3");
  need_pair(r, seen, "settling_low_percent", "settling_high_percent");
  need_order(r, "r_per_inch", m.low, m.typical);
  need_order(r, "r_per_inch", m.typical, m.high);
  need_order(r, "r_per_inch", m.low, m.high);
  need_order(r, "found_r_per_inch", m.found_low, m.found_typical);
  need_order(r, "found_r_per_inch", m.found_typical, m.found_high);
  if ((seen.has("found_r_per_inch_low") || seen.has("found_r_per_inch_high")) &&
      !seen.has("found_r_per_inch"))
    r.fault(make_fault<F::missing_partner>("found_r_per_inch", "found_r_per_inch",
                                           "its low and high ends"));
  need_pair(r, seen, "thick_r_per_inch", "thick_over_in");
  need_order(r, "density", m.density_low, m.density_high);
  need_order(r, "settling", m.settling_low, m.settling_high);
  m.derive();
}

constexpr Field<Material> kMaterialAlso =
    set_by<set_text<&Material::also>>({.key = "word", .kinds = kText, .least = 1, .most = kIdText});
constexpr auto kMaterialFields = fields_of<Material>({
    id_field<&Material::id>("id", true),
    text_field<&Material::name>("name", 80),
    array_field("also", kMaterialAlso, 1, 20),
    word_field<&Material::form>("form", kWords<Form>, true),
    quantity_field<&Material::low>("r_per_inch_low", resistivity, kPerInch),
    quantity_field<&Material::typical>("r_per_inch", resistivity, kPerInch),
    quantity_field<&Material::high>("r_per_inch_high", resistivity, kPerInch),
    quantity_field<&Material::found_low>("found_r_per_inch_low", resistivity, kPerInch),
    quantity_field<&Material::found_typical>("found_r_per_inch", resistivity, kPerInch),
    quantity_field<&Material::found_high>("found_r_per_inch_high", resistivity, kPerInch),
    quantity_field<&Material::thick>("thick_r_per_inch", resistivity, kPerInch),
    quantity_field<&Material::thick_over>("thick_over_in", length, from(0.01, 24)),
    quantity_field<&Material::thickness>("thickness_in", length, from(0.01, 24)),
    quantity_field<&Material::resistance>("r", resistance, from(0.01, 200)),
    quantity_field<&Material::density_low>("density_low_lb_ft3", density, kSolidDensity),
    quantity_field<&Material::density_high>("density_high_lb_ft3", density, kSolidDensity),
    percent_field<&Material::settling_low>("settling_low_percent"),
    percent_field<&Material::settling_high>("settling_high_percent"),
    word_field<&Material::existing_only>("use", kUses),
    flag_field<&Material::tight>("tight"),
    id_field<&Material::caution>("caution", false),
    array_field("source", kSourceOf<&Material::sources>, 0, 20),
    text_field<&Material::status>("status", kLineText),
    array_field("found_source", kSourceOf<&Material::found_sources>, 0, 20),
    text_field<&Material::found_status>("found_status", kLineText),
    text_field<&Material::note>("note", kTableText),
});

constexpr Field<Tables> kMaterialRow = object_field<&Tables::materials>("row", kMaterialShape);
constexpr auto kMaterialTableFields =
    kTableKeys.then(fields_of<Tables>({rows_field(kMaterialRow)}));

constexpr auto kMaterialListFields = fields_of<Tables>({
    set_by<pass_over>({.key = "format", .kinds = kText, .most = kIdText, .required = true}),
    passed_field<Tables>("version"),
    array_field("materials", kMaterialRow, 1, kManyRows, true),
    passed_field<Tables>("sources"),
    passed_field<Tables>("tables"),
});

}  // namespace

constinit const Shape<Material> kMaterialShape{kMaterialFields, finish_by<finish_material>()};
constinit const Shape<Tables> kMaterialTable{kMaterialTableFields};
constinit const Shape<Tables> kMaterialList{kMaterialListFields};

}  // namespace overjoist::io
