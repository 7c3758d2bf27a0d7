// SPDX-License-Identifier: MIT
// Any bytes as a record: the reader gives a record or faults, never both, never neither, with a
// survey beside it and without.
#include <cstdint>
#include <cstdlib>

#include "overjoist/record_json.hpp"
#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

namespace {

constexpr std::string_view kSurvey = R"({"format": "overjoist-survey", "version": 1, "id": "R-1",
 "sections": [{"name": "attic floor", "kind": "flat", "area_ft2": 900,
"layers": [{"material": "cellulose-loose"}], "readings": [4, 5]},
  {"name": "slope", "kind": "slope", "area_ft2": 100, "layers": []}, {"name": "hatch",
"kind": "hatch", "area_ft2": 5, "insulation_r": 0}],
 "hazards": [{"kind": "knob-and-tube", "where": "north bays"}]})";

void hold(const overjoist::RecordRead& read) {
  if (read.record.has_value() != read.faults.empty()) std::abort();
  for (const overjoist::Diagnostic& fault : read.faults) {
    const bool last_of_many =
        &fault == &read.faults.back() && fault.message == "and more faults";  // the list ends there
    if (fault.message.empty() || (!last_of_many && (fault.line == 0 || fault.column == 0)))
      std::abort();
  }
  std::string out;
  overjoist::write_faults_text(out, "fuzz", read.faults);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const overjoist::Tables kTables = overjoist::builtin_tables();
  static const overjoist::SurveyRead kRead = overjoist::read_survey(kSurvey, kTables);
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  hold(overjoist::read_record(text, kTables));
  hold(overjoist::read_record(text, kTables, &*kRead.survey));
  return 0;
}
