// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/survey.hpp"
#include "read/json/fields.hpp"
#include "words/survey_words.hpp"

/// What survey reading and table reading share.
namespace overjoist::io {

using F = FaultCode;

/// One row of a material table; `source` and `status` may be left out.
extern const Shape<Material> kMaterialShape;

/// One section of a survey; the reader's user is a SurveyBuild.
extern const Shape<Section> kSectionShape;

/// Parts of it: the wood, a layer, a reading.
extern const Shape<Joists> kJoistsShape;
extern const Shape<Layer> kLayerShape;
extern const Shape<Reading> kReadingShape;

/// Where the house stands, the R that is wanted, what is proposed for it.
extern const Shape<Site> kSiteShape;
extern const Shape<TargetRequest> kTargetShape;
extern const Shape<Proposal> kProposalShape;

/// What runs through the attic, an air leak, what seals them, and vents.
extern const Shape<Equipment> kEquipmentShape;
extern const Shape<Bypass> kBypassShape;
extern const Shape<SealingRequest> kSealingShape;
extern const Shape<VentilationSurvey> kVentilationShape;
extern const Shape<BlowerDoor> kBlowerDoorShape;
/// Heating, cooling and money of a survey.
extern const Shape<Heating> kHeatingShape;
extern const Shape<Cooling> kCoolingShape;
extern const Shape<MoneyWish> kMoneyWishShape;
/// A claim of a quote, a rebate rule, the air of winter.
extern const Shape<Claim> kClaimShape;
extern const Shape<RebateRule> kRebateRuleShape;
extern const Shape<WinterSurvey> kWinterShape;

/// A batt or board of a proposal's product list. A loose fill with its chart.
extern const Shape<BattProduct> kBattShape;
extern const Shape<Product> kProductShape;

/// Sets a depth: a quantity, a span, or "flush".
void set_depth(Reader& reader, Reading& reading, Scalar& value);

inline constexpr std::size_t kIdText = 60, kNameText = 120, kLineText = 200,
                             kLongText = 20000;  // greatest length of texts, in characters

inline constexpr Bounds kPrice = from(0, 1e6);
inline constexpr Bounds kPositiveR = from(0.1, 200), kThickness = from(0.01, 120);  // R; inches
inline constexpr Bounds kPerInch = from(0.01, 15);
/// Least of what is divided by: below it no thing of the kind exists, and a quotient has no digits.
inline constexpr Bounds kReadingShare = from(1e-7, 1), kSectionArea = from(0.1, 1e6),
                        kCop = from(0.5, 8), kBagNet = from(1, 200);

/// What the setters of a survey need beside the struct that they fill.
struct SurveyBuild {
  explicit SurveyBuild(const Tables& known);  ///< which must outlive it

