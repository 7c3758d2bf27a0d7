// SPDX-License-Identifier: MIT
// The bytes stand where a product's coverage chart does, so that charts are reached without luck.
#include <cstdint>

#include "fuzz_assess.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string survey = R"({"format": "overjoist-survey", "version": 1,
 "sections": [{"name": "a", "kind": "flat", "area_ft2": 100,
"layers": [{"material": "cellulose-loose"}], "readings": [0, 3, "4 to 6"]}],
 "proposal": {"bag_net_lb": 25, "product": {"name": "invented", "chart": )";
  survey.append(reinterpret_cast<const char*>(data), size);
  survey += "}}}";
  fuzz::assess(survey);
  return 0;
}
