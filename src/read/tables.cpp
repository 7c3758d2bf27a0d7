// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <stdexcept>

#include "overjoist/survey_json.hpp"
#include "read/kind.hpp"
#include "read/shapes.hpp"
#include "tables/embedded.hpp"
#include "words/survey_words.hpp"

// The tables of data/ and a user's material table, read by the same reader as a survey.
namespace overjoist {
namespace io {
namespace {

using Words = std::string_view;
using enum Dimension;

constexpr std::size_t kLong = 1000, kManyRows = 10000;
constexpr Bounds kDegreeDays = from(1, 30000), kSolidDensity = from(0.05, 200);

/// What stands above the rows of a table file.
struct Header {
  std::string_view expected;  ///< the word that `table` must be
  std::string version;
  std::string who, clears;   ///< of the plausible figures: of every caution that they raise
  std::size_t leak_per = 0;  ///< of the leak at hand: index into kLeakPer
};

// Material rows

constexpr Words kUses[] = {"any", "existing"};

/// Ids are trade words with hyphens.
bool is_id(std::string_view id) {
  const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  return !id.empty() && id.size() <= kIdText && plain(id.front()) &&
         std::all_of(id.begin(), id.end(),
                     [&](char c) { return plain(c) || c == '.' || c == '/' || c == '-'; });
}
template <auto M>
void set_id(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (is_id(*v.text))
    object.*M = std::move(*v.text);
  else
    r.fault(
        fmt::format(
            "id {} is not allowed; allowed: lower-case letters, digits, '-', '.' and '/', up to {}",
            r.token(), kIdText),
        "write trade words with hyphens, such as wood-wool");
}
template <auto M>
constexpr Field<OwnerOf<M>> id_field(std::string_view key, bool required) {
  return set_by<set_id<M>>({.key = key, .kinds = kText, .required = required});
}

template <auto M>
void set_percent(Reader&, OwnerOf<M>& object, Scalar& v) {
  object.*M = v.number / 100.0;
}
template <auto M>
constexpr Field<OwnerOf<M>> percent_field(std::string_view key) {
  return set_by<set_percent<M>>(
      {.key = key, .kinds = kNumber | kText, .dimension = percent, .bounds = from(0, 50)});
}

template <class T>
void need_order(Reader& r, std::string_view what, const std::optional<T>& low,
                const std::optional<T>& high) {
  if (low && high && *low > *high)
    r.fault(fmt::format("{}: the low figure is above the high one", what), "swap them");
}
void need_pair(Reader& r, const Seen& seen, std::string_view a, std::string_view b) {
  if (seen.has(a) != seen.has(b))
    r.fault(fmt::format("{} is missing", seen.has(a) ? b : a),
            fmt::format("{} and {} go together", a, b));
}
void finish_material(Reader& r, Material& m, const Seen& seen) {
  if (m.name.empty()) m.name = m.id;
  if (m.status.empty()) m.status = "survey";
  if (!seen.has("r_per_inch") && !seen.has("r_per_inch_low") && !seen.has("r"))
    r.fault("the material has no R",
            "give r_per_inch, r_per_inch_low, or thickness_in and r of a sheet");
  need_pair(r, seen, "thickness_in", "r");
  need_pair(r, seen, "density_low_lb_ft3", "density_high_lb_ft3");
  need_pair(r, seen, "settling_low_percent", "settling_high_percent");
  need_order(r, "r_per_inch", m.low, m.typical);
  need_order(r, "r_per_inch", m.typical, m.high);
  need_order(r, "r_per_inch", m.low, m.high);
  need_order(r, "density", m.density_low, m.density_high);
  need_order(r, "settling", m.settling_low, m.settling_high);
}

constexpr Field<Material> kMaterialSource = text_field<&Material::sources>("source", kLineText);
constexpr Field<Material> kMaterialAlso =
    set_by<set_text<&Material::also>>({.key = "word", .kinds = kText, .least = 1, .most = kIdText});
constexpr auto kMaterialFields = fields_of<Material>({
    id_field<&Material::id>("id", true),
    text_field<&Material::name>("name", 80),
    array_field("also", kMaterialAlso, 1, 20),
    word_field<&Material::form>("form", kWords<Form>, true),
    quantity_field<&Material::low>("r_per_inch_low", resistivity, kPerInch),
    quantity_field<&Material::typical>("r_per_inch", resistivity, kPerInch),
    quantity_field<&Material::high>("r_per_inch_high", resistivity, kPerInch),
    quantity_field<&Material::thickness>("thickness_in", length, from(0.01, 24)),
    quantity_field<&Material::resistance>("r", resistance, from(0.01, 200)),
    quantity_field<&Material::density_low>("density_low_lb_ft3", density, kSolidDensity),
    quantity_field<&Material::density_high>("density_high_lb_ft3", density, kSolidDensity),
    percent_field<&Material::settling_low>("settling_low_percent"),
    percent_field<&Material::settling_high>("settling_high_percent"),
    word_field<&Material::existing_only>("use", kUses),
    flag_field<&Material::tight>("tight"),
    id_field<&Material::caution>("caution", false),
    array_field("source", kMaterialSource, 0, 20),
    text_field<&Material::status>("status", kLineText),
    text_field<&Material::note>("note", kLong),
});

// Keys that stand above the rows of every table. Words about provenance stay in the file.

void pass_over(Reader&, Tables&, Scalar&) {}
void set_table(Reader& r, Tables&, Scalar& v) {
  const Header& header = r.user<Header>();
  if (*v.text != header.expected)
    r.fault(fmt::format("table {} is not a table of {}", r.token(), header.expected),
            "check that this is the right file");
}
void set_version(Reader& r, Tables&, Scalar& v) { r.user<Header>().version = std::move(*v.text); }

constexpr Field<Tables> words_field(std::string_view key) {
  return set_by<pass_over>({.key = key, .kinds = kText, .most = kLong});
}
constexpr Field<Tables> kPassedWord = words_field("source");
constexpr Field<Tables> list_field(std::string_view key) {
  return array_field(key, kPassedWord, 1, 20);
}
constexpr Field<Tables> kTable =
    set_by<set_table>({.key = "table",
                       .kinds = kText,
                       .required = true,
                       .hint = "start the file with \"table\": \"materials\""});
constexpr Field<Tables> kVersion =
    set_by<set_version>({.key = "version", .kinds = kText, .most = kIdText});
constexpr Field<Tables> kTitle = words_field("title"), kRetrieved = words_field("retrieved"),
                        kUnits = words_field("units");
constexpr Field<Tables> rows_field(const Field<Tables>& row) {
  return array_field("rows", row, 1, kManyRows, true);
}

constexpr Field<Tables> kMaterialRow = object_field<&Tables::materials>("row", kMaterialShape);
constexpr auto kMaterialTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kMaterialRow),
});
constexpr Shape<Tables> kMaterialTable{kMaterialTableFields};

