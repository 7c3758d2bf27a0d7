// SPDX-License-Identifier: MIT
#include "write/json/quote.hpp"

#include "words/words.hpp"
#include "write/json/parts.hpp"

namespace overjoist::io {
namespace {

void write_claim_json(JsonWriter& w, const ClaimResult& r) {
  w.field("kind", word(r.claim.kind));
  w.field_or_null("where", r.claim.where);
  w.field("basis",
          is_r(r.claim.kind)
              ? std::optional(std::string(word(r.claim.basis.value_or(ClaimBasis::working))))
              : std::nullopt);
  w.field_or_null("said_by", r.claim.said_by);
  w.field("claimed", r.claim.value);
  w.field("computed_low", r.computed_low);
  w.field("computed_high", r.computed_high);
  w.field("open_from", r.range_low);
  w.field("open_to", r.range_high);
  w.field("verdict", word(r.verdict));
  w.field("why", r.why);
}

void write_end_json(JsonWriter& w, std::string_view key, const RebateEnd& end) {
  w.object(key, [&] {
    w.field("verdict", word(end.verdict));
    w.field("amount", end.amount);
    w.field("amount_least", end.amount_least);
    w.objects("reasons", end.reasons, [&](const RebateReason& r) {
      w.field("condition", r.code);
      w.field("verdict", word(r.verdict));
      w.field("limit_r", r.limit);
      w.field("found_r", r.found);
    });
  });
}

void write_state_json(JsonWriter& w, std::string_view key, const std::optional<MoistureState>& s) {
  w.object_or_null(key, s, [&](const MoistureState& state) {
    w.field("plane_f", state.plane_f);
    w.field("r_share_below", state.r_share);
    w.field("wet_risk", state.wet_risk);
  });
}

}  // namespace

void write_quote_json(JsonWriter& w, const Evaluation& e) {
  w.objects("claims", e.claims, [&](const ClaimResult& r) { write_claim_json(w, r); });
  w.objects("rebates", e.rebates, [&](const RebateResult& r) {
    w.field("name", r.name);
    write_ends(r, [&](std::string_view key, const RebateEnd& end) { write_end_json(w, key, end); });
    w.texts("papers_have", r.papers_have);
    w.texts("papers_lacking", r.papers_lacking);
  });
}

void write_moisture_json(JsonWriter& w, const SectionResult& s) {
  w.objects("moisture", s.moisture, [&](const MoisturePlane& m) {
    w.field("layer", m.layer);
    w.field("plane", m.plane);
    w.field("dew_point_f", m.dew_point_f);
    w.field("safe_share", m.safe_share);
    write_state_json(w, "before", m.before);
    write_ends(m, [&](std::string_view key, const std::optional<MoistureState>& state) {
      write_state_json(w, key, state);
    });
  });
}

}  // namespace overjoist::io
