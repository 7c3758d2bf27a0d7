// SPDX-License-Identifier: MIT
#include "overjoist/record_json.hpp"

#include <algorithm>
#include <cmath>

#include "read/kind.hpp"
#include "read/record_check.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The keys of a record as tables, read by json/reader; data/record.schema.json says the same.
namespace overjoist {
namespace io {
namespace {

using enum Dimension;

constexpr Bounds kBags = from(0, 1e5), kCount = from(0, 1e5);

// What was done in a section

void set_plain_depth(Reader& r, RecordSection& section, Scalar& v) {
  set_depth(r, open_member(section.depths), v);
}

constexpr auto kRecordDepthFields = fields_of<Reading>({
    set_by<set_depth>({.key = "depth", .kinds = kNumber | kText, .required = true}),
    number_field<&Reading::share>("share", kReadingShare),
    text_field<&Reading::where>("where", kLineText),
});
constexpr Shape<Reading> kRecordDepth{kRecordDepthFields};
constexpr Field<RecordSection> kRecordDepthElement = or_object<&RecordSection::depths>(
    set_by<set_plain_depth>({.key = "depth", .kinds = kNumber | kText}), kRecordDepth);

/// Shares: all or none, adding to 1 (model 1).
void finish_record_section(Reader& r, const RecordSection& section, const Seen& seen) {
  constexpr double kShareSlack = 0.01;
  const auto& depths = section.depths;
  const auto given =
      std::count_if(depths.begin(), depths.end(), [](const Reading& d) { return d.share >= 0; });
  if (!seen.has("depths") || given == 0) return;
  double sum = 0.0;
  for (const Reading& d : depths) sum += d.share;
  if (static_cast<std::size_t>(given) < depths.size())
    r.fault_of("depths", make_fault<F::shares_of_some_depths>(given, depths.size()));
  else if (std::fabs(sum - 1.0) > kShareSlack)
    r.fault_of("depths", make_fault<F::sum_of_depth_shares>(sum, kShareSlack));
}
constexpr auto kRecordSectionFields = fields_of<RecordSection>({
    text_field<&RecordSection::name>("name", kNameText, true),
    number_field<&RecordSection::bags>("bags", kBags),
    array_field("depths", kRecordDepthElement, 1, 100000),
    quantity_field<&RecordSection::area>("area_ft2", area, kSectionArea),
    flag_field<&RecordSection::done>("done"),
    quantity_field<&RecordSection::insulation_r>("insulation_r", resistance, from(0, 200)),
    flag_field<&RecordSection::weatherstripped>("weatherstripped"),
    flag_field<&RecordSection::latched>("latched"),
});
constexpr Shape<RecordSection> kRecordSection{kRecordSectionFields,
                                              finish_by<finish_record_section>()};
constexpr Field<Record> kRecordSectionElement =
    object_field<&Record::sections>("section", kRecordSection);

// Who, tag, counts, ticks

constexpr auto kInstallerFields = fields_of<Installer>({
    text_field<&Installer::name>("name", kLineText, true),
    text_field<&Installer::address>("address", kLineText),
    text_field<&Installer::license>("license", kLineText),
});
constexpr Shape<Installer> kInstaller{kInstallerFields};

void finish_tag(Reader& r, const TagClaim&, const Seen& seen) {
  if (!seen.has("r") && !seen.has("initial_in") && !seen.has("settled_in") && !seen.has("bags"))
    r.fault(make_fault<F::empty_tag>());
}
constexpr auto kTagFields = fields_of<TagClaim>({
    quantity_field<&TagClaim::r>("r", resistance, kPositiveR),
    quantity_field<&TagClaim::initial>("initial_in", length, kThickness),
    quantity_field<&TagClaim::settled>("settled_in", length, kThickness),
    number_field<&TagClaim::bags>("bags", kBags),
});
constexpr Shape<TagClaim> kTag{kTagFields, finish_by<finish_tag>()};

constexpr auto kCountFields = fields_of<RecordCounts>({
    whole_field<&RecordCounts::markers>("markers", kCount),
    whole_field<&RecordCounts::baffles>("baffles", kCount),
    whole_field<&RecordCounts::dams>("dams", kCount),
    whole_field<&RecordCounts::covers>("covers", kCount),
    whole_field<&RecordCounts::flags>("flags", kCount),
});
constexpr Shape<RecordCounts> kCounts{kCountFields};

constexpr auto kTickFields = fields_of<SealTick>({
    bypass_kind_field<&SealTick::kind>(),
    text_field<&SealTick::where>("where", kLineText),
});
constexpr Shape<SealTick> kTick{kTickFields};
constexpr Field<Record> kTickElement = object_field<&Record::sealed>("bypass", kTick);

constexpr auto kRecordClearedFields = fields_of<ClearedHazard>({
    hazard_kind_field<&ClearedHazard::kind>(),
    text_field<&ClearedHazard::where>("where", kLineText),
    text_field<&ClearedHazard::by>("by", kLineText, true),
    text_field<&ClearedHazard::trade>("trade", kLineText, true),
    day_field<&ClearedHazard::date>("date", true),
    text_field<&ClearedHazard::paper>("paper", kLineText, true),
});
constexpr Shape<ClearedHazard> kRecordCleared{kRecordClearedFields};
constexpr Field<Record> kRecordClearedElement =
    object_field<&Record::cleared>("hazard", kRecordCleared);

// The whole

void set_record_format(Reader& r, Record&, Scalar& v) {
  if (*v.text != "overjoist-record")
    r.fault(*v.text == "overjoist-survey" ? make_fault<F::record_format_of_survey>(r.token())
                                          : make_fault<F::other_record_format>(r.token()));
}
void finish_record(Reader& r, const Record&, const Seen& seen) {
  if (seen.has("product") && !seen.has("bag_net_lb")) r.fault(make_fault<F::bag_missing>());
  if (seen.has("maker") && !seen.has("product"))
    r.fault_of("maker", make_fault<F::maker_without_product>());
}

constexpr Field<Record> kChangeElement = text_field<&Record::changes>("change", kLineText);
constexpr auto kRecordFields = fields_of<Record>({
    set_by<set_record_format>({.key = "format",
                               .kinds = kText,
                               .most = kLineText,
                               .required = true,
                               .missing = key_fault<F::missing_record_format>}),
    version_field<Record>(),
    text_field<&Record::id>("id", kLineText),
    text_field<&Record::survey>("survey", kLineText),
    text_field<&Record::notes>("notes", kLongText),
    day_field<&Record::date>("date"),
    object_field<&Record::installer>("installer", kInstaller),
    word_field<&Record::sold>("sold", kWords<End>),
    text_field<&Record::material>("material", kIdText),
    text_field<&Record::maker>("maker", kNameText),
    object_field<&Record::product>("product", kProductShape),
    quantity_field<&Record::bag_net>("bag_net_lb", mass, kBagNet),
    quantity_field<&Record::waste_percent>("waste_percent", percent, from(0, 100)),
    number_field<&Record::bags>("bags", kBags),
    word_field<&Record::depths_are>("depths_are", kWords<DepthKind>),
    array_field("sections", kRecordSectionElement, 0, 200),
    object_field<&Record::tag>("tag", kTag),
    object_field<&Record::counts>("counts", kCounts),
    array_field("sealed", kTickElement, 0, 500),
    array_field("cleared", kRecordClearedElement, 0, 500),
    array_field("changes", kChangeElement, 0, 100),
    array_field("papers", kPaperOf<&Record::papers>, 0, 100),
});
constexpr Shape<Record> kRecord{kRecordFields, finish_by<finish_record>()};

}  // namespace
}  // namespace io

RecordRead read_record(std::string_view text, const Tables& tables, const Survey* survey) {
  io::SurveyBuild build(tables);
  Record record;
  io::Reader reader(text, &build, &record.extras);
  if (reader.read(io::kRecord, record, "record")) io::check_record(reader, build, record, survey);
  RecordRead result;
  result.id = record.id;
  if (reader.fault_count() == 0)
    result.record = std::move(record);
  else
    result.faults = io::by_kind(text, "overjoist-record", reader.faults());
  return result;
}

}  // namespace overjoist
