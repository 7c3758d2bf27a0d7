// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "overjoist/survey.hpp"
#include "overjoist/units.hpp"

/// Cautions and assumptions as data: a row of a table, a place and typed values. One renderer fills in words
/// and units, so a second language or unit system is data, not code.
namespace overjoist {

/// A value for a {name} place of a template. `double` is a plain number, `std::string` a text from the survey.
using Value = std::variant<std::string, double, Length, Area, Volume, Resistance, Resistivity, Density, MassPerArea, Mass>;

struct NamedValue {
  std::string_view name;  ///< points to a literal
  Value value;
};

struct Caution {
  std::size_t row = 0;                      ///< into Tables::cautions
  CautionLevel level = CautionLevel::care;  ///< the row's, or `note` where the survey says it is cleared
  std::string where;                        ///< section name, hazard place, or "attic"
  std::vector<NamedValue> values;
  bool cleared = false;  ///< by person, date and paper, given in `values` as by, date, paper
};

struct Assumption {
  std::size_t row = 0;             ///< into Tables::assumptions
  std::string where;               ///< section name, or ""
  std::vector<NamedValue> values;  ///< the one called "value" is shown as the value
};

/// Collects what a result must say beside its numbers, each thing once, in a fixed order.
class Notes {
 public:
  explicit Notes(const Tables& tables) : tables_(tables), used_(tables.sources.size(), false) {}

  void assume(std::string_view code, std::string_view where = {}, std::vector<NamedValue> values = {});
  void caution(std::string_view code, std::string_view where, std::vector<NamedValue> values = {});
  /// A caution for a hazard of the survey; a cleared one becomes a note that names person, date and paper.
  void hazard(const Hazard& hazard);
  /// The cautions that every attic gets.
  void standing();
  void use_sources(const std::vector<std::string>& ids);

  /// Stop first, then fix-first, care, note; within a level in table order, then in order of raising.
  std::vector<Caution> take_cautions();
  std::vector<Assumption> take_assumptions() { return std::move(assumptions_); }
  std::vector<std::string> take_sources() const;

 private:
  const Tables& tables_;
  std::vector<Caution> cautions_;
  std::vector<Assumption> assumptions_;
  std::vector<bool> used_;  ///< by index in tables_.sources
};

}  // namespace overjoist