/// What `overjoist materials --format json` writes, so that it can be edited and read back.
void set_list_format(Reader&, Tables&, Scalar&) {}
constexpr auto kMaterialListFields = fields_of<Tables>({
    set_by<set_list_format>({.key = "format", .kinds = kText, .most = kIdText, .required = true}),
    passed_field<Tables>("version"),
    array_field("materials", kMaterialRow, 1, kManyRows, true),
    passed_field<Tables>("sources"),
    passed_field<Tables>("tables"),
});
constexpr Shape<Tables> kMaterialList{kMaterialListFields};

constexpr Field<CeilingLimit> kLimitSource =
    text_field<&CeilingLimit::sources>("source", kLineText);
constexpr auto kLimitFields = fields_of<CeilingLimit>({
    id_field<&CeilingLimit::board>("board", true),
    quantity_field<&CeilingLimit::spacing>("spacing_in", length, from(1, 120), true),
    quantity_field<&CeilingLimit::limit>("limit_psf", weight_per_area, from(0.01, 50), true),
    array_field("source", kLimitSource, 1, 20, true),
    text_field<&CeilingLimit::status>("status", kLineText, true),
});
constexpr Shape<CeilingLimit> kLimit{kLimitFields};
constexpr Field<Tables> kLimitRow = object_field<&Tables::limits>("row", kLimit);
constexpr auto kLimitTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kLimitRow),
});
constexpr Shape<Tables> kLimitTable{kLimitTableFields};

