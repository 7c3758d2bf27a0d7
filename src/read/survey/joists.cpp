// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <utility>

#include "overjoist/framing.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The wood of a section: joists of a floor, rafters of a slope, studs of a knee wall.
namespace overjoist::io {
namespace {

using enum Dimension;

void set_size(Reader& r, Joists& joists, Scalar& v) {
  if (actual_size(*v.text))
    joists.size = std::move(*v.text);
  else
    r.fault(fmt::format("size {} is not a nominal lumber size in use; allowed: 2x4, 2x6, 2x8, "
                        "2x10, 2x12, also 3x and 4x",
                        r.token()),
            "for an actual size give width_in and depth_in");
}
void finish_joists(Reader& r, const Joists&, const Seen& seen) {
  const bool width = seen.has("width_in"), depth = seen.has("depth_in");
  if (seen.has("size") && (width || depth))
    r.fault("the joist size is given in more than one way", "give size, or width_in and depth_in");
  else if (width != depth)
    r.fault(width ? "depth_in is missing" : "width_in is missing",
            "width_in and depth_in go together");
}
constexpr auto kJoistFields = fields_of<Joists>({
    set_by<set_size>({.key = "size", .kinds = kText}),
    quantity_field<&Joists::width>("width_in", length, from(0.01, 12)),
    quantity_field<&Joists::depth>("depth_in", length, from(0.1, 24)),
    quantity_field<&Joists::spacing>("spacing_in", length, from(1, 120)),
    number_field<&Joists::framing_fraction>("framing_fraction", from(0, 0.5)),
    word_field<&Joists::member>("member", kWords<overjoist::Member>),
    quantity_field<&Joists::wood>("wood_r_per_inch", resistivity, from(0.1, 10)),
});

}  // namespace

constinit const Shape<Joists> kJoistsShape{kJoistFields, finish_by<finish_joists>()};

}  // namespace overjoist::io
