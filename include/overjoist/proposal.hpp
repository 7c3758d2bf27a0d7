// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "overjoist/coverage_chart.hpp"
#include "overjoist/units.hpp"

/// What is proposed for an attic, as plain structs: a product or batts, their prices and extras.
namespace overjoist {

/// A product with its label's chart.
struct Product {
  std::string name;
  std::vector<ChartRow> chart;        ///< at least one row
  bool chart_deducts_framing = true;  ///< the chart's coverage already leaves framing out
};

/// Where an extra belongs: the insulation measure, or (safety repairs, sealing, removal) the
/// package alone.
enum class CostPart { insulation, safety, sealing, removal };

struct Extra {
  std::string what;
  double price = 0.0;
  std::optional<CostPart> part{};     ///< not given: insulation, rounding against us
  std::vector<std::string> covers{};  ///< sections whose work this pays for: slopes, knee walls,
                                      ///< lids, which no bag pays for
  bool due = false;                   ///< one of them gets work; put here by `evaluate`
};

struct Labour {
  std::optional<double> price_per_ft2, hours, price_per_hour;
};

/// A batt or board of the product list, laid across the joists.
struct BattProduct {
  std::string name;
  std::string material = "glass-fiber-batt";  ///< id of a row of form batt or board
  Length thickness;                           ///< by its label
  std::optional<Resistance> label_r;          ///< not given: from the material's row
  Area coverage;                              ///< of a package
  std::optional<Mass> package_weight;
  std::optional<double> price;  ///< of a package
  bool faced = false;           ///< refused: what lies on top is unfaced
};

/// Sales tax on the goods, or on labor and extras too.
enum class TaxOn { goods, all };
struct Tax {
  double percent = 0.0;
  TaxOn on = TaxOn::goods;
};

struct Proposal {
  std::string name;                          ///< words of the user's own, in a comparison
  std::string material;                      ///< "" if not given
  std::vector<BattProduct> batts;            ///< laid instead of a blow
  std::optional<double> price_per_board_ft;  ///< of sprayed foam
  std::optional<Product> product;
  std::optional<Mass> bag_net;
  std::optional<double> price_per_bag, waste_percent;
  std::string currency;
  std::optional<Labour> labour;
  std::vector<Extra> extras;
  std::optional<Tax> tax{};  ///< of the survey's `money`; put here by `evaluate`
};

}  // namespace overjoist
