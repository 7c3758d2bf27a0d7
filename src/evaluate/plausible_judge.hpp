// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string>
#include <string_view>

#include "overjoist/cautions.hpp"
#include "overjoist/materials.hpp"

/// A figure of a survey, held against the rows of `data/plausible.json`.
namespace overjoist::parts {

inline double us_of(double number) { return number; }
template <class Tag>
double us_of(Quantity<Tag> q) {
  return q.us();
}
template <class V>
V like(const V&, double us) {
  if constexpr (requires { V::from_us(us); })
    return V::from_us(us);
  else
    return us;
}

/// A row of the table that a figure is beyond, and the end of the row's span that it passed.
struct Beyond {
  const PlausibleRow* row = nullptr;
  bool above = false;
};

/// Notes and tables, and the place at hand.
struct Judge {
  const Tables& tables;
  Notes& notes;
  std::string_view where;

  /// The first row of a measure that the least or the greatest of some figures is beyond.
  Beyond beyond(Measure measure, std::string_view of, double least, double greatest) const {
    const auto m = static_cast<std::size_t>(measure);
    for (std::size_t i = tables.plausible_from[m]; i < tables.plausible_from[m + 1]; ++i) {
      const PlausibleRow& row = tables.plausible[i];
      if (!row.of.empty() && row.of != of) continue;
      if (row.above && greatest > *row.above * row.times) return {&row, true};
      if (row.below && least < *row.below / row.times) return {&row, false};
    }
    return {};
  }

  /// @param what, other  fill the places {what} and {other} of the row's words.  @returns true if a
  /// row was passed
  template <class V>
  bool span(Measure measure, V least, V greatest, std::string_view what = {},
            const Value& other = 0.0) const {
    return raise(beyond(measure, what, us_of(least), us_of(greatest)), least, greatest, what,
                 other);
  }
  template <class V>
  bool one(Measure measure, V value, std::string_view what = {}, const Value& other = 0.0) const {
    return span(measure, value, value, what, other);
  }
  /// A share of `whole` is told as what it is a share of.
  bool share(Measure measure, Area part, Area whole, std::string_view what = {}) const {
    if (!(whole > Area{})) return false;
    const Beyond b = beyond(measure, {}, part / whole, part / whole);
    return raise(b, part, part, what, whole);
  }

 private:
  template <class V>
  bool raise(Beyond b, V least, V greatest, std::string_view what, const Value& other) const {
    if (!b.row) return false;
    const Value value = b.above ? greatest : least,
                limit = like(least, b.above ? *b.row->above : *b.row->below);
    notes.caution(
        b.row->code, where,
        {{"value", value}, {"limit", limit}, {"what", std::string(what)}, {"other", other}});
    return true;
  }
};

}  // namespace overjoist::parts
