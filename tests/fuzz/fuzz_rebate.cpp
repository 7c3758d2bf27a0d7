// SPDX-License-Identifier: MIT
// Any bytes as a rebate rule: a rule or faults, and a rule that was read can be held against an
// attic.
#include <cstdint>
#include <cstdlib>

#include "overjoist/rebate.hpp"
#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const overjoist::Tables kTables = overjoist::builtin_tables();
  const overjoist::RebateRead read =
      overjoist::read_rebate({reinterpret_cast<const char*>(data), size}, kTables);
  if (read.rule.has_value() != read.faults.empty()) std::abort();
  std::string out;
  overjoist::write_faults_text(out, "fuzz", read.faults);
  if (!read.rule) return 0;
  for (const double existing : {0.0, 11.0, 30.0}) {
    const overjoist::RebateInput input{{overjoist::r_value(existing), {}},
                                       {overjoist::r_value(49), {}},
                                       overjoist::square_feet(900),
                                       1200.0,
                                       ""};
    const overjoist::RebateEnd end = overjoist::hold_rebate(*read.rule, input);
    if (end.amount && !(*end.amount >= 0)) std::abort();
  }
  return 0;
}
