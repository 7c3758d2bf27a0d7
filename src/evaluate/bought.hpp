// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "evaluate/offer.hpp"
#include "overjoist/evaluation.hpp"

/// Packages of a whole job.
namespace overjoist::parts {

/// What a whole job buys, rounded up over all of it.
struct Goods {
  std::optional<double> bags;          ///< empty: not known
  std::optional<double> board_ft;      ///< of a spray
  std::vector<PackageCount> packages;  ///< in the order of the list
  std::optional<double> price;         ///< empty: not priced
};

/// @param tops  of the sections that take new fill
Goods goods_of(const std::vector<const TopUp*>& tops, const Blow& blow);

}  // namespace overjoist::parts
