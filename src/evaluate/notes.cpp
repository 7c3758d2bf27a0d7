// SPDX-License-Identifier: MIT
#include "overjoist/cautions.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <numeric>
#include <tuple>

#include "overjoist/clearing.hpp"
#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

bool same_value(const NamedValue& a, const NamedValue& b) {
  return a.name == b.name && a.value == b.value;
}

template <class Entry>
bool already_there(const std::vector<Entry>& list, std::size_t row, std::string_view where,
                   std::initializer_list<NamedValue> values) {
  return std::any_of(list.begin(), list.end(), [&](const Entry& e) {
    return e.row == row && e.where == where &&
           std::equal(e.values.begin(), e.values.end(), values.begin(), values.end(), same_value);
  });
}

}  // namespace

Notes::Notes(const Tables& tables) : tables_(tables), used_(tables.sources.size(), false) {
  constexpr std::size_t kUsual = 32;  // entries of a usual result: no growth by steps
  cautions_.reserve(kUsual);
  assumptions_.reserve(kUsual);
}

void Notes::assume(std::string_view code, std::string_view where,
                   std::initializer_list<NamedValue> values) {
  const std::size_t row = tables_.assumption(code);
  if (!already_there(assumptions_, row, where, values))
    assumptions_.push_back({row, std::string(where), Values(values)});
}

void Notes::caution(std::string_view code, std::string_view where,
                    std::initializer_list<NamedValue> values) {
  const std::size_t row = tables_.caution(code);
  // A hazard that the survey says is cleared, here or for the whole attic, stands for what raises
  // the same caution.
  const auto cleared = [&](const Caution& c) {
    return c.cleared && c.row == row && (c.where == where || c.where == kWholeAttic);
  };
  if (std::none_of(cautions_.begin(), cautions_.end(), cleared)) raise(row, where, values);
}

void Notes::raise(std::size_t row, std::string_view where,
                  std::initializer_list<NamedValue> values) {
  // A hazard that is said to be cleared, but is not, has said the same already.
  const auto said = [&](const Caution& c) {
    return c.row == row && c.where == where && !c.cleared && c.values.size() == 1 &&
           c.values[0].name == "but";
  };
  if (already_there(cautions_, row, where, values)) return;
  if (values.size() == 0 && std::any_of(cautions_.begin(), cautions_.end(), said)) return;
  cautions_.push_back(
      {row, tables_.cautions[row].level, std::string(where), Values(values), false});
  hands_off_ = hands_off_ || tables_.cautions[row].hands_off;
}

void Notes::raise_uncleared(std::size_t row, std::string_view where, const std::string& fault) {
  const auto open = [&](const Caution& c) {
    return c.row == row && c.where == where && !c.cleared;
  };
  const auto there = std::find_if(cautions_.begin(), cautions_.end(), open);
  if (there == cautions_.end()) return raise(row, where, {{"but", fault}});
  if (there->values.empty()) there->values.push_back({"but", fault});
}

void Notes::hazard(const Hazard& hazard, const Survey& survey) {
  const std::string where(hazard.where.empty() ? kWholeAttic : std::string_view(hazard.where));
  const CautionRow* of = caution_row(hazard, tables_);
  if (!of)
    throw Error(ErrorCode::unknown_name, "hazards",
                fmt::format("hazard '{}' is not known", hazard.kind),
                "the hazard kinds are in the caution table");
  auto row = static_cast<std::size_t>(of - tables_.cautions.data());
  // What is closed in an unvented attic is meant to be: nothing is opened there, and no baffle goes
  // in.
  if (of->code == "blocked-soffit" && survey.site.unvented())
    row = tables_.caution("soffit-closed");
  const std::string fault = clearing_fault(hazard, survey, tables_);
  if (!fault.empty()) return raise_uncleared(row, where, fault);
  if (!hazard.said_cleared()) return raise(row, where, {});
  cautions_.push_back(
      {row,
       CautionLevel::note,
       where,
       {{"by", hazard.cleared_by}, {"date", hazard.cleared_date}, {"paper", hazard.cleared_paper}},
       true});
}

void Notes::standing() {
  for (std::size_t i = 0; i < tables_.cautions.size(); ++i)
    if (tables_.cautions[i].standing) raise(i, kWholeAttic, {});
}

void Notes::use_sources(const std::vector<std::string>& ids) {
  if (std::find(looked_up_.begin(), looked_up_.end(), &ids) != looked_up_.end()) return;
  looked_up_.push_back(&ids);
  for (const std::string& id : ids)
    if (const SourceRow* row = tables_.source(id))
      used_[static_cast<std::size_t>(row - tables_.sources.data())] = true;
}

std::vector<Caution> Notes::take_cautions() {
  if (hands_off_) keep_quiet();
  std::vector<std::size_t> order(cautions_.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    const Caution &a = cautions_[i], &b = cautions_[j];
    return std::tie(a.level, a.row, i) < std::tie(b.level, b.row, j);
  });
  std::vector<Caution> sorted;
  sorted.reserve(order.size());
  for (const std::size_t i : order) sorted.push_back(std::move(cautions_[i]));
  return sorted;
}

std::vector<Assumption> Notes::take_assumptions() {
  for (Assumption& a : assumptions_) a.quiet = hands_off_;
  return std::move(assumptions_);
}

void Notes::keep_quiet() {
  // A stop or fix-first always stands; its quiet words are held by a test to ask for nothing that
  // stirs the fill.
  const auto left_out = [&](const Caution& c) {
    const CautionRow& row = tables_.cautions[c.row];
    return row.level >= CautionLevel::care && !row.quiet && !c.cleared;
  };
  cautions_.erase(std::remove_if(cautions_.begin(), cautions_.end(), left_out), cautions_.end());
  for (Caution& c : cautions_) c.quiet = !c.cleared;
}

std::vector<std::size_t> Notes::take_sources() const {
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < used_.size(); ++i)
    if (used_[i]) rows.push_back(i);
  return rows;
}

}  // namespace overjoist
