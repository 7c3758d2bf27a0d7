// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/survey.hpp"
#include "read/json/fields.hpp"

/// What survey reading and table reading share.
namespace overjoist::io {

/// One row of a material table; `source` and `status` may be left out.
extern const Shape<Material> kMaterialShape;

/// One section of a survey; the reader's user is a SurveyBuild.
extern const Shape<Section> kSectionShape;

/// What runs through the attic, an air leak, what seals them, and vents.
extern const Shape<Equipment> kEquipmentShape;
extern const Shape<Bypass> kBypassShape;
extern const Shape<SealingRequest> kSealingShape;
extern const Shape<VentilationSurvey> kVentilationShape;
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
/// A day of the calendar as YYYY-MM-DD.
bool is_date(std::string_view text);

inline constexpr std::size_t kIdText = 60, kNameText = 120,
                             kLineText = 200;  // greatest length of texts, in characters

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
  double length_ft = 0.0, width_ft = 0.0;  ///< of the section at hand
};

/// Exactly one of several ways to say the same. @param ways  how many were used
inline void need_one_way(Reader& r, std::size_t ways, std::string_view message,
                         std::string_view hint) {
  if (ways != 1)
    r.fault(std::string(message) + (ways == 0 ? " is missing" : " is given in more than one way"),
            std::string(hint));
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
/// Finds a label, a facing or a way of lying that means nothing for what the layer is made of.
/// @param at  pointer of the layer
void check_layer_words(Reader& reader, const Layer& layer, const Material& m,
                       const std::string& at);
/// Finds claims of sections that do not exist, and a rebate given twice.
void check_claims(Reader& reader, const Survey& survey);

/// Finds what a whole survey contradicts (names, materials, depths against layers): needs the
/// survey read to its end. Parts that already have a fault are passed over.
void check_survey(Reader& reader, const SurveyBuild& build);

}  // namespace overjoist::io
