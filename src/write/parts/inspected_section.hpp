// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "overjoist/inspect.hpp"
#include "write/parts/parts.hpp"

/// A section of an inspection as text, and what the whole text is written with.
namespace overjoist::io {

/// What the page is written with, and the inspection that is shown.
struct InspectionView {
  const Sheet& c;
  const Inspection& in;
  void line(std::string_view text) const { c.page.paragraph(text, 2); }
  void item(std::string_view text) const { c.page.item(text, 2); }
  void box(bool ticked, std::string_view text) const { c.page.tick(text, 2, ticked); }
};

struct BuiltShown {
  bool at_most = false;
  Resistance r;
  const std::optional<ResistanceRange>& range;
};

/// R as built, "R-49.2 working, at 90 % ...". Where only bags or only depths are known the best end
/// of the range is the most that it can be, and no other figure is.
/// @param text  of the figure that is shown; "": as usual
std::string built_words(const InspectionView& v, std::string_view kind, const BuiltShown& b,
                        const std::string& text = "");
std::string depth(const InspectionView& v, Length d, Toward toward);
/// Bags, depths, the new layer, R as built, and a lid, each with what it is held against.
void write_inspected_section(const InspectionView& v, const SectionInspection& s);

}  // namespace overjoist::io
