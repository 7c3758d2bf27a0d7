// SPDX-License-Identifier: MIT
#include <iterator>

#include "read/tables/table.hpp"
#include "words/survey_words.hpp"

// The table of figures beyond which something else was probably meant, data/plausible.json.
namespace overjoist::io {
namespace {

constexpr std::string_view kMeasureWords[] = {"bag-weight",
                                              "batt-density",
                                              "batt-r-per-inch",
                                              "blown-density",
                                              "board-r-per-inch",
                                              "bypass-share",
                                              "ceiling-r",
                                              "chart-r-per-inch",
                                              "cooling-cop",
                                              "degree-days",
                                              "degree-days-a-day",
                                              "discount-rate",
                                              "efficiency",
                                              "fill-density",
                                              "film-r",
                                              "floor-area",
                                              "foam-r-per-inch",
                                              "fuel-price",
                                              "greatest-depth",
                                              "heat-pump-cop",
                                              "indoor-temperature",
                                              "joist-spacing",
                                              "joist-width",
                                              "labor-per-ft2",
                                              "labor-per-hour",
                                              "lid-area",
                                              "lid-r-over-films",
                                              "lid-share",
                                              "life",
                                              "loose-r-per-inch",
                                              "mean-depth",
                                              "metric-bare-depth",
                                              "metric-bare-r",
                                              "metric-bare-surface-r",
                                              "names-alike",
                                              "patch-r-over-films",
                                              "patch-share",
                                              "price-of-bag",
                                              "price-per-board-ft",
                                              "price-rise",
                                              "reading-over-median",
                                              "target-r",
                                              "tax",
                                              "waste",
                                              "wood-share"};
static_assert(std::size(kMeasureWords) == kMeasures);
constexpr Bounds kThreshold = from(-1000, 1e6);

void set_who(Reader& r, Tables&, Scalar& v) { r.user<Header>().who = std::move(*v.text); }
void set_clears(Reader& r, Tables&, Scalar& v) { r.user<Header>().clears = std::move(*v.text); }
void finish_plausible(Reader& r, const PlausibleRow&, const Seen& seen) {
  if (!seen.has("below") && !seen.has("above")) r.fault(make_fault<F::no_threshold>());
}
constexpr auto kPlausibleFields = fields_of<PlausibleRow>({
    id_field<&PlausibleRow::code>("code", true),
    word_field<&PlausibleRow::measure>("compares", kMeasureWords, true),
    id_field<&PlausibleRow::of>("of", false),
    number_field<&PlausibleRow::below>("below", kThreshold),
    number_field<&PlausibleRow::above>("above", kThreshold),
    number_field<&PlausibleRow::times>("times", from(1, 1000)),
    word_field<&PlausibleRow::level>("level", kWords<CautionLevel>),
    text_field<&PlausibleRow::brief>("short", 48),
    text_field<&PlausibleRow::text>("text", kTableText, true),
    sources_field<&PlausibleRow::sources>(),
    text_field<&PlausibleRow::status>("status", kLineText, true),
});
constexpr Shape<PlausibleRow> kPlausible{kPlausibleFields, finish_by<finish_plausible>()};
constexpr Field<Tables> kPlausibleRow = object_field<&Tables::plausible>("row", kPlausible);
constexpr Field<Tables> kPlausibleCurrency =
    text_field<&Tables::plausible_currencies>("currency", 12);
constexpr auto kPlausibleTableFields = kTableKeys.then(fields_of<Tables>({
    set_by<set_who>({.key = "who", .kinds = kText, .required = true}),
    set_by<set_clears>({.key = "clears", .kinds = kText, .required = true}),
    array_field("currencies", kPlausibleCurrency, 1, 50, true),
    rows_field(kPlausibleRow),
}));

}  // namespace

constinit const Shape<Tables> kPlausibleTable{kPlausibleTableFields};

}  // namespace overjoist::io
