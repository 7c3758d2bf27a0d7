// SPDX-License-Identifier: MIT
#include "overjoist/record_json.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "overjoist/clearing.hpp"
#include "read/kind.hpp"
#include "read/shapes.hpp"
#include "words/nearest.hpp"
#include "words/survey_words.hpp"

// The keys of a record as tables, read by json_reader; data/record.schema.json says the same.
namespace overjoist {
namespace io {
namespace {

using enum Dimension;

constexpr std::size_t kLongText = 20000;  // characters
constexpr Bounds kBags = from(0, 1e5), kCount = from(0, 1e5);

/// A text that must be a day.
template <auto M>
void set_day(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (is_date(*v.text))
    object.*M = std::move(*v.text);
  else
    r.fault(fmt::format("date {} is not a day; allowed: YYYY-MM-DD", r.token()),
            "write the day as 2026-04-30");
}
template <auto M>
constexpr Field<OwnerOf<M>> day_field(std::string_view key, bool required = false) {
  return set_by<set_day<M>>({.key = key, .kinds = kText, .required = required});
}

template <auto M>
void set_hazard(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (r.word(*v.text, r.user<SurveyBuild>().hazard_kinds, "kind")) object.*M = std::move(*v.text);
}
template <auto M>
void set_bypass(Reader& r, OwnerOf<M>& object, Scalar& v) {
  if (r.word(*v.text, r.user<SurveyBuild>().bypass_kinds, "kind")) object.*M = std::move(*v.text);
}
void set_paper(Reader& r, Record& record, Scalar& v) {
  if (r.word(*v.text, kPapers, "papers")) record.papers.push_back(std::move(*v.text));
}

// What was done in a section

void set_plain_depth(Reader& r, RecordSection& section, Scalar& v) {
  set_depth(r, open_member(section.depths), v);
}

constexpr auto kDepthFields = fields_of<Reading>({
    set_by<set_depth>({.key = "depth", .kinds = kNumber | kText, .required = true}),
    number_field<&Reading::share>("share", kReadingShare),
    text_field<&Reading::where>("where", kLineText),
});
constexpr Shape<Reading> kDepth{kDepthFields};
constexpr Field<RecordSection> kDepthElement = or_object<&RecordSection::depths>(
    set_by<set_plain_depth>({.key = "depth", .kinds = kNumber | kText}), kDepth);

/// Shares: all or none, adding to 1 (model 1).
void finish_section(Reader& r, const RecordSection& section, const Seen& seen) {
  constexpr double kShareSlack = 0.01;
  const auto& depths = section.depths;
  const auto given =
      std::count_if(depths.begin(), depths.end(), [](const Reading& d) { return d.share >= 0; });
  if (!seen.has("depths") || given == 0) return;
  double sum = 0.0;
  for (const Reading& d : depths) sum += d.share;
  if (static_cast<std::size_t>(given) < depths.size())
    r.fault_of("depths",
               fmt::format("{} of {} depths carry a share of the area", given, depths.size()),
               "give a share to all of them or to none");
  else if (std::fabs(sum - 1.0) > kShareSlack)
    r.fault_of("depths",
               fmt::format("the shares of the depths add to {:.4g}; allowed: 1 within {:g}", sum,
                           kShareSlack),
               "shares are fractions of the section's area");
}
constexpr auto kSectionFields = fields_of<RecordSection>({
    text_field<&RecordSection::name>("name", kNameText, true),
    number_field<&RecordSection::bags>("bags", kBags),
    array_field("depths", kDepthElement, 1, 100000),
    quantity_field<&RecordSection::area>("area_ft2", area, kSectionArea),
    flag_field<&RecordSection::done>("done"),
    quantity_field<&RecordSection::insulation_r>("insulation_r", resistance, from(0, 200)),
    flag_field<&RecordSection::weatherstripped>("weatherstripped"),
    flag_field<&RecordSection::latched>("latched"),
});
constexpr Shape<RecordSection> kSection{kSectionFields, finish_by<finish_section>};
constexpr Field<Record> kSectionElement = object_field<&Record::sections>("section", kSection);

// Who, tag, counts, ticks

constexpr auto kInstallerFields = fields_of<Installer>({
    text_field<&Installer::name>("name", kLineText, true),
    text_field<&Installer::address>("address", kLineText),
    text_field<&Installer::license>("license", kLineText),
});
constexpr Shape<Installer> kInstaller{kInstallerFields};

void finish_tag(Reader& r, const TagClaim&, const Seen& seen) {
  if (!seen.has("r") && !seen.has("initial_in") && !seen.has("settled_in") && !seen.has("bags"))
    r.fault("the tag says nothing", "give what it says: r, initial_in, settled_in or bags");
}
constexpr auto kTagFields = fields_of<TagClaim>({
    quantity_field<&TagClaim::r>("r", resistance, kPositiveR),
    quantity_field<&TagClaim::initial>("initial_in", length, kThickness),
    quantity_field<&TagClaim::settled>("settled_in", length, kThickness),
    number_field<&TagClaim::bags>("bags", kBags),
});
constexpr Shape<TagClaim> kTag{kTagFields, finish_by<finish_tag>};

constexpr auto kCountFields = fields_of<RecordCounts>({
    whole_field<&RecordCounts::markers>("markers", kCount),
    whole_field<&RecordCounts::baffles>("baffles", kCount),
    whole_field<&RecordCounts::dams>("dams", kCount),
    whole_field<&RecordCounts::covers>("covers", kCount),
    whole_field<&RecordCounts::flags>("flags", kCount),
});
constexpr Shape<RecordCounts> kCounts{kCountFields};

constexpr auto kTickFields = fields_of<SealTick>({
    set_by<set_bypass<&SealTick::kind>>({.key = "kind", .kinds = kText, .required = true}),
    text_field<&SealTick::where>("where", kLineText),
});
constexpr Shape<SealTick> kTick{kTickFields};
constexpr Field<Record> kTickElement = object_field<&Record::sealed>("bypass", kTick);

constexpr auto kClearedFields = fields_of<ClearedHazard>({
    set_by<set_hazard<&ClearedHazard::kind>>({.key = "kind", .kinds = kText, .required = true}),
    text_field<&ClearedHazard::where>("where", kLineText),
    text_field<&ClearedHazard::by>("by", kLineText, true),
    text_field<&ClearedHazard::trade>("trade", kLineText, true),
    day_field<&ClearedHazard::date>("date", true),
    text_field<&ClearedHazard::paper>("paper", kLineText, true),
});
constexpr Shape<ClearedHazard> kCleared{kClearedFields};
constexpr Field<Record> kClearedElement = object_field<&Record::cleared>("hazard", kCleared);

// The whole

void set_format(Reader& r, Record&, Scalar& v) {
  if (*v.text != "overjoist-record")
    r.fault(fmt::format("format {} is not known; a record is \"overjoist-record\"", r.token()),
            *v.text == "overjoist-survey" ? "the survey comes first, the record second"
                                          : "check that this file is a record");
}
void set_version(Reader& r, Record&, Scalar& v) {
  if (v.number != 1)
    r.fault(fmt::format("version {} is not known; this program reads version 1", r.raw()),
            "use a program that knows this version");
}
void finish_record(Reader& r, const Record&, const Seen& seen) {
  if (seen.has("product") && !seen.has("bag_net_lb"))
    r.fault("bag_net_lb is missing", "a product needs the net weight of its bag, from the label");
  if (seen.has("maker") && !seen.has("product"))
    r.fault_of("maker", "maker is given, but no product",
               "name the product with its chart, or leave maker out");
}

constexpr Field<Record> kChangeElement = text_field<&Record::changes>("change", kLineText);
constexpr Field<Record> kPaperElement = set_by<set_paper>({.key = "paper", .kinds = kText});
constexpr auto kRecordFields = fields_of<Record>({
    set_by<set_format>(
        {.key = "format",
         .kinds = kText,
         .most = kLineText,
         .required = true,
         .hint = "start the file with \"format\": \"overjoist-record\", \"version\": 1"}),
    set_by<set_version>({.key = "version",
                         .kinds = kNumber,
                         .required = true,
                         .hint = "write \"version\": 1 after the format"}),
    text_field<&Record::id>("id", kLineText),
    text_field<&Record::survey>("survey", kLineText),
    text_field<&Record::notes>("notes", kLongText),
    day_field<&Record::date>("date"),
    object_field<&Record::installer>("installer", kInstaller),
    word_field<&Record::sold>("sold", kWords<SoldEnd>),
    text_field<&Record::material>("material", kIdText),
    text_field<&Record::maker>("maker", kNameText),
    object_field<&Record::product>("product", kProductShape),
    quantity_field<&Record::bag_net>("bag_net_lb", mass, kBagNet),
    quantity_field<&Record::waste_percent>("waste_percent", percent, from(0, 100)),
    number_field<&Record::bags>("bags", kBags),
    word_field<&Record::depths_are>("depths_are", kWords<DepthKind>),
    array_field("sections", kSectionElement, 0, 200),
    object_field<&Record::tag>("tag", kTag),
    object_field<&Record::counts>("counts", kCounts),
    array_field("sealed", kTickElement, 0, 500),
    array_field("cleared", kClearedElement, 0, 500),
    array_field("changes", kChangeElement, 0, 100),
    array_field("papers", kPaperElement, 0, 100),
});
constexpr Shape<Record> kRecord{kRecordFields, finish_by<finish_record>};

// Held against the survey

/// A key of the record's section that belongs to other kinds of section.
struct WrongKey {
  bool wrong;
  std::string_view key, whose;
};

void check_section(Reader& r, const RecordSection& given, const Section& section,
                   const std::string& at) {
  const bool floor = is_floor(section.kind), lid = is_lid(section.kind);
  const WrongKey keys[] = {
      {given.bags && !floor, "bags", "a floor"},
      {!given.depths.empty() && !floor, "depths", "a floor"},
      {given.done && floor, "done", "a slope, a knee wall or a lid"},
      {given.insulation_r && !lid, "insulation_r", "a hatch or a pull-down stair"},
      {given.weatherstripped && !lid, "weatherstripped", "a hatch or a pull-down stair"},
      {given.latched && !lid, "latched", "a hatch or a pull-down stair"}};
  for (const WrongKey& k : keys)
    if (k.wrong)
      r.fault_at(fmt::format("{}/{}", at, k.key), fmt::format("{} is for {} only", k.key, k.whose),
                 floor ? "give bags and depths of a floor" : "leave it out");
}

void check_sections(Reader& r, const Record& record, const Survey& survey) {
  std::vector<std::string_view> names;
  for (const Section& s : survey.sections) names.push_back(s.name);
  for (std::size_t i = 0; i < record.sections.size(); ++i) {
    const RecordSection& given = record.sections[i];
    const std::string at = fmt::format("/sections/{}", i);
    const auto section = std::find_if(survey.sections.begin(), survey.sections.end(),
                                      [&](const Section& s) { return s.name == given.name; });
    if (section != survey.sections.end()) {
      check_section(r, given, *section, at);
      continue;
    }
    if (given.name.empty()) continue;
    const std::string_view near = nearest_name(given.name, names);
    r.fault_at(at + "/name", fmt::format("the survey has no section \"{}\"", shortened(given.name)),
               near.empty() ? "give the name as it stands in the survey"
                            : fmt::format("did you mean \"{}\"?", near));
  }
}

void check_cleared(Reader& r, const Record& record, const Survey& survey, const Tables& tables) {
  const std::vector<Hazard> implied = implied_hazards(survey, tables);
  for (std::size_t i = 0; i < record.cleared.size(); ++i) {
    const ClearedHazard& c = record.cleared[i];
    const auto is = [&](const Hazard& h) {
      return h.kind == c.kind && (c.where.empty() || h.where == c.where);
    };
    const bool known = std::any_of(survey.hazards.begin(), survey.hazards.end(), is) ||
                       std::any_of(implied.begin(), implied.end(), is);
    if (!known && !c.kind.empty())
      r.fault_at(fmt::format("/cleared/{}", i),
                 fmt::format("the survey has no hazard {}{}", c.kind,
                             c.where.empty() ? "" : " at \"" + shortened(c.where) + "\""),
                 "give kind and where as they stand in the survey; say what was found beside it "
                 "under changes");
  }
}

/// A whole count below that of its parts.
void check_bags(Reader& r, const Record& record) {
  double sum = 0.0;
  for (const RecordSection& s : record.sections) sum += s.bags.value_or(0.0);
  if (record.bags && !reaches(*record.bags, sum))
    r.fault_at("/bags",
               fmt::format("the sections count {:g} bag{}, the whole job {:g}", sum,
                           sum == 1 ? "" : "s", *record.bags),
               "count again; bags is the whole job, its sections among it");
}

/// What needs no survey: a section that is named twice.
void check_twins(Reader& r, const std::vector<RecordSection>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const auto here = sections.begin() + static_cast<std::ptrdiff_t>(i);
    const bool twin = std::any_of(sections.begin(), here,
                                  [&](const RecordSection& s) { return s.name == here->name; });
    if (twin && !here->name.empty())
      r.fault_at(fmt::format("/sections/{}/name", i),
                 fmt::format("section \"{}\" stands twice", shortened(here->name)),
                 "join both entries");
  }
}

/// Product, material and bag of the record, each at its own key; what the survey says of them was
/// checked with the survey.
void check_fill(Reader& r, SurveyBuild& build, const Record& record) {
  const auto used = used_proposal(build.survey, record);
  if (!used || !used->batts.empty()) return;
  const bool other_material = !record.material.empty() && !used->product;
  if (record.product || other_material) return check_proposal(r, build, *used, "");
  if (!record.bag_net || !used->product) return;
  Reader of_survey("", &build);  // the survey's chart with the record's bag: the fault is the bag's
  check_proposal(of_survey, build, *used, "");
  if (of_survey.fault_count() == 0) return;
  r.fault_at("/bag_net_lb", "against the survey's chart: " + of_survey.faults().front().message,
             "check the weight; if another product was used, give it with its chart");
}

void check_record(Reader& r, SurveyBuild& build, const Record& record, const Survey* survey) {
  const bool fill_clean = r.clean("/material") && r.clean("/product") && r.clean("/bag_net_lb");
  check_twins(r, record.sections);
  check_bags(r, record);
  if (survey) {
    build.survey = *survey;
    check_sections(r, record, *survey);
    check_cleared(r, record, *survey, *build.tables);
    if (!record.survey.empty() && record.survey != survey->id)
      r.fault_at("/survey",
                 fmt::format("the record is of survey \"{}\", but this survey is \"{}\"",
                             shortened(record.survey), shortened(survey->id)),
                 "pair each record with its own survey");
  }
  if (fill_clean && (!record.product || record.bag_net)) check_fill(r, build, record);
}

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