constexpr Field<TargetRow> kTargetSource = text_field<&TargetRow::sources>("source", kLineText);
constexpr auto kTargetFields = fields_of<TargetRow>({
    whole_field<&TargetRow::zone>("zone", from(1, 8), true),
    quantity_field<&TargetRow::low>("low_r", resistance, kPositiveR, true),
    quantity_field<&TargetRow::high>("high_r", resistance, kPositiveR, true),
    array_field("source", kTargetSource, 1, 20, true),
    text_field<&TargetRow::status>("status", kLineText, true),
});
constexpr Shape<TargetRow> kTarget{kTargetFields};
constexpr Field<Tables> kTargetRow = object_field<&Tables::targets>("row", kTarget);
constexpr auto kZoneFields = fields_of<ZoneRule>({
    whole_field<&ZoneRule::zone>("zone", from(1, 8), true),
    flag_field<&ZoneRule::marine>("marine"),
    number_field<&ZoneRule::cdd50_above>("cdd50_above", kDegreeDays),
    number_field<&ZoneRule::cdd50_upto>("cdd50_upto", kDegreeDays),
    number_field<&ZoneRule::hdd65_above>("hdd65_above", kDegreeDays),
    number_field<&ZoneRule::hdd65_upto>("hdd65_upto", kDegreeDays),
});
constexpr Shape<ZoneRule> kZone{kZoneFields};
constexpr Field<Tables> kZoneRow = object_field<&Tables::zones>("zone", kZone);
constexpr auto kFilmFields = fields_of<Tables>({
    quantity_field<&Tables::film_inside>("inside_r", resistance, from(0.01, 5), true),
    quantity_field<&Tables::film_attic>("attic_r", resistance, from(0.01, 5), true),
    quantity_field<&Tables::film_vertical>("vertical_r", resistance, from(0.01, 5), true),
    list_field("source"),
    words_field("status"),
});
constexpr Shape<Tables> kFilms{kFilmFields};
constexpr auto kTargetTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    quantity_field<&Tables::default_low>("default_low_r", resistance, kPositiveR, true),
    quantity_field<&Tables::default_high>("default_high_r", resistance, kPositiveR, true),
    list_field("default_source"),
    words_field("default_status"),
    part_field("films", kFilms, true),
    quantity_field<&Tables::wood>("wood_r_per_inch", resistivity, from(0.01, 5), true),
    list_field("wood_source"),
    words_field("wood_status"),
    quantity_field<&Tables::default_bag>("default_bag_lb", mass, kBagNet, true),
    list_field("default_bag_source"),
    words_field("default_bag_status"),
    quantity_field<&Tables::knee_wall_r>("knee_wall_r", resistance, kPositiveR, true),
    list_field("knee_wall_source"),
    words_field("knee_wall_status"),
    quantity_field<&Tables::vent_gap>("vent_gap_in", length, from(0.01, 12), true),
    list_field("vent_gap_source"),
    words_field("vent_gap_status"),
    list_field("zones_source"),
    words_field("zones_status"),
    array_field("zones", kZoneRow, 1, 100, true),
    rows_field(kTargetRow),
});
constexpr Shape<Tables> kTargetTable{kTargetTableFields};

constexpr Field<CautionRow> kCautionSource = text_field<&CautionRow::sources>("source", kLineText),
                            kCautionName = text_field<&CautionRow::names>("part", kIdText),
                            kHazardKind = text_field<&CautionRow::hazard_kinds>("kind", kIdText);
