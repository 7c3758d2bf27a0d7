// SPDX-License-Identifier: MIT
#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
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

  NamedValue(std::string_view name_, Value value_) : name(name_), value(std::move(value_)) {}
  /// By assignment: the copy constructor of libstdc++ 12's variant jumps astray where a string in it finds no memory, since it takes
  /// a variant of strings never to be empty. May go once that is mended there.
  NamedValue(const NamedValue& other) : name(other.name) { value = other.value; }
  NamedValue(NamedValue&& other) noexcept = default;
  NamedValue& operator=(const NamedValue& other) = default;
  NamedValue& operator=(NamedValue&& other) noexcept = default;
  ~NamedValue() = default;
};

using Values = std::vector<NamedValue>;

struct Caution {
  std::size_t row = 0;                      ///< into Tables::cautions
  CautionLevel level = CautionLevel::care;  ///< the row's, or `note` where the survey says it is cleared
  std::string where;                        ///< section name, hazard place, or "attic"
  Values values;
  bool cleared = false;  ///< by person, date and paper, given in `values` as by, date, paper
};

struct Assumption {
  std::size_t row = 0;  ///< into Tables::assumptions
  std::string where;    ///< section name, or ""
  Values values;        ///< the one called "value" is shown as the value
};

/// Collects what a result must say beside its numbers, each thing once, in a fixed order.
class Notes {
 public:
  explicit Notes(const Tables& tables);

  void assume(std::string_view code, std::string_view where = {}, std::initializer_list<NamedValue> values = {});
  /// Not raised where the survey says that a hazard of this row is cleared for this place or the whole attic.
  void caution(std::string_view code, std::string_view where, std::initializer_list<NamedValue> values = {});
  /// A caution for a hazard of the survey; a cleared one becomes a note that names person, date and paper.
  void hazard(const Hazard& hazard);
  /// The cautions that every attic gets.
  void standing();
  void use_sources(const std::vector<std::string>& ids);

  /// Stop first, then fix-first, care, note; within a level in table order, then in order of raising.
  std::vector<Caution> take_cautions();
  std::vector<Assumption> take_assumptions() { return std::move(assumptions_); }
  std::vector<std::size_t> take_sources() const;

 private:
  void raise(std::size_t row, std::string_view where, std::initializer_list<NamedValue> values);

  const Tables& tables_;
  std::vector<Caution> cautions_;
  std::vector<Assumption> assumptions_;
  std::vector<bool> used_;              ///< by index in tables_.sources
  std::vector<const void*> looked_up_;  ///< lists of ids that were taken already
};

}  // namespace overjoist
