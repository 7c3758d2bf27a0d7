// SPDX-License-Identifier: MIT
#include <algorithm>
#include <iterator>
#include <utility>

#include "overjoist/ends.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"
#include "words/utf8.hpp"

// The R that is wanted and what is proposed for it: product, labor, extras, currency.
namespace overjoist::io {
namespace {

using enum Dimension;

void finish_target(Reader& r, const TargetRequest& target, const Seen&) {
  if (both(target, kKnown) && *target.low > *target.high)
    r.fault_of("low_r", make_fault<F::target_upside_down>(target.low->us(), target.high->us()));
}
constexpr auto kTargetFields = fields_of<TargetRequest>({
    quantity_field<&TargetRequest::low>("low_r", resistance, from(1, 200)),
    quantity_field<&TargetRequest::high>("high_r", resistance, from(1, 200)),
    word_field<&TargetRequest::basis>("basis", kWords<Basis>),
});

void set_bags(Reader&, ChartRow& chart_row, Scalar& v) {
  chart_row.coverage = square_feet(1000.0 / v.number);
}
void finish_chart_row(Reader& r, const ChartRow&, const Seen& seen) {
  if (seen.has("coverage_ft2") && seen.has("bags_per_1000_ft2"))
    r.fault(make_fault<F::coverage_twice>());
}
constexpr auto kChartFields = fields_of<ChartRow>({
    quantity_field<&ChartRow::r>("r", resistance, kPositiveR, true),
    quantity_field<&ChartRow::settled>("settled_thickness_in", length, kThickness, true),
    quantity_field<&ChartRow::initial>("initial_thickness_in", length, kThickness),
    quantity_field<&ChartRow::coverage>("coverage_ft2", area, from(1, 10000)),
    set_by<set_bags>({.key = "bags_per_1000_ft2",
                      .kinds = kNumber,
                      .dimension = number,
                      .bounds = from(0.1, 10000)}),
    quantity_field<&ChartRow::weight>("weight_psf", weight_per_area, from(0.001, 50), true),
});
constexpr Shape<ChartRow> kChartRow{kChartFields, finish_by<finish_chart_row>()};
constexpr Field<Product> kChartElement = object_field<&Product::chart>("row", kChartRow);
constexpr auto kProductFields = fields_of<Product>({
    text_field<&Product::name>("name", kNameText, true),
    array_field("chart", kChartElement, 1, 40, true),
    flag_field<&Product::chart_deducts_framing>("chart_deducts_framing"),
});
void finish_labour(Reader& r, const Labour&, const Seen& seen) {
  const bool hours = seen.has("hours"), rate = seen.has("price_per_hour");
  if (hours != rate)
    r.fault(make_fault<F::missing_partner>(hours ? "price_per_hour" : "hours", "hours",
                                           "price_per_hour"));
  else
    need_one_way<F::labor_missing, F::labor_twice>(r,
                                                   std::size_t{seen.has("price_per_ft2")} + hours);
}
constexpr auto kLabourFields = fields_of<Labour>({
    number_field<&Labour::price_per_ft2>("price_per_ft2", kPrice),
    number_field<&Labour::hours>("hours", from(0, 10000)),
    number_field<&Labour::price_per_hour>("price_per_hour", kPrice),
});
constexpr Shape<Labour> kLabour{kLabourFields, finish_by<finish_labour>()};
void set_cover(Reader&, Extra& extra, Scalar& v) { extra.covers.push_back(std::move(*v.text)); }
constexpr Field<Extra> kCoverElement =
    set_by<set_cover>({.key = "section", .kinds = kText, .most = kNameText});
void finish_extra(Reader& r, const Extra& extra, const Seen& seen) {
  const CostPart part = extra.part.value_or(CostPart::insulation);
  if (seen.has("covers") && part != CostPart::insulation)
    r.fault_of("covers", make_fault<F::extra_of_other_part>());
}
constexpr auto kExtraFields = fields_of<Extra>({
    text_field<&Extra::what>("what", kLineText, true),
    number_field<&Extra::price>("price", kPrice, true),
    word_field<&Extra::part>("part", kWords<CostPart>),
    array_field("covers", kCoverElement, 1, 40),
});
constexpr Shape<Extra> kExtra{kExtraFields, finish_by<finish_extra>()};
constexpr Field<Proposal> kExtraElement = object_field<&Proposal::extras>("extra", kExtra);

void finish_proposal(Reader& r, const Proposal&, const Seen& seen) {
  const bool batts = seen.has("batts");
  if (!seen.has("material") && !seen.has("product") && !batts)
    r.fault(make_fault<F::nothing_proposed>());
  if (batts && (seen.has("material") || seen.has("product") || seen.has("bag_net_lb") ||
                seen.has("price_per_bag")))
    r.fault(make_fault<F::batts_and_blow>());
  if (seen.has("product") && !seen.has("bag_net_lb")) r.fault(make_fault<F::bag_missing>());
}

/// True for a character that reads as part of an amount beside it: digits of several scripts,
/// raised and lowered ones, fractions, numbers in circles. The same ranges stand in
/// data/survey.schema.json.
bool is_numeral(char32_t c) {
  constexpr std::pair<char32_t, char32_t> ranges[] = {
      {0x30, 0x39},     {0xB2, 0xB3},     {0xB9, 0xB9},     {0xBC, 0xBE},     {0x660, 0x669},
      {0x6F0, 0x6F9},   {0x966, 0x96F},   {0x9E6, 0x9EF},   {0xE50, 0xE59},   {0x2070, 0x2089},
      {0x2150, 0x218B}, {0x2460, 0x24FF}, {0x2776, 0x2793}, {0x7C0, 0x7C9},   {0xA66, 0xA6F},
      {0xAE6, 0xAEF},   {0xB66, 0xB6F},   {0xBE6, 0xBF2},   {0xC66, 0xC6F},   {0xCE6, 0xCEF},
      {0xD66, 0xD78},   {0xDE6, 0xDEF},   {0xED0, 0xED9},   {0xF20, 0xF33},   {0x1040, 0x1049},
      {0x1090, 0x1099}, {0x17E0, 0x17E9}, {0x1810, 0x1819}, {0xFF10, 0xFF19}, {0x1D7CE, 0x1D7FF}};
  return std::any_of(std::begin(ranges), std::end(ranges),
                     [c](const auto& range) { return c >= range.first && c <= range.second; });
}

/// A currency stands beside amounts and must not change how they read: no digits, and where it
/// stands before them (it does not begin with a letter of ours) no sign, nor a point or comma at
/// its end.
void set_currency(Reader& r, Proposal& proposal, Scalar& v) {
  const std::string& text = *v.text;
  const bool word =
      !text.empty() && ((text[0] >= 'A' && text[0] <= 'Z') || (text[0] >= 'a' && text[0] <= 'z'));
  bool fits = word || text.empty() || (text.back() != '.' && text.back() != ',');
  for (std::string_view rest = text; !rest.empty() && fits;) {
    const CodePoint c = decode(rest);
    fits =
        !is_numeral(c.value) && (word || (c.value != '+' && c.value != '-' && c.value != 0x2212));
    rest.remove_prefix(c.length);
  }
  if (fits)
    proposal.currency = text;
  else
    r.fault(make_fault<F::currency_as_amount>(r.raw()));
}
constexpr Field<Proposal> kBattElement = object_field<&Proposal::batts>("batt", kBattShape);
constexpr auto kProposalFields = fields_of<Proposal>({
    text_field<&Proposal::name>("name", kNameText),
    text_field<&Proposal::material>("material", kIdText),
    array_field("batts", kBattElement, 1, 20),
    number_field<&Proposal::price_per_board_ft>("price_per_board_ft", kPrice),
    object_field<&Proposal::product>("product", kProductShape),
    quantity_field<&Proposal::bag_net>("bag_net_lb", mass, kBagNet),
    number_field<&Proposal::price_per_bag>("price_per_bag", kPrice),
    quantity_field<&Proposal::waste_percent>("waste_percent", percent, from(0, 100)),
    set_by<set_currency>({.key = "currency", .kinds = kText, .most = 12}),
    object_field<&Proposal::labour>("labour", kLabour),
    array_field("extras", kExtraElement, 0, 100),
});

}  // namespace

constinit const Shape<TargetRequest> kTargetShape{kTargetFields, finish_by<finish_target>()};
constinit const Shape<Product> kProductShape{kProductFields};
constinit const Shape<Proposal> kProposalShape{kProposalFields, finish_by<finish_proposal>()};

}  // namespace overjoist::io
