// SPDX-License-Identifier: MIT
#include "overjoist/cautions.hpp"

#include <fmt/format.h>
#include <algorithm>

#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

bool same_value(const NamedValue& a, const NamedValue& b) { return a.name == b.name && a.value == b.value; }

template <class Entry>
bool already_there(const std::vector<Entry>& list, const Entry& entry) {
  return std::any_of(list.begin(), list.end(), [&](const Entry& e) {
    return e.row == entry.row && e.where == entry.where &&
           std::equal(e.values.begin(), e.values.end(), entry.values.begin(), entry.values.end(), same_value);
  });
}

}  // namespace

void Notes::assume(std::string_view code, std::string_view where, std::vector<NamedValue> values) {
  Assumption entry{tables_.assumption(code), std::string(where), std::move(values)};
  if (!already_there(assumptions_, entry)) assumptions_.push_back(std::move(entry));
}

void Notes::caution(std::string_view code, std::string_view where, std::vector<NamedValue> values) {
  const std::size_t row = tables_.caution(code);
  Caution entry{row, tables_.cautions[row].level, std::string(where), std::move(values), false};
  if (!already_there(cautions_, entry)) cautions_.push_back(std::move(entry));
}

void Notes::hazard(const Hazard& hazard) {
  const std::string where = hazard.where.empty() ? "attic" : hazard.where;
  for (const CautionRow& row : tables_.cautions) {
    const auto& kinds = row.hazard_kinds;
    if (std::find(kinds.begin(), kinds.end(), hazard.kind) == kinds.end()) continue;
    if (!hazard.cleared()) return caution(row.code, where);
    cautions_.push_back({static_cast<std::size_t>(&row - tables_.cautions.data()),
                         CautionLevel::note,
                         where,
                         {{"by", hazard.cleared_by}, {"date", hazard.cleared_date}, {"paper", hazard.cleared_paper}},
                         true});
    return;
  }
  throw Error(ErrorCode::unknown_name, "hazards", fmt::format("hazard '{}' is not known", hazard.kind),
              "the hazard kinds are in the caution table");
}

void Notes::standing() {
  for (const CautionRow& row : tables_.cautions)
    if (row.standing) caution(row.code, "attic");
}

void Notes::use_sources(const std::vector<std::string>& ids) {
  for (const std::string& id : ids)
    if (const SourceRow* row = tables_.source(id)) used_[static_cast<std::size_t>(row - tables_.sources.data())] = true;
}

std::vector<Caution> Notes::take_cautions() {
  std::stable_sort(cautions_.begin(), cautions_.end(),
                   [](const Caution& a, const Caution& b) { return a.level != b.level ? a.level < b.level : a.row < b.row; });
  return std::move(cautions_);
}

std::vector<std::string> Notes::take_sources() const {
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < used_.size(); ++i)
    if (used_[i]) ids.push_back(tables_.sources[i].id);
  return ids;
}

}  // namespace overjoist
