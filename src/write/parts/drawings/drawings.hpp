// SPDX-License-Identifier: MIT
#pragma once
#include "write/document/html_page.hpp"
#include "write/document/svg.hpp"
#include "write/parts/parts.hpp"

/// The parts of the owner's report as a page, each in a file of its own. Numbers in words come from
/// the functions that the text report uses; drawings are made from the evaluation alone.
namespace overjoist::io {

struct HtmlReport {
  Html& html;
  HtmlPage& page;
  const Report& c;  ///< writes on `page`
};

/// A length in the unit of the axes of drawings: inches or centimeters.
double axis_length(Length length, Units units);
std::string_view axis_unit(Units units);

/// "blow to 16 3/4 in. for R-49", or that no more fits; the level must be known.
std::string level_words(const HtmlReport& h, const TopUp& t);

/// The figures of the answer, large, each with a line of what it means.
void html_answer(const HtmlReport& h);
/// Make safe, seal, vent, dams, insulate, hatch, inspect: a line each.
void html_steps_in_order(const HtmlReport& h);
/// A floor cut across its joists, as found and after, to scale. Nothing for sections without a cut.
void html_cut(const HtmlReport& h, const SectionEnds& s);
/// The readings along the depth, with average, joist top and levels.
void html_depths(const HtmlReport& h, const SectionEnds& s);
/// From the yardstick figure to the effective R, what each step takes.
void html_losses(const HtmlReport& h, const SectionResult& s);
/// Cost of all steps so far against what they save in a year. Nothing without prices.
void html_next_steps(const HtmlReport& h);
/// Cautions by level, in boxes.
void html_cautions(const HtmlReport& h);

}  // namespace overjoist::io
