// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/findings.hpp"
#include "overjoist/survey.hpp"

/// How a chain gathers its findings.
namespace overjoist {

/// Collects what a result must say beside its numbers, each thing once, in a fixed order.
class Notes {
 public:
  explicit Notes(const Tables& tables);

  void assume(std::string_view code, std::string_view where = {},
              std::initializer_list<NamedValue> values = {});
  /// Not raised where the survey says that a hazard of this row is cleared for this place or the
  /// whole attic.
  void caution(std::string_view code, std::string_view where,
               std::initializer_list<NamedValue> values = {});
  /// A caution for a hazard of the survey; a cleared one becomes a note that names person, date and
  /// paper.
  void hazard(const Hazard& hazard, const Survey& survey);
  /// The cautions that every attic gets.
  void standing();
  void use_sources(const std::vector<std::string>& ids);

  /// With hands kept off, cautions that ask for work which would stir the fill are left out or said
  /// in other words. Stop first, then fix-first, care, note; within a level in table order, then in
  /// order of raising.
  std::vector<Caution> take_cautions();
  std::vector<Assumption> take_assumptions();
  /// True once a fill that only the licensed person may touch was raised and is not cleared.
  bool hands_off() const { return hands_off_; }
  /// For notes beside those of a result that keeps hands off.
  void keep_hands_off(bool on) { hands_off_ = hands_off_ || on; }
  std::vector<std::size_t> take_sources() const;
  Findings take() { return {take_cautions(), take_assumptions(), take_sources()}; }

 private:
  void keep_quiet();
  void raise_uncleared(std::size_t row, std::string_view where, const std::string& fault);
  void raise(std::size_t row, std::string_view where, std::initializer_list<NamedValue> values);

  const Tables& tables_;
  bool hands_off_ = false;
  std::vector<Caution> cautions_;
  std::vector<Assumption> assumptions_;
  std::vector<bool> used_;              ///< by index in tables_.sources
  std::vector<const void*> looked_up_;  ///< lists of ids that were taken already
};

}  // namespace overjoist