constexpr auto kCautionFields = fields_of<CautionRow>({
    id_field<&CautionRow::code>("code", true),
    word_field<&CautionRow::level>("level", kWords<CautionLevel>, true),
    text_field<&CautionRow::brief>("short", 48),
    text_field<&CautionRow::text>("text", kLong, true),
    set_by<set_text<&CautionRow::who>>({.key = "who", .kinds = kText, .required = true}),
    set_by<set_text<&CautionRow::clears>>({.key = "clears", .kinds = kText, .required = true}),
    array_field("source", kCautionSource, 1, 20, true),
    text_field<&CautionRow::status>("status", kLineText, true),
    array_field("hazard_kinds", kHazardKind, 1, 50),
    flag_field<&CautionRow::standing>("standing"),
    flag_field<&CautionRow::hands_off>("hands_off"),
    array_field("names", kCautionName, 1, 20),
});
constexpr Shape<CautionRow> kCaution{kCautionFields};
constexpr Field<Tables> kCautionRow = object_field<&Tables::cautions>("row", kCaution);
constexpr auto kQuietFields = fields_of<QuietWords>({
    id_field<&QuietWords::code>("code", true),
    text_field<&QuietWords::text>("text", kLong),
    set_by<set_text<&QuietWords::who>>({.key = "who", .kinds = kText}),
    set_by<set_text<&QuietWords::clears>>({.key = "clears", .kinds = kText}),
});
constexpr Shape<QuietWords> kQuiet{kQuietFields};
constexpr Field<Tables> kQuietRow = object_field<&Tables::quiet_cautions>("words", kQuiet);
constexpr auto kCautionTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kCautionRow),
    array_field("while_hands_off", kQuietRow, 0, kManyRows),
});
constexpr Shape<Tables> kCautionTable{kCautionTableFields};

constexpr auto kAssumptionFields = fields_of<AssumptionRow>({
    id_field<&AssumptionRow::code>("code", true),
    text_field<&AssumptionRow::what>("what", kLong, true),
    text_field<&AssumptionRow::why>("why", kLong, true),
    text_field<&AssumptionRow::quiet_what>("quiet_what", kLong),
    text_field<&AssumptionRow::quiet_why>("quiet_why", kLong),
});
constexpr Shape<AssumptionRow> kAssumption{kAssumptionFields};
constexpr Field<Tables> kAssumptionRow = object_field<&Tables::assumptions>("row", kAssumption);
constexpr auto kAssumptionTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kAssumptionRow),
});
constexpr Shape<Tables> kAssumptionTable{kAssumptionTableFields};

// Units of kFuel and kMoneyDefault stand in the rows, so their numbers have no dimension here.
constexpr Field<Fuel> kFuelSource = text_field<&Fuel::sources>("source", kLineText);
constexpr auto kFuelFields = fields_of<Fuel>({
    id_field<&Fuel::id>("id", true),
    text_field<&Fuel::name>("name", 80, true),
    text_field<&Fuel::unit>("unit", 20, true),
    number_field<&Fuel::btu_per_unit>("btu_per_unit", from(1, 1e9), true),
    number_field<&Fuel::co2_lb_per_unit>("co2_lb_per_unit", from(0, 1e6)),
    array_field("source", kFuelSource, 1, 20, true),
    text_field<&Fuel::status>("status", kLineText, true),
    text_field<&Fuel::note>("note", kLong),
});
constexpr Shape<Fuel> kFuel{kFuelFields};
constexpr Field<Tables> kFuelRow = object_field<&Tables::fuels>("row", kFuel);
constexpr auto kFuelTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kFuelRow),
});
constexpr Shape<Tables> kFuelTable{kFuelTableFields};

constexpr Field<MoneyDefault> kMoneySource =
    text_field<&MoneyDefault::sources>("source", kLineText);
constexpr auto kMoneyFields = fields_of<MoneyDefault>({
    id_field<&MoneyDefault::id>("id", true),
    number_field<&MoneyDefault::value>("value", from(0, 1e6), true),
    array_field("source", kMoneySource, 1, 20, true),
    text_field<&MoneyDefault::status>("status", kLineText, true),
    text_field<&MoneyDefault::note>("note", kLong),
});
constexpr Shape<MoneyDefault> kMoneyDefault{kMoneyFields};
constexpr Field<Tables> kMoneyRow = object_field<&Tables::money>("row", kMoneyDefault);
constexpr auto kMoneyTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kMoneyRow),
});
constexpr Shape<Tables> kMoneyTable{kMoneyTableFields};

constexpr auto kSourceFields = fields_of<SourceRow>({
    id_field<&SourceRow::id>("id", true),
    text_field<&SourceRow::title>("title", kLong, true),
    text_field<&SourceRow::status>("status", kLineText, true),
});
constexpr Shape<SourceRow> kSource{kSourceFields};
constexpr Field<Tables> kSourceRow = object_field<&Tables::sources>("row", kSource);
constexpr auto kSourceTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    rows_field(kSourceRow),
});
constexpr Shape<Tables> kSourceTable{kSourceTableFields};

