// SPDX-License-Identifier: MIT
#include <cstdio>

#include "overjoist/assembly.hpp"

int main() {
  std::printf("%.2f\n", overjoist::squeezed_batt_r(overjoist::r_value(19), overjoist::inches(6.25),
                                                   overjoist::inches(5.5))
                            .us());
}
