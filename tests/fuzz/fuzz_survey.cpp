// SPDX-License-Identifier: MIT
// Any bytes as a survey: the reader gives a survey or faults, never both, never neither, and each
// fault says what and where.
#include <cstdint>
#include <cstdlib>

#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const overjoist::Tables kTables = overjoist::builtin_tables();
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const overjoist::SurveyRead read = overjoist::read_survey(text, kTables);
  if (read.survey.has_value() != read.faults.empty()) std::abort();
  for (const overjoist::Diagnostic& fault : read.faults) {
    const bool last_of_many =
        &fault == &read.faults.back() && fault.message == "and more faults";  // the list ends there
    if (fault.message.empty() || (!last_of_many && (fault.line == 0 || fault.column == 0)))
      std::abort();
  }
  std::string out;
  overjoist::write_faults_text(out, "fuzz", read.faults);
  overjoist::write_rejected_json(out, read.id, read.faults, false);
  return 0;
}
