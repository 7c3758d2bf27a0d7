// SPDX-License-Identifier: MIT
// Receipt, rebate packet, counts and ticks, and that no caution of the survey is lost in any face
// of an inspection.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "inspect_fixture.hpp"
#include "overjoist/batch.hpp"
#include "overjoist/report_inspect.hpp"
#include "write/document/page.hpp"
#include "write/parts/inspection.hpp"

using namespace fixtures;

namespace {

const std::filesystem::path kJobs = std::filesystem::path(OVERJOIST_EXAMPLES_DIR) / "inspect";

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

Inspection example(const char* name) {
  PairOutcome outcome = inspect_texts(text_of(kJobs / name / "survey.json"),
                                      text_of(kJobs / name / "record.json"), tables());
  REQUIRE(outcome.inspection);
  return *outcome.inspection;
}

bool holds(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// Every face of an inspection.
struct Faces {
  std::string text, receipt, page, json;
  explicit Faces(const Inspection& in, Units units = Units::us) {
    write_inspection_text(text, in, tables(), {units, false});
    write_receipt_text(receipt, in, tables(), {units, false});
    write_receipt_html(page, in, tables(), units);
    write_inspection_json(json, in, tables(), {units, true});
  }
};

std::string in_one_line(std::string text) {
  std::string out;
  for (const char c : text)
    if (c != '\n' && c != ' ') out += c;
  return out;
}

/// A survey and a record with every text set to `word` where texts may stand.
Inspection worded(const std::string& word) {
  Survey survey = hand_job();
  survey.id = survey.label = word;
  survey.sections[0].name = word;
  survey.proposal->product->name = word;
  survey.hazards = {{"bats", word, "", "", ""}};
  Record record = record_of({built(word, 34, {16.25})});
  record.installer = {word, word, word};
  record.maker = word;
  record.changes = {word};
  record.cleared = {{"bats", "", word, word, "2026-05-06", word}};
  return inspected(survey, record);
}

}  // namespace

// Source: 16 CFR 460.17 (as amended 84 FR 20790, 13 May 2019): loose fill: coverage area, initial
// installed thickness, minimum settled thickness, R-value, number of bags; dated and signed by the
// installer; each part of the house by itself. IECC R303.1.1 and R401.3 (from memory): type,
// manufacturer, R-value; for blown work initial and settled thickness, settled R, installed
// density, coverage area, bags.
TEST_CASE(
    "receipt: every item that the rule asks for stands on it, filled or blank, with the section "
    "that asks") {
  struct Item {
    const char *label, *section;
  };
  constexpr Item kItems[] = {{"coverage area", "16 CFR 460.17"},
                             {"initial installed thickness", "16 CFR 460.17"},
                             {"minimum settled thickness", "16 CFR 460.17"},
                             {"R-value of the new product", "16 CFR 460.17"},
                             {"number of bags", "16 CFR 460.17"},
                             {"installer", "16 CFR 460.17"},
                             {"date", "16 CFR 460.17"},
                             {"type", "IECC R303.1.1"},
                             {"manufacturer", "IECC R303.1.1"},
                             {"installed density", "IECC R303.1.1"},
                             {"coverage area", "IECC R303.1.1"},
                             {"number of bags", "IECC R303.1.1"},
                             {"initial installed thickness", "IECC R303.1.1"},
                             {"minimum settled thickness", "IECC R303.1.1"},
                             {"R-value of the new product", "IECC R303.1.1"}};
  for (const char* name : {"pass", "fluffed", "tag-only"}) {
    CAPTURE(name);
    const Inspection in = example(name);
    const Faces faces(in);
    for (const ReceiptPart& part : in.receipt.parts) {
      std::vector<io::ReceiptLine> lines = io::receipt_head(in, Units::us);
      for (const io::ReceiptLine& line : io::receipt_lines(part, Units::us)) lines.push_back(line);
      for (const Item& item : kItems) {
        CAPTURE(item.label);
        const auto at = std::find_if(lines.begin(), lines.end(), [&](const io::ReceiptLine& l) {
          return l.label == item.label;
        });
        REQUIRE(at != lines.end());
        CHECK(at->section.find(item.section) != std::string_view::npos);
        CHECK((!at->value.empty() || !at->blank.empty()));
        CHECK(holds(faces.receipt, item.label));
        CHECK(holds(faces.page, item.label));
      }
    }
    for (const std::string* face : {&faces.receipt, &faces.page}) {
      CHECK(holds(*face, "signature of the installer"));
      CHECK(holds(*face, "date signed"));
    }
  }
}

// Hand derivation: 35 bags on 600 ft2 at 16.25 in.: R-50 of the chart, settled 13 in.,
// density 1.4·12/16.25 = 1.0338 lb/ft3.
TEST_CASE("receipt: a part is filled from bags, depth and chart") {
  Record record = record_of({built("floor", 35, {16.25})});
  record.date = "2026-05-06";
  const ReceiptPart p = inspected(hand_job(), record).receipt.parts[0];
  near(p.initial->us(), 16.25, kNoise);
  near(p.settled->us(), 13, 1e-6);
  near(p.r->us(), 50, 1e-6);
  CHECK(*p.bags == 35);
  near(p.density->us(), 1.0338, 5e-5);
}

// Hand derivation: over 4 in. of old cellulose the new layer alone stands on the receipt; what was
// there is a line of its own, and the working R of both together stands nowhere on it.
TEST_CASE(
    "receipt: its R is that of the new product, the existing R stands apart and is never added") {
  const Survey survey = hand_survey({loose_section({4, 4})});
  const TopUp plan = run(survey).planned.high.sections[0];
  const Inspection in =
      inspected(survey, record_of({built("flat", *plan.bags, {plan.initial_level->us()})}));
  const ReceiptPart& p = in.receipt.parts[0];
  near(p.initial->us(), plan.initial_level->us() - 4, kNoise);
  near(p.r->us() + p.existing.us(), in.sections[0].built->working.us(),
       1e-6);  // even layers in series
  const std::string sum = io::r_text(in.sections[0].built->working, Units::us),
                    own = io::r_text(*p.r, Units::us), old = io::r_text(p.existing, Units::us);
  const Faces faces(in);
  for (const std::string* face : {&faces.receipt, &faces.page}) {
    CHECK_FALSE(holds(*face, sum));
    CHECK(holds(*face, own));
    CHECK(holds(*face, old));
  }
}

// Source: 16 CFR 460.17: do not add up the coverage areas or R-values of parts. Here 600 and 300
// ft2, R-50 each, 53 bags together.
TEST_CASE("receipt: parts of the house are never summed") {
  Record r = record_of({built("a", {}, {16.25}), built("b", {}, {16.25})});
  r.bags = 53;
  const Inspection in = inspected(hand_survey({bare_section("a", 600), bare_section("b", 300)}), r);
  REQUIRE(in.receipt.parts.size() == 2);
  CHECK_FALSE(in.receipt.parts[0].bags.has_value());  // counted together: a blank in each part
  CHECK(in.receipt.parts[0].blank_bags == "counted-together");
  near(*in.receipt.bags_together, 53, kNoise);
  const Faces faces(in);
  CHECK_FALSE(holds(faces.receipt, "900 ft2"));
  CHECK_FALSE(holds(faces.page, "900 ft2"));
  CHECK_FALSE(holds(faces.receipt, "R-100"));
  CHECK(holds(faces.receipt, "53 bags were counted for the parts together."));
}

// Source: 16 CFR 460.17: do not multiply the R-value for one inch by the number of inches. Without
// a chart the R stays blank.
TEST_CASE("receipt: without a chart the R is a labelled blank") {
  const Survey survey = survey_of({bare_section("floor", 600)}, 38, 38);
  const TopUp plan = run(survey).planned.high.sections[0];
  Record record = record_of({built("floor", *plan.bags, {plan.initial_level->us()})});
  record.bag_net = Mass::from_us(25);  // what the plan took for want of one
  const Inspection in = inspected(survey, record);
  CHECK(in.verdict == BuiltVerdict::pass);
  CHECK_FALSE(in.receipt.parts[0].r.has_value());
  CHECK_FALSE(in.receipt.parts[0].settled.has_value());
  CHECK(in.receipt.parts[0].blank_r == "no-chart");
  CHECK(assumes(in, "built-no-chart"));
  std::string text;
  write_receipt_text(text, in, tables(), {});
  CHECK(holds(text, "R-value of the new product      ____________ (no coverage chart"));
  CHECK_FALSE(holds(text, "R-38"));
}

// Invariant: what was not recorded is a blank that says why, never a guess.
TEST_CASE("receipt: each blank says why it is one") {
  const auto part = [](std::optional<double> bags, const std::vector<double>& depths,
                       std::optional<DepthKind> kind) {
    return inspected(hand_job(), record_of({built("floor", bags, depths)}, kind)).receipt.parts[0];
  };
  CHECK(part(35, {}, {}).blank_initial == "not-read");
  CHECK(part(35, {16.25}, {}).blank_initial == "kind-unknown");
  CHECK(part(35, {13}, DepthKind::settled).blank_initial == "settled-read");
  const ReceiptPart depth_only = part({}, {16.25}, DepthKind::initial);
  CHECK(depth_only.blank_r == "no-bags");  // depth alone can be air
  CHECK(depth_only.blank_bags == "not-counted");
  CHECK(depth_only.blank_density == "bags-and-depth");
  near(part(35, {}, {}).r->us(), 50, 1e-6);
}

// Invariant: every caution of the survey's own result stands in the inspection, and in every face
// of it; stop ones above the numbers.
TEST_CASE("inspect: no caution of the survey is lost in any face") {
  Survey survey = hand_survey({bare_section("a", 600), loose_section({3, 4, 5})});
  for (const CautionRow& row : tables().cautions)
    for (const std::string& kind : row.hazard_kinds)
      survey.hazards.push_back({kind, "here", "", "", ""});
  survey.sections.push_back(hatch_section(10, 2));
  Record record = record_of({built("a", 35, {16.25})});
  record.cleared = {{"bats", "here", "A. Rigg", "warden", "2026-05-06", "note 3"}};
  const Inspection in = inspected(survey, record);
  CHECK(in.stopped());
  Survey cleared = survey;
  for (Hazard& h : cleared.hazards)
    if (h.kind == "bats") h = {"bats", "here", "A. Rigg, warden", "2026-05-06", "note 3"};
  const Faces faces(in);
  const auto json = nlohmann::json::parse(faces.json);
  CHECK(json["cautions"].size() == in.findings.cautions.size());
  std::string csv;
  write_inspection_csv(csv, in, tables(), {}, false);
  for (const Caution& c : run(cleared).findings.cautions) {
    const CautionRow& row = tables().cautions[c.row];
    CAPTURE(row.code);
    const auto same = [&](const Caution& x) {
      return x.row == c.row && x.where == c.where && x.level == c.level && x.cleared == c.cleared;
    };
    CHECK(std::any_of(in.findings.cautions.begin(), in.findings.cautions.end(), same));
    const std::string first =
        in_one_line(c.text(row).substr(0, c.text(row).find_first_of(".{:'&<>\"")));
    CHECK(holds(in_one_line(faces.text),
                row.level == CautionLevel::stop ? in_one_line(row.brief) : first));
    CHECK(holds(in_one_line(faces.receipt), first));
    CHECK(holds(in_one_line(faces.page), first));
    CHECK(holds(csv, row.code));
  }
  CHECK(std::is_sorted(in.findings.cautions.begin(), in.findings.cautions.end(),
                       [](const Caution& a, const Caution& b) {
                         return a.level != b.level ? a.level < b.level : a.row < b.row;
                       }));
}

// Hand derivation: a hazard that the record clears by person, trade, date and paper no longer
// stops; one without a paper does.
TEST_CASE("inspect: a hazard is cleared by paper and trade, else it stops") {
  Survey survey = hand_job();
  survey.hazards = {{"bats", "north", "", "", ""}, {"bats", "south", "", "", ""}};
  Record record = record_of({built("floor", 35, {16.25})});
  CHECK(inspected(survey, record).stopped());
  record.cleared = {{"bats", "north", "A. Rigg", "wildlife warden", "2026-05-06", "note 3"}};
  const Inspection one = inspected(survey, record);
  CHECK(one.stopped());
  CHECK(one.totals.hazards_open == 1);
  CHECK(one.hazards[0].trade == "wildlife warden");
  record.cleared[0].where.clear();  // which of the two? none is cleared, and it is said
  const Inspection neither = inspected(survey, record);
  CHECK(neither.stopped());
  CHECK(neither.totals.hazards_open == 2);
  CHECK(assumes(neither, "built-clearance-unplaced"));
  survey.hazards.pop_back();  // the only one of its kind
  CHECK_FALSE(inspected(survey, record).stopped());
}

// Hand derivation: 600 ft2 take 2 markers, and no more than that is asked: no eave is known, no
// dam, cover or flag is needed.
TEST_CASE("inspect: counts are held against the plan's") {
  Record record = record_of({built("floor", 35, {16.25})});
  const auto state = [&](std::string_view item) {
    const Inspection in = inspected(hand_job(), record);
    return std::find_if(in.counts.begin(), in.counts.end(),
                        [&](const CountCheck& c) { return c.item == item; })
        ->state;
  };
  CHECK(state("markers") == CountState::not_counted);
  record.counts.markers = 1;
  CHECK(state("markers") == CountState::short_of);
  record.counts.markers = 2;
  CHECK(state("markers") == CountState::met);
  CHECK(state("baffles") == CountState::plan_unknown);
  CHECK(state("dams") == CountState::none_needed);
}

// Invariant: a tick without a place is for one of the kind; what was sealed beside the plan is
// listed too.
TEST_CASE("inspect: sealing is ticked off by kind and place") {
  Survey survey = hand_job();
  survey.sections[0].bypasses = {{"plumbing-stack", "bath", 1, {}, {}, {}, false},
                                 {"plumbing-stack", "kitchen", 1, {}, {}, {}, false}};
  Record record = record_of({built("floor", 35, {16.25})});
  record.sealed = {{"plumbing-stack", "bath"}, {"wire-hole", "hall"}};
  const Inspection in = inspected(survey, record);
  REQUIRE(in.sealing.size() == 3);
  CHECK(in.totals.seals_open == 1);
  CHECK_FALSE(in.sealing[2].planned);
  record.sealed = {{"plumbing-stack", ""}};
  CHECK(inspected(survey, record).totals.seals_open == 1);
  record.sealed = {{"plumbing-stack", ""}, {"plumbing-stack", "bath"}};
  CHECK(inspected(survey, record).totals.seals_open == 0);
}

// Hand derivation: bags and depths of the record are papers by themselves; the rest must be listed.
// found, so the working R is 0.
TEST_CASE(
    "rebate packet: papers are have or missing, and the rule is held against what was built") {
  Survey survey = hand_survey({loose_section({8, 8}, "glass-fiber-loose")});
  RebateRule rule;
  rule.name = "invented";
  rule.final_least = r_value(49);
  rule.brackets = {{r_value(0), r_value(30), 0.5, {}}};
  rule.papers = {"bag-count", "depth-readings", "itemized-invoice", "bag-photos"};
  survey.rebates = {rule};
  survey.papers = {"itemized-invoice"};
  const TopUp plan = run(survey).planned.high.sections[0];
  Record record = record_of({built("flat", *plan.bags, {plan.initial_level->us()})});
  const auto packet = [&] { return inspected(survey, record).rebates[0]; };
  const auto have = [](const RebatePacket& p, std::string_view paper) {
    return std::find_if(p.papers.begin(), p.papers.end(),
                        [&](const PaperCheck& c) { return c.paper == paper; })
        ->have;
  };
  CHECK(have(packet(), "bag-count"));
  CHECK(have(packet(), "depth-readings"));
  CHECK(have(packet(), "itemized-invoice"));
  CHECK_FALSE(have(packet(), "bag-photos"));
  CHECK(packet().built->verdict ==
        RebateVerdict::too_close);  // one reading's worth: the range of the old fill holds R-49
  record.sections[0].bags = 0.6 * *plan.bags;
  CHECK(packet().built->verdict == RebateVerdict::not_eligible);
  record.sections.clear();
  CHECK_FALSE(packet().built.has_value());
  CHECK_FALSE(have(packet(), "bag-count"));
}

// Invariant: text of survey and record is never markup, control or formula, in any face.
TEST_CASE("inspect: texts of the files cannot steer what shows them") {
  const Inspection in = worded("=<b>\x1b[31m\"x\"&\n,");
  const Faces faces(in);
  for (const std::string* face : {&faces.text, &faces.receipt, &faces.page})
    CHECK_FALSE(holds(*face, "\x1b"));
  CHECK_FALSE(holds(faces.page, "<b>"));
  CHECK(nlohmann::json::parse(faces.json)["label"] == "=<b>\x1b[31m\"x\"&\n,");
  std::string csv;
  write_inspection_csv(csv, in, tables(), {}, false);
  CHECK(holds(csv, "\"'=<b>"));
}

// Common practice: 80 columns; whatever the units and the length of the texts.
TEST_CASE("inspect: text and receipt keep to 80 columns") {
  for (const Units units : {Units::us, Units::si})
    for (const Inspection& in : {example("pass"), example("fluffed"), example("tag-only"),
                                 worded(std::string(120, 'w'))}) {
      const Faces faces(in, units);
      for (const std::string* face : {&faces.text, &faces.receipt})
        for (std::size_t from = 0; from < face->size();) {
          const std::size_t to = std::min(face->find('\n', from), face->size());
          CHECK(io::columns(std::string_view(*face).substr(from, to - from)) <= 80);
          from = to + 1;
        }
    }
}

// Invariant: a row has as many cells as its head, done or refused.
TEST_CASE("inspect: every row of the table has the cells of its head") {
  const auto cells = [](std::string_view row) {
    bool quoted = false;
    int n = 1;
    for (const char c : row) {
      quoted = quoted != (c == '"');
      n += c == ',' && !quoted ? 1 : 0;
    }
    return n;
  };
  std::string head, done, rejected;
  write_inspection_csv_header(head);
  write_inspection_csv(done, example("fluffed"), tables(), {"s", "r"}, false);
  write_rejected_pair_csv(rejected, "id", {{"/a", 1, 1, "wrong, so", ""}}, {"s", "r"}, false);
  CHECK(cells(done) == cells(head));
  CHECK(cells(rejected) == cells(head));
}

// Hand derivation: what each example was made to show; the chart of tag-only settles by a fifth: 16
// in. initial is 12.8 in. settled, R = 38 + (12.8 - 12.4)/3.6·11 = 39.22.
TEST_CASE("inspect: the examples end in three different verdicts") {
  CHECK(example("pass").verdict == BuiltVerdict::pass);
  const Inspection fluffed = example("fluffed");
  CHECK(fluffed.verdict == BuiltVerdict::fluffed);
  CHECK(fluffed.sections[1].verdict == BuiltVerdict::pass);
  CHECK(fluffed.saving_built->heat < fluffed.saving_planned->heat);
  const Inspection tag = example("tag-only");
  CHECK(tag.verdict == BuiltVerdict::not_judged);
  near(*tag.tag[0].found, 39.2222, 5e-5);
  CHECK(tag.tag[0].verdict == ClaimVerdict::disagrees);
}

// Invariant: same input, same bytes; a bad pair gives faults that say of which file they are.
TEST_CASE("inspect: a pair with a fault is refused with all faults of both files") {
  CHECK(Faces(example("pass")).json == Faces(example("pass")).json);
  const PairOutcome bad =
      inspect_texts("{\"format\": \"overjoist-survey\"}", "{\"bags\": -1}", tables());
  CHECK_FALSE(bad.inspection.has_value());
  CHECK(bad.survey_faults.size() == 2);
  CHECK(bad.record_faults.size() == 3);
}
