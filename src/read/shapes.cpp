// SPDX-License-Identifier: MIT
#include "read/shapes.hpp"

#include "overjoist/clearing.hpp"

namespace overjoist::io {

SurveyBuild::SurveyBuild(const Tables& known) : tables(&known) {
  for (const CautionRow& row : known.cautions)
    hazard_kinds.insert(hazard_kinds.end(), row.hazard_kinds.begin(), row.hazard_kinds.end());
  for (const BypassRow& row : known.bypasses) bypass_kinds.push_back(row.id);
  for (const Fuel& fuel : known.fuels) fuels.push_back(fuel.id);
}

bool is_date(Reader& r, std::string_view text) {
  const bool day = is_day(text);
  if (!day) r.fault(make_fault<F::not_a_day>(r.token()));
  return day;
}

void check_version(Reader& r, const Scalar& value) {
  constexpr double kVersion = 1;
  if (value.number != kVersion) r.fault(make_fault<F::other_version>(r.raw(), kVersion));
}

}  // namespace overjoist::io
