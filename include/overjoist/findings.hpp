// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "overjoist/survey.hpp"
#include "overjoist/units.hpp"

/// What a result says beside its numbers: cautions and assumptions as data, a row of a table, a
/// place and typed values. One renderer fills in words and units, so a second language or unit
/// system is data, not code.
namespace overjoist {

/// A value for a {name} place of a template. `double` is a plain number, `std::string` a text from
/// the survey.
using Value = std::variant<std::string, double, Length, Area, Volume, Resistance, Resistivity,
                           Density, MassPerArea, Mass>;

struct NamedValue {
  std::string_view name;  ///< points to a literal
  Value value;

  NamedValue(std::string_view name_, Value value_) : name(name_), value(std::move(value_)) {}
  /// By assignment: the copy constructor of libstdc++ 12's variant jumps astray where a string in
  /// it finds no memory, since it takes a variant of strings never to be empty. May go once that is
  /// mended there.
  NamedValue(const NamedValue& other) : name(other.name) { value = other.value; }
  NamedValue(NamedValue&& other) noexcept = default;
  NamedValue& operator=(const NamedValue& other) = default;
  NamedValue& operator=(NamedValue&& other) noexcept = default;
  ~NamedValue() = default;
};

using Values = std::vector<NamedValue>;

/// The place of what is said of no section alone.
inline constexpr std::string_view kWholeAttic = "attic";

struct Caution {
  std::size_t row = 0;  ///< into Tables::cautions
  CautionLevel level =
      CautionLevel::care;  ///< the row's, or `note` where the survey says it is cleared
  std::string where;       ///< section name, hazard place, or "attic"
  Values values;
  bool cleared = false;  ///< by person, date and paper, given in `values` as by, date, paper
  bool quiet = false;    ///< said in the row's quiet words

  /// What is cleared is named, where the row has a name for it: its text asks for work, and says
  /// what counts, as long as it is open.
  const std::string& text(const CautionRow& of) const {
    if (cleared && !of.brief.empty()) return of.brief;
    return spoken(of) ? of.quiet_words.text : of.text;
  }
  const std::string& who(const CautionRow& of) const {
    return spoken(of) ? of.quiet_words.who : of.who;
  }
  const std::string& clears(const CautionRow& of) const {
    return spoken(of) ? of.quiet_words.clears : of.clears;
  }

 private:
  bool spoken(const CautionRow& of) const { return quiet && !of.quiet_words.text.empty(); }
};

struct Assumption {
  std::size_t row = 0;  ///< into Tables::assumptions
  std::string where;    ///< section name, or ""
  Values values;        ///< the one called "value" is shown as the value
  bool quiet = false;   ///< said in the row's quiet words

  const std::string& what(const AssumptionRow& of) const {
    return quiet && !of.quiet_what.empty() ? of.quiet_what : of.what;
  }
  const std::string& why(const AssumptionRow& of) const {
    return quiet && !of.quiet_why.empty() ? of.quiet_why : of.why;
  }
};

/// All of it, of an evaluation or of an inspection.
struct Findings {
  std::vector<Caution> cautions;  ///< stop first, then fix-first, care, note; then table order
  std::vector<Assumption> assumptions;
  std::vector<std::size_t> sources;  ///< rows of Tables::sources, in order, no repeats

  bool stopped() const { return !cautions.empty() && cautions.front().level == CautionLevel::stop; }
};

}  // namespace overjoist
