// SPDX-License-Identifier: MIT
#include <cstdint>

#include "fuzz_assess.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::assess({reinterpret_cast<const char*>(data), size});
  return 0;
}
