// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "read/shapes.hpp"

// The product list of batts and boards; data/survey.schema.json says the same.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr auto kBattFields = fields_of<BattProduct>({
    text_field<&BattProduct::name>("name", kNameText, true),
    text_field<&BattProduct::material>("material", kIdText),
    quantity_field<&BattProduct::label_r>("label_r", resistance, kPositiveR),
    quantity_field<&BattProduct::thickness>("label_thickness_in", length, kThickness, true),
    quantity_field<&BattProduct::coverage>("coverage_ft2", area, from(1, 10000), true),
    quantity_field<&BattProduct::package_weight>("package_lb", mass, from(0.1, 2000)),
    number_field<&BattProduct::price>("price_per_package", kPrice),
    flag_field<&BattProduct::faced>("faced"),
});

}  // namespace

constinit const Shape<BattProduct> kBattShape{kBattFields};

void check_batts(Reader& r, const SurveyBuild& build, const std::vector<BattProduct>& batts,
                 const std::string& pointer) {
  for (std::size_t i = 0; i < batts.size(); ++i) {
    const BattProduct& p = batts[i];
    const std::string here = fmt::format("{}/{}", pointer, i);
    const bool twin = std::any_of(batts.begin(), batts.begin() + static_cast<std::ptrdiff_t>(i),
                                  [&](const BattProduct& b) { return b.name == p.name; });
    if (twin) r.fault_at(here + "/name", make_fault<F::product_twice>(shortened(p.name)));
    if (p.faced) r.fault_at(here + "/faced", make_fault<F::faced_product>());
    const Material* m = known_material(r, build, p.material, here + "/material", Place::laid);
    if (!m) continue;
    const bool batt = m->form == Form::batt;
    if (!batt && m->form != Form::board)
      r.fault_at(here + "/material", make_fault<F::neither_batt_nor_board>(m->id));
    else if (!p.label_r && !m->central() && !(m->resistance && m->thickness))
      r.fault_at(here, make_fault<F::product_without_r>(m->id));
    else if (batt && p.label_r)
      check_batt_print(r, *p.label_r, p.thickness, here);
  }
}

}  // namespace overjoist::io
