// SPDX-License-Identifier: MIT
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
    r.fault(make_fault<F::joist_size>(r.token()));
}
void finish_joists(Reader& r, const Joists&, const Seen& seen) {
  const bool width = seen.has("width_in"), depth = seen.has("depth_in");
  if (seen.has("size") && (width || depth))
    r.fault(make_fault<F::joist_size_twice>());
  else if (width != depth)
    r.fault(
        make_fault<F::missing_partner>(width ? "depth_in" : "width_in", "width_in", "depth_in"));
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
