// SPDX-License-Identifier: MIT
// The library from a program of one's own: read a survey, evaluate it, use the numbers.
#include <fstream>
#include <iostream>
#include <iterator>

#include "overjoist/batch.hpp"

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  std::ifstream file(argv[1]);
  const std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  const overjoist::Tables tables = overjoist::builtin_tables();
  const overjoist::Outcome outcome = overjoist::assess_text(text, tables);
  if (!outcome.evaluation) {
    for (const auto& fault : outcome.faults)
      std::cerr << fault.pointer << ": " << fault.message << "\n";
    return 3;
  }
  std::cout << "effective R " << outcome.evaluation->attic.existing.effective_r.us()
            << " h ft2 F/Btu\n";
}