// Air leaks and the figures beside them

constexpr Words kLeakPer[] = {"each", "m", "m2"};
constexpr Bounds kOpening = from(0.01, 240), kAmount = from(0.001, 1000);

/// The unit of a leakage area goes by the unit of its row and is not kept.
void set_leak_per(Reader& r, BypassLeak&, Scalar& v) {
  r.user<Header>().leak_per = static_cast<std::size_t>(v.number);
}
void finish_bypass(Reader& r, const BypassRow& row, const Seen& seen) {
  if (seen.has("leak") && r.user<Header>().leak_per != static_cast<std::size_t>(row.unit))
    r.fault("the leakage area does not go with the unit of the row",
            "each goes with each, m with ft, m2 with ft2");
}
template <auto M>
constexpr Field<OwnerOf<M>> amount_field(std::string_view key) {
  return number_field<M>(key, kAmount);
}
constexpr Field<BypassLeak> kLeakSource = text_field<&BypassLeak::sources>("source", kLineText);
constexpr auto kLeakFields = fields_of<BypassLeak>({
    number_field<&BypassLeak::typical_cm2>("typical_cm2", kAmount, true),
    number_field<&BypassLeak::tight_cm2>("tight_cm2", kAmount, true),
    set_by<set_leak_per>({.key = "per", .kinds = kText, .words = kLeakPer, .required = true}),
    array_field("source", kLeakSource, 1, 20, true),
    text_field<&BypassLeak::status>("status", kLineText, true),
});
constexpr Shape<BypassLeak> kLeak{kLeakFields};
constexpr Field<BypassRow> kBypassSource = text_field<&BypassRow::sources>("source", kLineText);
constexpr auto kBypassFields = fields_of<BypassRow>({
    id_field<&BypassRow::id>("id", true),
    text_field<&BypassRow::name>("name", kLineText, true),
    word_field<&BypassRow::unit>("unit", kWords<BypassUnit>, true),
    whole_field<&BypassRow::rank>("rank", from(1, 20), true),
    text_field<&BypassRow::seal_with>("seal_with", kLong, true),
    word_field<&BypassRow::sealant>("sealant", kWords<Sealant>, true),
    quantity_field<&BypassRow::bead_width>("bead_width_in", length, kOpening),
    amount_field<&BypassRow::bead_ft_per_unit>("bead_ft_per_unit"),
    flag_field<&BypassRow::rim>("rim"),
    quantity_field<&BypassRow::opening_length>("opening_length_in", length, kOpening),
    quantity_field<&BypassRow::opening_width>("opening_width_in", length, kOpening),
    flag_field<&BypassRow::board_over_opening>("board_over_opening"),
    amount_field<&BypassRow::board_per_unit>("board_ft2_per_unit"),
    amount_field<&BypassRow::metal_per_unit_low>("metal_ft2_per_unit_low"),
    amount_field<&BypassRow::metal_per_unit_high>("metal_ft2_per_unit_high"),
    amount_field<&BypassRow::tubes_per_unit>("tubes_per_unit"),
    amount_field<&BypassRow::covers_per_unit>("covers_per_unit"),
    flag_field<&BypassRow::fan>("fan"),
    text_field<&BypassRow::fire_rule>("fire_rule", kLong),
    object_field<&BypassRow::leak>("leak", kLeak),
    array_field("source", kBypassSource, 1, 20, true),
    text_field<&BypassRow::status>("status", kLineText, true),
    text_field<&BypassRow::note>("note", kLong),
});
constexpr Shape<BypassRow> kBypass{kBypassFields, finish_by<finish_bypass>};
constexpr Field<Tables> kBypassRow = object_field<&Tables::bypasses>("row", kBypass);
constexpr Field<FigureRow> kFigureSource = text_field<&FigureRow::sources>("source", kLineText);
constexpr auto kFigureFields = fields_of<FigureRow>({
    id_field<&FigureRow::id>("id", true),
    number_field<&FigureRow::value>("value", from(0.0001, 10000), true),
    text_field<&FigureRow::unit>("unit", kLineText, true),
    array_field("source", kFigureSource, 1, 20, true),
    text_field<&FigureRow::status>("status", kLineText, true),
    text_field<&FigureRow::note>("note", kLong),
});
constexpr Shape<FigureRow> kFigure{kFigureFields};
constexpr Field<Tables> kFigureRow = object_field<&Tables::figures>("figure", kFigure);
constexpr auto kBypassTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    array_field("figures", kFigureRow, 1, kManyRows, true),
    rows_field(kBypassRow),
});
constexpr Shape<Tables> kBypassTable{kBypassTableFields};

