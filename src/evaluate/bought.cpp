// SPDX-License-Identifier: MIT
#include "evaluate/bought.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "overjoist/quantities.hpp"

// What a whole job buys.
namespace overjoist::parts {
namespace {

/// Whole packages by product, and their price.
void add_packages(Goods& g, const std::vector<const TopUp*>& tops, const Blow& blow) {
  g.price = 0.0;
  for (const BattProduct& p : blow.products) {
    PackageCount n{p.name, 0.0, 0.0};
    for (const TopUp* t : tops)
      for (const LaidLayer& layer : t->batts)
        if (layer.name == p.name) n.exact += layer.packages_exact;
    if (!(n.exact > 0)) continue;
    n.count = round_up(n.exact, 1.0);
    g.price = g.price && p.price ? std::optional(*g.price + *p.price * n.count) : std::nullopt;
    g.packages.push_back(n);
  }
}

}  // namespace

Goods goods_of(const std::vector<const TopUp*>& tops, const Blow& blow) {
  Goods g;
  double board_ft = 0.0;
  g.bags = 0.0;
  for (const TopUp* t : tops) {
    g.bags = g.bags && t->bags_exact ? std::optional(*g.bags + *t->bags_exact) : std::nullopt;
    board_ft += t->board_ft_exact.value_or(0.0);
  }
  if (g.bags) g.bags = round_up(*g.bags, 1.0);
  if (blow.method == Method::blown) {
    if (g.bags && blow.price_per_bag) g.price = *g.bags * *blow.price_per_bag;
  } else if (blow.method == Method::sprayed) {
    g.board_ft = round_up(board_ft, 1.0);
    if (blow.price_per_board_ft) g.price = *g.board_ft * *blow.price_per_board_ft;
  } else {
    add_packages(g, tops, blow);
  }
  return g;
}

}  // namespace overjoist::parts
