// SPDX-License-Identifier: MIT
#include <algorithm>

#include "write/parts/drawings/drawings.hpp"

// Every caution, in a box for each level. Word, line and order tell the level; the colour only
// repeats it.
namespace overjoist::io {
namespace {

struct LevelBox {
  CautionLevel level;
  Callout box;
  std::string_view words;
};
constexpr LevelBox kBoxes[] = {
    {CautionLevel::stop, Callout::stop, "no insulation work until these are cleared"},
    {CautionLevel::fix_first, Callout::fix_first, "before anything is added"},
    {CautionLevel::care, Callout::care, "while the work goes on"},
    {CautionLevel::note, Callout::note, "about these figures"}};

void write_box(const HtmlReport& h, const LevelBox& box) {
  std::vector<std::string> words;
  for (const Caution& caution : h.c.findings.cautions)
    if (caution.level == box.level)
      words.push_back(caution_words(caution, h.c.tables.cautions.at(caution.row), h.c.units));
  if (words.empty()) return;
  h.html.callout_begin(box.box, box.words);
  h.html.list(words);
  h.html.callout_end();
}

}  // namespace

void html_cautions(const HtmlReport& h) {
  if (h.c.findings.cautions.empty()) return;
  h.html.section_begin("Cautions");
  for (const LevelBox& box : kBoxes) write_box(h, box);
  h.html.section_end();
}

}  // namespace overjoist::io