// Figures beyond which something else was probably meant

constexpr Words kMeasureWords[] = {"bag-weight",
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
  if (!seen.has("below") && !seen.has("above"))
    r.fault("the row has no threshold", "give below, above, or both");
}
constexpr Field<PlausibleRow> kPlausibleSource =
    text_field<&PlausibleRow::sources>("source", kLineText);
constexpr auto kPlausibleFields = fields_of<PlausibleRow>({
    id_field<&PlausibleRow::code>("code", true),
    word_field<&PlausibleRow::measure>("compares", kMeasureWords, true),
    id_field<&PlausibleRow::of>("of", false),
    number_field<&PlausibleRow::below>("below", kThreshold),
    number_field<&PlausibleRow::above>("above", kThreshold),
    number_field<&PlausibleRow::times>("times", from(1, 1000)),
    word_field<&PlausibleRow::level>("level", kWords<CautionLevel>),
    text_field<&PlausibleRow::brief>("short", 48),
    text_field<&PlausibleRow::text>("text", kLong, true),
    array_field("source", kPlausibleSource, 1, 20, true),
    text_field<&PlausibleRow::status>("status", kLineText, true),
});
constexpr Shape<PlausibleRow> kPlausible{kPlausibleFields, finish_by<finish_plausible>};
constexpr Field<Tables> kPlausibleRow = object_field<&Tables::plausible>("row", kPlausible);
constexpr Field<Tables> kPlausibleCurrency =
    text_field<&Tables::plausible_currencies>("currency", 12);
constexpr auto kPlausibleTableFields = fields_of<Tables>({
    kTable,
    kTitle,
    kVersion,
    kRetrieved,
    kUnits,
    set_by<set_who>({.key = "who", .kinds = kText, .required = true}),
    set_by<set_clears>({.key = "clears", .kinds = kText, .required = true}),
    array_field("currencies", kPlausibleCurrency, 1, 50, true),
    rows_field(kPlausibleRow),
});
constexpr Shape<Tables> kPlausibleTable{kPlausibleTableFields};

/// 64-bit FNV-1a, in hexadecimal: tells two states of a table apart; no protection against forgery.
std::string hash_of(std::string_view text) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  for (char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
  return fmt::format("{:016x}", hash);
}

template <class Row>
void sort_by(std::vector<Row>& rows, std::string Row::*key) {
  std::stable_sort(rows.begin(), rows.end(),
                   [&](const Row& a, const Row& b) { return a.*key < b.*key; });
}

Header read_builtin(Tables& tables, const Shape<Tables>& shape, std::string_view name,
                    std::string_view text) {
  Header header{name, {}, {}, {}, 0};
  Reader reader(text, &header);
  reader.read(shape, tables, "table");
  for (const Diagnostic& d : reader.faults())
    throw std::logic_error(
        fmt::format("table {}:{}:{}: {}: {}", name, d.line, d.column, d.pointer, d.message));
  tables.stamps.push_back({std::string(name), header.version, hash_of(text)});
  return header;
}

/// The words of a plausible figure are those of a caution with its code; they stand behind the
/// table of cautions.
void add_plausible(Tables& t) {
  const Header header = read_builtin(t, kPlausibleTable, "plausible", embedded::plausible);
  std::stable_sort(
      t.plausible.begin(), t.plausible.end(),
      [](const PlausibleRow& a, const PlausibleRow& b) { return a.measure < b.measure; });
  for (const PlausibleRow& row : t.plausible) {
    CautionRow& caution = t.cautions.emplace_back();
    caution.code = row.code;
    caution.level = row.level;
    caution.brief = row.brief;
    caution.text = row.text;
    caution.who = header.who;
    caution.clears = header.clears;
    caution.sources = row.sources;
    caution.status = row.status;
  }
}

