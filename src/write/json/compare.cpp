// SPDX-License-Identifier: MIT
#include "write/json/compare.hpp"

#include "words/words.hpp"
#include "write/json/parts.hpp"

namespace overjoist::io {
namespace {

void write_packages(JsonWriter& w, const std::vector<PackageCount>& packages) {
  w.objects("packages", packages, [&](const PackageCount& n) {
    w.field("name", n.name);
    w.field("count", n.count);
    w.field("exact", n.exact);
  });
}

void write_end(JsonWriter& w, std::string_view key, const CompareEnd& end) {
  w.object(key, [&] {
    w.field("status", word(end.status));
    w.field_or_null("limited_by", word(end.limited_by));
    w.field("reached", end.reached);
    w.field_or_null("limited_section", end.limited_section);
    w.field("initial_level_in", end.initial_level);
    w.field("depth_in", end.depth);
    w.field("weight_greatest_psf", end.weight);
    w.field("weight_limit_psf", end.weight_limit);
    w.field("over_weight", end.over_weight);
    w.field("working_r", end.working_r);
    w.field("attic_effective_r", end.effective_r);
    w.field("bags", end.totals.bags);
    write_packages_json(w, end.totals);
    w.field("material_cost", end.totals.material);
    w.field("cost", end.totals.cost);
    w.field("worse", end.totals.worse);
  });
}

}  // namespace

void write_laid_json(JsonWriter& w, const TopUp& t) {
  w.objects("batts", t.batts, [&](const LaidLayer& layer) {
    w.field("name", layer.name);
    w.field("thickness_in", layer.thickness);
    w.field("label_r", layer.label_r);
    w.field("packages_exact", layer.packages_exact);
  });
  w.field("overshoot_r", t.overshoot);
  w.field("board_ft_exact", t.board_ft_exact);
}

void write_packages_json(JsonWriter& w, const Totals& t) {
  write_packages(w, t.packages);
  w.field("board_ft", t.board_ft);
}

void write_compare_json(JsonWriter& w, const Evaluation& e, const Tables& tables) {
  w.objects("compare", e.compare, [&](const CompareRow& row) {
    w.field("name", row.name);
    w.field("method", word(row.method));
    write_ends(row.ends,
               [&](std::string_view key, const CompareEnd& end) { write_end(w, key, end); });
    w.objects("cautions", row.cautions, [&](const Caution& caution) {
      w.field("code", tables.cautions.at(caution.row).code);
      w.field("where", caution.where);
    });
  });
}

}  // namespace overjoist::io
