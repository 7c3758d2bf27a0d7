// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/quantities.hpp"

/// What is added: one proposal, ready for the solver.
namespace overjoist::parts {

/// One product of the list, or two on top of each other.
struct Stack {
  std::vector<std::size_t> products;  ///< indexes into the list, from below up
  Length thickness;
  Resistance r, r_low,
      r_high;  ///< as printed, and the sides of the range where a table's R stands for a label
  Resistance below_label{};             ///< by which labels may lie too high, of new goods
  std::optional<MassPerArea> weight;    ///< empty: not known
  std::optional<double> price_per_ft2;  ///< before waste
};

/// What is blown in, laid or sprayed, ready for the solver. `chart` must outlive `fill`.
struct Blow {
  Method method = Method::blown;
  std::vector<BattProduct> products;  ///< what is laid, every default filled in
  std::vector<const Material*> rows;  ///< of the products
  std::vector<Stack> stacks;          ///< singles by thickness, price and name, then pairs likewise
  std::optional<double> price_per_board_ft, price_per_bag;
  NewFill fill;
  CoverageChart chart;
  const Material* material = nullptr;  ///< null for a product that names no material
  std::string name;
  Mass bag_net;
  double waste = 0.0;  ///< share
  bool chart_deducts_framing = true;
};

void prepare_blow(Blow& blow, const Proposal& proposal, const Job& job);
/// Sprayed foam; other things are sprayed too, such as damp cellulose.
bool is_foam(const Material& m);

}  // namespace overjoist::parts
