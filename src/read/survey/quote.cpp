// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "overjoist/survey_json.hpp"
#include "read/kind.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The keys of a survey that hold a quote, rebate rules and the air of winter.
namespace overjoist::io {
namespace {

using enum Dimension;

// Claims

constexpr std::string_view kValueKeys[] = {"r", "thickness_in", "bags", "percent", "money"};

/// The key that gives a claim of this kind with its unit.
std::string_view key_of(ClaimKind kind) {
  if (is_r(kind)) return "r";
  if (is_thickness(kind)) return "thickness_in";
  return kind == ClaimKind::bags ? "bags" : kind == ClaimKind::percent_saved ? "percent" : "money";
}

void finish_claim(Reader& r, const Claim& claim, const Seen& seen) {
  if (!seen.has("kind")) return;
  const std::string_view key = key_of(claim.kind), kind = word(claim.kind);
  for (const std::string_view other : kValueKeys)
    if (other != key && seen.has(other))
      r.fault_of(other, make_fault<F::claim_key>(kind, other, key));
  if (!seen.has(key) && !seen.has("value")) r.fault(make_fault<F::claim_value_missing>(kind, key));
  if (seen.has("where") && !is_of_section(claim.kind))
    r.fault_of("where", make_fault<F::claim_of_attic>(kind));
  if (!seen.has("basis")) return;
  if (!is_r(claim.kind))
    r.fault_of("basis", make_fault<F::claim_basis>(kind));
  else if (claim.basis == ClaimBasis::label && claim.kind != ClaimKind::existing_r)
    r.fault_of("basis", make_fault<F::claim_label_basis>());
}

void refuse_value(Reader& r, Claim&, Scalar&) {
  r.fault(make_fault<F::claim_without_unit>(r.token()));
}
constexpr auto kClaimFields = fields_of<Claim>({
    word_field<&Claim::kind>("kind", kWords<ClaimKind>, true),
    quantity_field<&Claim::value>("r", resistance, from(0, 200)),
    quantity_field<&Claim::value>("thickness_in", length, from(0, 120)),
    number_field<&Claim::value>("bags", from(0, 1e5)),
    quantity_field<&Claim::value>("percent", percent, from(0, 100)),
    number_field<&Claim::value>("money", kPrice),
    set_by<refuse_value>({.key = "value", .kinds = kNumber | kText}),
    word_field<&Claim::basis>("basis", kWords<ClaimBasis>),
    text_field<&Claim::where>("where", kNameText),
    text_field<&Claim::said_by>("said_by", kLineText),
});

// Rebate rules

void set_rule_fuel(Reader& r, RebateRule& rebate_rule, Scalar& v) {
  if (r.word(*v.text, r.user<SurveyBuild>().fuels, "fuels"))
    rebate_rule.fuels.push_back(std::move(*v.text));
}

void finish_bracket(Reader& r, const RebateBracket& bracket, const Seen& seen) {
  if (seen.has("existing_from_r") && seen.has("existing_below_r") && bracket.from >= bracket.below)
    r.fault_of("existing_below_r",
               make_fault<F::bracket_upside_down>(bracket.below.us(), bracket.from.us()));
  need_one_way<F::bracket_amount_missing, F::bracket_amount_twice>(
      r, std::size_t{seen.has("per_ft2")} + seen.has("percent"));
}

/// Each bracket must begin where the one before it ends.
void finish_rule(Reader& r, const RebateRule& rule, const Seen& seen) {
  if (!seen.has("brackets")) return;
  for (std::size_t i = 1; i < rule.brackets.size(); ++i) {
    const RebateBracket &a = rule.brackets[i - 1], &b = rule.brackets[i];
    if (a.below == b.from) continue;
    if (b.from > a.below)
      r.fault_of("brackets", make_fault<F::brackets_leave_hole>(i, a.from.us(), a.below.us(), i + 1,
                                                                b.from.us(), b.below.us()));
    else
      r.fault_of("brackets", make_fault<F::brackets_overlap>(i, a.from.us(), a.below.us(), i + 1,
                                                             b.from.us(), b.below.us()));
  }
}

constexpr auto kBracketFields = fields_of<RebateBracket>({
    quantity_field<&RebateBracket::from>("existing_from_r", resistance, from(0, 200), true),
    quantity_field<&RebateBracket::below>("existing_below_r", resistance, kPositiveR, true),
    number_field<&RebateBracket::per_ft2>("per_ft2", kPrice),
    quantity_field<&RebateBracket::percent>("percent", percent, from(0, 100)),
});
constexpr Shape<RebateBracket> kBracket{kBracketFields, finish_by<finish_bracket>()};
constexpr Field<RebateRule> kBracketElement =
    object_field<&RebateRule::brackets>("bracket", kBracket);
constexpr Field<RebateRule> kFuelElement = set_by<set_rule_fuel>({.key = "fuel", .kinds = kText});
constexpr auto kRuleFields = fields_of<RebateRule>({
    text_field<&RebateRule::name>("name", kNameText, true),
    quantity_field<&RebateRule::existing_below>("existing_below_r", resistance, kPositiveR),
    quantity_field<&RebateRule::final_least>("final_least_r", resistance, kPositiveR),
    array_field("brackets", kBracketElement, 1, 40, true),
    number_field<&RebateRule::cap>("cap", kPrice),
    array_field("fuels", kFuelElement, 1, 40),
    array_field("papers", kPaperOf<&RebateRule::papers>, 0, 40),
});

// A file of its own

void set_rule_format(Reader& r, RebateRule&, Scalar& v) {
  if (*v.text != "overjoist-rebate") r.fault(make_fault<F::other_rule_format>(r.token()));
}
constexpr auto kFileFields =
    fields_of<RebateRule>(
        {
            set_by<set_rule_format>({.key = "format",
                                     .kinds = kText,
                                     .most = kLineText,
                                     .required = true,
                                     .missing = key_fault<F::missing_rule_format>}),
            version_field<RebateRule>(),
        })
        .then(kRuleFields);
constexpr Shape<RebateRule> kRuleFile{kFileFields, finish_by<finish_rule>()};

// The air of winter

constexpr auto kWinterFields = fields_of<WinterSurvey>({
    number_field<&WinterSurvey::indoor_f>("indoor_f", from(40, 90), true),
    quantity_field<&WinterSurvey::indoor_rh_percent>("indoor_rh_percent", percent, from(1, 100),
                                                     true),
    number_field<&WinterSurvey::attic_f>("attic_f", from(-60, 90), true),
});

}  // namespace

constinit const Shape<Claim> kClaimShape{kClaimFields, finish_by<finish_claim>()};
constinit const Shape<RebateRule> kRebateRuleShape{kRuleFields, finish_by<finish_rule>()};
constinit const Shape<WinterSurvey> kWinterShape{kWinterFields};

void check_claims(Reader& reader, const Survey& survey) {
  for (std::size_t i = 0; i < survey.claims.size(); ++i) {
    const std::string& where = survey.claims[i].where;
    const bool known =
        where.empty() || std::any_of(survey.sections.begin(), survey.sections.end(),
                                     [&](const Section& s) { return s.name == where; });
    if (!known)
      reader.fault_at(fmt::format("/claims/{}/where", i),
                      make_fault<F::claim_of_no_section>(where));
  }
  const bool plain = survey.money && survey.money->rebate;
  if (plain && !survey.rebates.empty()) reader.fault_at("/rebate", make_fault<F::rebate_twice>());
}

}  // namespace overjoist::io

namespace overjoist {

RebateRead read_rebate(std::string_view text, const Tables& tables) {
  io::SurveyBuild build(tables);
  RebateRule rule;
  io::Reader reader(text, &build);
  reader.read(io::kRuleFile, rule, "rebate rule");
  RebateRead result;
  if (reader.fault_count() == 0)
    result.rule = std::move(rule);
  else
    result.faults = io::by_kind(text, "overjoist-rebate", reader.faults());
  return result;
}

}  // namespace overjoist