  Survey survey;
  const Tables* tables = nullptr;
  std::vector<std::string_view> hazard_kinds, bypass_kinds, fuels;
  double length_ft = 0.0, width_ft = 0.0, bare_area_ft2 = 0.0;  ///< of the section at hand
};

// Fields that several tables have.

/// A length that its key gives in feet.
template <auto M>
void set_feet(Reader&, OwnerOf<M>& object, Scalar& v) {
  object.*M = inches(v.number * 12.0);
}
template <auto M>
constexpr Field<OwnerOf<M>> feet_field(std::string_view key, Bounds bounds, bool required = false) {
  return set_by<set_feet<M>>({.key = key,
                              .kinds = kNumber | kText,
                              .dimension = Dimension::feet,
                              .bounds = bounds,
                              .required = required});
}

/// True for a day of the calendar as YYYY-MM-DD; else a fault.
bool is_date(Reader& reader, std::string_view text);
template <auto M>
void set_day(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (is_date(r, *v.text)) object.*M = std::move(*v.text);
}
template <auto M>
constexpr Field<OwnerOf<M>> day_field(std::string_view key, bool required = false) {
  return set_by<set_day<M>>({.key = key, .kinds = kText, .required = required});
}

/// A kind of hazard or of air leak that the tables know.
template <auto M>
void set_hazard_kind(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (r.word(*v.text, r.user<SurveyBuild>().hazard_kinds, "kind")) object.*M = std::move(*v.text);
}
template <auto M>
constexpr Field<OwnerOf<M>> hazard_kind_field() {
  return set_by<set_hazard_kind<M>>({.key = "kind", .kinds = kText, .required = true});
}
template <auto M>
void set_bypass_kind(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (r.word(*v.text, r.user<SurveyBuild>().bypass_kinds, "kind")) object.*M = std::move(*v.text);
}
template <auto M>
constexpr Field<OwnerOf<M>> bypass_kind_field() {
  return set_by<set_bypass_kind<M>>({.key = "kind", .kinds = kText, .required = true});
}

/// One of a list of papers.
template <auto M>
void set_paper(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (r.word(*v.text, kPapers, "papers")) (object.*M).push_back(std::move(*v.text));
}
template <auto M>
inline constexpr Field<OwnerOf<M>> kPaperOf = set_by<set_paper<M>>({.key = "paper",
                                                                    .kinds = kText});

/// The version of a file; a fault if it is not 1.
void check_version(Reader& reader, const Scalar& value);
template <class T>
void set_version(Reader& r, T&, Scalar& v) {
  check_version(r, v);
}
template <class T>
constexpr Field<T> version_field() {
  return set_by<set_version<T>>({.key = "version",
                                 .kinds = kNumber,
                                 .required = true,
                                 .missing = key_fault<F::missing_version>});
}

/// Exactly one of several ways to say the same. @param ways  how many were used
template <FaultCode Missing, FaultCode Twice>
void need_one_way(Reader& r, std::size_t ways) {
  if (ways != 1) r.fault(ways == 0 ? make_fault<Missing>() : make_fault<Twice>());
}

/// Where a material is named: what can stand there.
enum class Place { layer, board, fill, laid };
/// The row of a name; where there is none, a fault at `pointer` that offers the nearest that can
/// stand there.  @returns nullptr then
const Material* known_material(Reader& r, const SurveyBuild& build, const std::string& id,
                               const std::string& pointer, Place place);

/// Finds rows of the same id and unknown caution codes. @param pointer  of the list of rows
void check_materials(Reader& reader, const std::vector<Material>& rows, const Tables& tables,
                     std::string_view pointer);

/// Finds what a list of batts and boards contradicts. @param pointer  of the list
void check_batts(Reader& reader, const SurveyBuild& build, const std::vector<BattProduct>& batts,
                 const std::string& pointer);
/// Finds what a proposal contradicts. @param at  pointer of the proposal
void check_proposal(Reader& reader, const SurveyBuild& build, const Proposal& proposal,
                    const std::string& at);
/// Finds what a section contradicts whose keys and values are each in order; of one with faults
/// only materials that are not known, so that all faults come in one go.  @param index  in the
/// survey
void check_section(Reader& reader, const SurveyBuild& build, std::size_t index);
void check_section_names(Reader& reader, const SurveyBuild& build, std::size_t index);
/// Finds a label, a facing or a way of lying that means nothing for what the layer is made of.
/// @param at  pointer of the layer
void check_layer_words(Reader& reader, const Layer& layer, const Material& m,
                       const std::string& at);
/// Finds what a batt needs of its print and does not have.
void check_batt(Reader& reader, const Layer& layer, const Material& m, const std::string& at);
/// Finds a print that no batt can have.  @param at  where to say so
void check_batt_print(Reader& reader, Resistance label_r, Length thickness, const std::string& at);
/// Finds what speaks against putting a layer into a slope or a knee wall.
void check_added(Reader& reader, const SurveyBuild& build, const Layer& add, const std::string& at);
/// Finds claims of sections that do not exist, and a rebate given twice.
void check_claims(Reader& reader, const Survey& survey);

/// Finds what a whole survey contradicts (names, materials, depths against layers): needs the
/// survey read to its end. Parts that already have a fault are passed over.
void check_survey(Reader& reader, const SurveyBuild& build);

}  // namespace overjoist::io
