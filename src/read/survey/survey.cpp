// SPDX-License-Identifier: MIT
#include "overjoist/survey_json.hpp"

#include <algorithm>
#include <utility>

#include "overjoist/clearing.hpp"
#include "read/json/text.hpp"
#include "read/kind.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The survey's keys, kinds, units and ranges as tables, read by json/reader;
// data/survey.schema.json says the same.
namespace overjoist {
namespace io {
namespace {

using enum Dimension;

// Hazards

constexpr auto kClearedFields = fields_of<Hazard>({
    text_field<&Hazard::cleared_by>("by", kLineText, true),
    day_field<&Hazard::cleared_date>("date", true),
    text_field<&Hazard::cleared_paper>("paper", kLineText, true),
});
constexpr Shape<Hazard> kCleared{kClearedFields};
constexpr auto kHazardFields = fields_of<Hazard>({
    hazard_kind_field<&Hazard::kind>(),
    text_field<&Hazard::where>("where", kLineText),
    part_field("cleared", kCleared),
});
constexpr Shape<Hazard> kHazard{kHazardFields};
constexpr auto kSurveyedFields = fields_of<Survey>({
    text_field<&Survey::surveyed_by>("by", kLineText),
    day_field<&Survey::surveyed_date>("date"),
});
constexpr Shape<Survey> kSurveyed{kSurveyedFields};
constexpr Field<Survey> kEquipmentElement =
    object_field<&Survey::equipment>("equipment", kEquipmentShape);
constexpr Field<Survey> kHazardElement = object_field<&Survey::hazards>("hazard", kHazard);

constexpr Field<Survey> kCompareElement =
    object_field<&Survey::compare>("alternative", kProposalShape);

// The whole

constexpr Field<Survey> kSectionElement = object_field<&Survey::sections>("section", kSectionShape);
constexpr Field<Survey> kMaterialElement =
    object_field<&Survey::materials>("material", kMaterialShape);
constexpr Field<Survey> kClaimElement = object_field<&Survey::claims>("claim", kClaimShape);
constexpr std::string_view kSurveyFormat = "overjoist-survey";

void set_survey_format(Reader& r, Survey&, Scalar& v) {
  if (*v.text != kSurveyFormat)
    r.fault(make_fault<F::other_survey_format>(r.token(), kSurveyFormat));
}
constexpr auto kSurveyFields = fields_of<Survey>({
    set_by<set_survey_format>({.key = "format",
                               .kinds = kText,
                               .most = kLineText,
                               .required = true,
                               .missing = key_fault<F::missing_survey_format>}),
    version_field<Survey>(),
    text_field<&Survey::id>("id", kLineText),
    text_field<&Survey::label>("label", kLineText),
    text_field<&Survey::notes>("notes", kLongText),
    part_field("surveyed", kSurveyed),
    object_field<&Survey::site>("site", kSiteShape),
    array_field("materials", kMaterialElement, 0, 200),
    array_field("sections", kSectionElement, 1, 200, true),
    array_field("hazards", kHazardElement, 0, 500),
    array_field("equipment", kEquipmentElement, 0, 200),
    object_field<&Survey::target>("target", kTargetShape),
    object_field<&Survey::proposal>("proposal", kProposalShape),
    array_field("compare", kCompareElement, 1, 12),
    object_field<&Survey::sealing>("sealing", kSealingShape),
    object_field<&Survey::ventilation>("ventilation", kVentilationShape),
    object_field<&Survey::blower_door>("blower_door", kBlowerDoorShape),
    object_field<&Survey::heating>("heating", kHeatingShape),
    object_field<&Survey::cooling>("cooling", kCoolingShape),
    object_field<&Survey::money>("money", kMoneyWishShape),
    array_field("claims", kClaimElement, 0, 100),
    object_field<&Survey::rebates>("rebate", kRebateRuleShape),
    array_field("papers", kPaperOf<&Survey::papers>, 0, 100),
    object_field<&Survey::winter>("winter", kWinterShape),
});
/// An empty list says that somebody looked and found nothing.
void finish_survey(Reader&, Survey& survey, const Seen& seen) {
  survey.looked_at.hazards = seen.has("hazards");
}
constexpr Shape<Survey> kSurvey{kSurveyFields, finish_by<finish_survey>()};

}  // namespace

}  // namespace io

Diagnostics place(std::string_view text, Diagnostics faults) {
  std::vector<io::PlacedFault> found;
  found.reserve(faults.size());
  for (const Diagnostic& d : faults) found.push_back({d.pointer, io::kNowhere, {}});
  io::locate(text, found);
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const io::LineColumn at = io::Lines(text).place_of(found[i].offset);
    faults[i].line = at.line;
    faults[i].column = at.column;
  }
  std::stable_sort(faults.begin(), faults.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
  });
  return faults;
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
