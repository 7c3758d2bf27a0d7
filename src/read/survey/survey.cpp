// SPDX-License-Identifier: MIT
#include "overjoist/survey_json.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <iterator>
#include <utility>

#include "overjoist/clearing.hpp"
#include "read/json/text.hpp"
#include "read/kind.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"
#include "words/utf8.hpp"

// The survey's keys, kinds, units and ranges as tables, read by json_reader;
// data/survey.schema.json says the same.
namespace overjoist {
namespace io {
namespace {

using Words = std::string_view;
using enum Dimension;

constexpr std::size_t kLongText = 20000;  // characters

// Site

/// A zone is a digit and perhaps a moisture letter: "5", "5A", "4C".
void set_zone(Reader& r, Site& site, Scalar& v) {
  std::string zone = v.kind == kText ? *v.text : fmt::format("{}", v.number);
  if (zone.size() == 2 && zone[1] >= 'a' && zone[1] <= 'c')
    zone[1] = static_cast<char>(zone[1] - 'a' + 'A');
  const bool digit = !zone.empty() && zone[0] >= '0' && zone[0] <= '8';
  if (digit && (zone.size() == 1 || (zone.size() == 2 && zone[1] >= 'A' && zone[1] <= 'C')))
    site.climate_zone = std::move(zone);
  else
    r.fault(fmt::format(
                "climate_zone {} is not known; allowed: 0 to 8, with A, B or C after it if known",
                r.token()),
            "write 5, \"5A\" or \"4C\"");
}

void finish_site(Reader& r, const Site& site, const Seen& seen) {
  const bool mean = seen.has("outdoor_mean_f"), sd = seen.has("outdoor_sd_f");
  if (mean != sd)
    r.fault(mean ? "outdoor_sd_f is missing" : "outdoor_mean_f is missing",
            "outdoor_mean_f and outdoor_sd_f go together");
  for (const char* key : {"roof_r", "roof_area_ft2"})
    if (seen.has(key) && !site.unvented())
      r.fault_of(key, fmt::format("{} is only for an unvented attic", key),
                 "say \"attic\": \"unvented\", or leave it out");
}
constexpr auto kSiteFields = fields_of<Site>({
    set_by<set_zone>({.key = "climate_zone", .kinds = kNumber | kText}),
    number_field<&Site::hdd65_f_day>("hdd65_f_day", from(0, 25000)),
    number_field<&Site::cdd50_f_day>("cdd50_f_day", from(0, 25000)),
    flag_field<&Site::marine>("marine"),
    number_field<&Site::heating_days>("heating_days", from(1, 366)),
    quantity_field<&Site::elevation_ft>("elevation_ft", feet, from(-500, 20000)),
    whole_field<&Site::year_built>("year_built", from(1600, 2100)),
    whole_field<&Site::storeys>("storeys", from(1, 10)),
    number_field<&Site::outdoor_mean_f>("outdoor_mean_f", from(-40, 100)),
    number_field<&Site::outdoor_sd_f>("outdoor_sd_f", from(0.1, 40)),
    word_field<&Site::attic>("attic", kWords<AtticKind>),
    quantity_field<&Site::roof_r>("roof_r", resistance, kPositiveR),
    quantity_field<&Site::roof_area>("roof_area_ft2", area, from(1, 1e7)),
});
constexpr Shape<Site> kSite{kSiteFields, finish_by<finish_site>};

// Hazards

}  // namespace

bool is_date(std::string_view text) { return is_day(text); }

namespace {

void set_date(Reader& r, Hazard& hazard, Scalar& v) {
  if (is_date(*v.text))
    hazard.cleared_date = std::move(*v.text);
  else
    r.fault(fmt::format("date {} is not a day; allowed: YYYY-MM-DD", r.token()),
            "write the day as 2026-04-30");
}
void set_hazard_kind(Reader& r, Hazard& hazard, Scalar& v) {
  const auto& kinds = r.user<SurveyBuild>().hazard_kinds;
  if (r.word(*v.text, kinds, "kind")) hazard.kind = std::move(*v.text);
}
constexpr auto kClearedFields = fields_of<Hazard>({
    text_field<&Hazard::cleared_by>("by", kLineText, true),
    set_by<set_date>({.key = "date", .kinds = kText, .required = true}),
    text_field<&Hazard::cleared_paper>("paper", kLineText, true),
});
constexpr Shape<Hazard> kCleared{kClearedFields};
constexpr auto kHazardFields = fields_of<Hazard>({
    set_by<set_hazard_kind>({.key = "kind", .kinds = kText, .required = true}),
    text_field<&Hazard::where>("where", kLineText),
    part_field("cleared", kCleared),
});
constexpr Shape<Hazard> kHazard{kHazardFields};
void set_surveyed(Reader& r, Survey& survey, Scalar& v) {
  if (is_date(*v.text))
    survey.surveyed_date = std::move(*v.text);
  else
    r.fault(fmt::format("date {} is not a day; allowed: YYYY-MM-DD", r.token()),
            "write the day as 2026-04-30");
}
constexpr auto kSurveyedFields = fields_of<Survey>({
    text_field<&Survey::surveyed_by>("by", kLineText),
    set_by<set_surveyed>({.key = "date", .kinds = kText}),
});
constexpr Shape<Survey> kSurveyed{kSurveyedFields};
constexpr Field<Survey> kEquipmentElement =
    object_field<&Survey::equipment>("equipment", kEquipmentShape);
constexpr Field<Survey> kHazardElement = object_field<&Survey::hazards>("hazard", kHazard);

// Target and proposal

void finish_target(Reader& r, const TargetRequest& target, const Seen&) {
  if (target.low && target.high && *target.low > *target.high)
    r.fault_of("low_r",
               fmt::format("low_r {:g} is above high_r {:g}", target.low->us(), target.high->us()),
               "swap them");
}
constexpr auto kTargetFields = fields_of<TargetRequest>({
    quantity_field<&TargetRequest::low>("low_r", resistance, from(1, 200)),
    quantity_field<&TargetRequest::high>("high_r", resistance, from(1, 200)),
    word_field<&TargetRequest::basis>("basis", kWords<Basis>),
});
constexpr Shape<TargetRequest> kTarget{kTargetFields, finish_by<finish_target>};

void set_bags(Reader&, ChartRow& chart_row, Scalar& v) {
  chart_row.coverage = square_feet(1000.0 / v.number);
}
void finish_chart_row(Reader& r, const ChartRow&, const Seen& seen) {
  if (seen.has("coverage_ft2") && seen.has("bags_per_1000_ft2"))
    r.fault("the coverage is given in more than one way", "give coverage_ft2 or bags_per_1000_ft2");
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
constexpr Shape<ChartRow> kChartRow{kChartFields, finish_by<finish_chart_row>};
constexpr Field<Product> kChartElement = object_field<&Product::chart>("row", kChartRow);
constexpr auto kProductFields = fields_of<Product>({
    text_field<&Product::name>("name", kNameText, true),
    array_field("chart", kChartElement, 1, 40, true),
    flag_field<&Product::chart_deducts_framing>("chart_deducts_framing"),
});
}  // namespace

constinit const Shape<Product> kProductShape{kProductFields};

namespace {

void finish_labour(Reader& r, const Labour&, const Seen& seen) {
  const bool hours = seen.has("hours"), rate = seen.has("price_per_hour");
  if (hours != rate)
    r.fault(hours ? "price_per_hour is missing" : "hours is missing",
            "hours and price_per_hour go together");
  else
    need_one_way(r, std::size_t{seen.has("price_per_ft2")} + hours, "the labor price",
                 "give price_per_ft2, or hours and price_per_hour");
}
constexpr auto kLabourFields = fields_of<Labour>({
    number_field<&Labour::price_per_ft2>("price_per_ft2", kPrice),
    number_field<&Labour::hours>("hours", from(0, 10000)),
    number_field<&Labour::price_per_hour>("price_per_hour", kPrice),
});
constexpr Shape<Labour> kLabour{kLabourFields, finish_by<finish_labour>};
void set_cover(Reader&, Extra& extra, Scalar& v) { extra.covers.push_back(std::move(*v.text)); }
constexpr Field<Extra> kCoverElement =
    set_by<set_cover>({.key = "section", .kinds = kText, .most = kNameText});
void finish_extra(Reader& r, const Extra& extra, const Seen& seen) {
  const CostPart part = extra.part.value_or(CostPart::insulation);
  if (seen.has("covers") && part != CostPart::insulation)
    r.fault_of("covers", "work on a section is part of the insulation",
               "leave part out, or covers");
}
constexpr auto kExtraFields = fields_of<Extra>({
    text_field<&Extra::what>("what", kLineText, true),
    number_field<&Extra::price>("price", kPrice, true),
    word_field<&Extra::part>("part", kWords<CostPart>),
    array_field("covers", kCoverElement, 1, 40),
});
constexpr Shape<Extra> kExtra{kExtraFields, finish_by<finish_extra>};
constexpr Field<Proposal> kExtraElement = object_field<&Proposal::extras>("extra", kExtra);

void finish_proposal(Reader& r, const Proposal&, const Seen& seen) {
  const bool batts = seen.has("batts");
  if (!seen.has("material") && !seen.has("product") && !batts)
    r.fault("material, product or batts is missing", "say what is blown in, or list what is laid");
  if (batts && (seen.has("material") || seen.has("product") || seen.has("bag_net_lb") ||
                seen.has("price_per_bag")))
    r.fault("batts are laid instead of a blow",
            "give batts, or the material or product of a blow with its bag; compare takes both");
  if (seen.has("product") && !seen.has("bag_net_lb"))
    r.fault("bag_net_lb is missing", "a product needs the net weight of its bag, from the label");
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
    r.fault(fmt::format("currency {} would read as part of an amount", r.raw()),
            "name the money alone, such as $ or USD, without digits or signs");
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
constexpr Shape<Proposal> kProposal{kProposalFields, finish_by<finish_proposal>};
constexpr Field<Survey> kCompareElement = object_field<&Survey::compare>("alternative", kProposal);

// The whole

constexpr Field<Survey> kSectionElement = object_field<&Survey::sections>("section", kSectionShape);
constexpr Field<Survey> kMaterialElement =
    object_field<&Survey::materials>("material", kMaterialShape);
constexpr Field<Survey> kClaimElement = object_field<&Survey::claims>("claim", kClaimShape);
void set_paper(Reader& r, Survey& survey, Scalar& v) {
  if (r.word(*v.text, kPapers, "papers")) survey.papers.push_back(std::move(*v.text));
}
constexpr Field<Survey> kSurveyPaper = set_by<set_paper>({.key = "paper", .kinds = kText});
constexpr std::string_view kFormat = "overjoist-survey";
constexpr double kVersion = 1;

void set_format(Reader& r, Survey&, Scalar& v) {
  if (*v.text != kFormat)
    r.fault(fmt::format("format {} is not known; this program reads \"{}\"", r.token(), kFormat),
            "check that this file is a survey");
}
void set_version(Reader& r, Survey&, Scalar& v) {
  if (v.number != kVersion)
    r.fault(
        fmt::format("version {} is not known; this program reads version {:g}", r.raw(), kVersion),
        "use a program that knows this version");
}
constexpr auto kSurveyFields = fields_of<Survey>({
    set_by<set_format>(
        {.key = "format",
         .kinds = kText,
         .most = kLineText,
         .required = true,
         .hint = "start the file with \"format\": \"overjoist-survey\", \"version\": 1"}),
    set_by<set_version>({.key = "version",
                         .kinds = kNumber,
                         .required = true,
                         .hint = "write \"version\": 1 after the format"}),
    text_field<&Survey::id>("id", kLineText),
    text_field<&Survey::label>("label", kLineText),
    text_field<&Survey::notes>("notes", kLongText),
    part_field("surveyed", kSurveyed),
    object_field<&Survey::site>("site", kSite),
    array_field("materials", kMaterialElement, 0, 200),
    array_field("sections", kSectionElement, 1, 200, true),
    array_field("hazards", kHazardElement, 0, 500),
    array_field("equipment", kEquipmentElement, 0, 200),
    object_field<&Survey::target>("target", kTarget),
    object_field<&Survey::proposal>("proposal", kProposal),
    array_field("compare", kCompareElement, 1, 12),
    object_field<&Survey::sealing>("sealing", kSealingShape),
    object_field<&Survey::ventilation>("ventilation", kVentilationShape),
    object_field<&Survey::heating>("heating", kHeatingShape),
    object_field<&Survey::cooling>("cooling", kCoolingShape),
    object_field<&Survey::money>("money", kMoneyWishShape),
    array_field("claims", kClaimElement, 0, 100),
    object_field<&Survey::rebates>("rebate", kRebateRuleShape),
    array_field("papers", kSurveyPaper, 0, 100),
    object_field<&Survey::winter>("winter", kWinterShape),
});
/// An empty list says that somebody looked and found nothing.
void finish_survey(Reader&, Survey& survey, const Seen& seen) {
  survey.looked_at.hazards = seen.has("hazards");
}
constexpr Shape<Survey> kSurvey{kSurveyFields, finish_by<finish_survey>};

}  // namespace

SurveyBuild::SurveyBuild(const Tables& known) : tables(&known) {
  for (const CautionRow& row : known.cautions)
    hazard_kinds.insert(hazard_kinds.end(), row.hazard_kinds.begin(), row.hazard_kinds.end());
  for (const BypassRow& row : known.bypasses) bypass_kinds.push_back(row.id);
  for (const Fuel& fuel : known.fuels) fuels.push_back(fuel.id);
}

}  // namespace io

Diagnostics place(std::string_view text, const Diagnostics& faults) {
  std::vector<io::PlacedFault> found;
  for (const Diagnostic& d : faults) found.push_back({d.pointer, io::kNowhere, d.message, d.hint});
  return io::placed(text, std::move(found));
}

SurveyRead read_survey(std::string_view text, const Tables& tables,
                       const std::vector<std::string>& compare) {
  io::SurveyBuild build(tables);
  io::Reader reader(text, &build, &build.survey.extras);
  const bool whole = reader.read(io::kSurvey, build.survey, "survey");
  for (Material& m : build.survey.materials) m.own();
  build.survey.written = reader.written();
  for (const std::string& id : compare) build.survey.compare.emplace_back().material = id;
  if (whole) io::check_survey(reader, build);
  SurveyRead result;
  result.id = build.survey.id;
  if (reader.fault_count() == 0)
    result.survey = std::move(build.survey);
  else
    result.faults = io::by_kind(text, "overjoist-survey", reader.faults());
  return result;
}

}  // namespace overjoist