Tables read_all_builtin() {
  Tables t;
  read_builtin(t, kMaterialTable, "materials", embedded::materials);
  read_builtin(t, kTargetTable, "targets", embedded::targets);
  read_builtin(t, kLimitTable, "limits", embedded::limits);
  read_builtin(t, kCautionTable, "cautions", embedded::cautions);
  read_builtin(t, kAssumptionTable, "assumptions", embedded::assumptions);
  read_builtin(t, kFuelTable, "fuels", embedded::fuels);
  read_builtin(t, kMoneyTable, "money", embedded::money);
  read_builtin(t, kSourceTable, "sources", embedded::sources);
  read_builtin(t, kBypassTable, "bypasses", embedded::bypasses);
  add_plausible(t);
  sort_by(t.materials, &Material::id);
  sort_by(t.assumptions, &AssumptionRow::code);
  sort_by(t.fuels, &Fuel::id);
  sort_by(t.money, &MoneyDefault::id);
  sort_by(t.sources, &SourceRow::id);
  sort_by(t.bypasses, &BypassRow::id);
  sort_by(t.figures, &FigureRow::id);
  t.build_indexes();
  return t;
}

/// A source that a user's row names and that no table knows is listed by the user's own words.
void add_sources(Tables& tables, const std::vector<std::string>& names) {
  tables.source_index = {};  // rows come in: search until the indexes are built again
  for (const std::string& name : names) {
    if (tables.source(name)) continue;
    tables.sources.push_back({name, name, "user's table"});
    sort_by(tables.sources, &SourceRow::id);
  }
}

void add_row(Tables& tables, Material&& row) {
  add_sources(tables, row.sources);
  tables.material_index = {};
  const auto at =
      std::lower_bound(tables.materials.begin(), tables.materials.end(), row.id,
                       [](const Material& m, const std::string& id) { return m.id < id; });
  row.caution =
      tables.caution_of(row);  // a stock row's caution stays, whatever a user says of its id
  if (at != tables.materials.end() && at->id == row.id)
    *at = std::move(row);
  else
    tables.materials.insert(at, std::move(row));
}

/// Of a list of all tables that was edited: what is as it was stays ours, and a changed figure is
/// no longer its source's.
void keep_changed(std::vector<Material>& rows, const Tables& tables) {
  const auto as_it_was = [&](const Material& row) {
    const Material* const ours = tables.material(row.id);
    return ours && *ours == row;
  };
  rows.erase(std::remove_if(rows.begin(), rows.end(), as_it_was), rows.end());
  for (Material& row : rows) {
    const Material* const ours = tables.material(row.id);
    if (!ours || row.sources != ours->sources || row.status != ours->status) continue;
    row.sources.clear();
    row.status = "survey";
  }
}

}  // namespace

constinit const Shape<Material> kMaterialShape{kMaterialFields, finish_by<finish_material>};

}  // namespace io

Tables builtin_tables() {
  static const Tables tables = io::read_all_builtin();
  return tables;
}

Diagnostics add_materials(Tables& tables, std::string_view text, std::string_view name) {
  io::Header header{"materials", {}, {}, {}, 0};
  Tables added;
  io::Reader reader(text, &header);
  const bool listed = io::format_of(text) == "overjoist-materials";
  const io::Shape<Tables>& shape = listed ? io::kMaterialList : io::kMaterialTable;
  if (reader.read(shape, added, "table"))
    io::check_materials(reader, added.materials, tables, listed ? "/materials" : "/rows");
  if (reader.fault_count() > 0) return io::by_kind(text, "materials", reader.faults());
  if (listed) io::keep_changed(added.materials, tables);
  for (Material& row : added.materials) row.own();
  for (Material& row : added.materials) io::add_row(tables, std::move(row));
  tables.stamps.push_back({std::string(name), header.version, io::hash_of(text)});
  tables.build_indexes();
  return {};
}

}  // namespace overjoist
