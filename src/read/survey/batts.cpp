// SPDX-License-Identifier: MIT
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

}  // namespace overjoist::io
