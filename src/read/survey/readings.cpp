// SPDX-License-Identifier: MIT
#include <utility>

#include "read/shapes.hpp"

// A depth as it was read in the attic.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr Bounds kDepth = from(0, 120);

/// Both ends of "4 to 6 in.": the first takes the unit of the second if it has none of its own.
void set_span(Reader& r, Reading& reading, std::string_view from_text, std::string_view to_text) {
  const QuantityText to = read_quantity(to_text, length);
  QuantityText low = read_quantity(from_text, length);
  if (!low.ok) return r.fault(no_quantity("depth", from_text, length, low.other_unit));
  if (!to.ok) return r.fault(no_quantity("depth", to_text, length, to.other_unit));
  if (!low.unit_written) {
    low.unit = to.unit;
    low.value = to.unit->to_key(low.number);
  }
  const bool written = low.unit_written || to.unit_written;
  if (!r.within(low.value, kDepth, *low.unit, written, "depth") ||
      !r.within(to.value, kDepth, *to.unit, written, "depth"))
    return;
  reading.depth = inches(low.value);
  reading.depth_to = inches(to.value);
  r.note_unit(written ? to.unit : nullptr, length, kDepth, to.value, "depth");
}

}  // namespace

void set_depth(Reader& r, Reading& reading, Scalar& v) {
  constexpr std::string_view kTo = " to ";
  if (v.kind == kText) {
    if (*v.text == "flush") {
      reading.flush = true;
      return;
    }
    const std::string_view text = *v.text;
    if (const auto to = text.find(kTo); to != std::string_view::npos)
      return set_span(r, reading, text.substr(0, to), text.substr(to + kTo.size()));
  }
  if (const auto depth = r.quantity(v, length, kDepth, "depth"))
    reading.depth = reading.depth_to = inches(*depth);
}

namespace {

void finish_reading(Reader& r, Reading& reading, const Seen& seen) {
  const bool layered = seen.has("depths");
  need_one_way<F::reading_missing, F::reading_twice>(r, std::size_t{layered} + seen.has("depth"));
  if (!layered) return;
  reading.depth = Length{};
  for (Length d : reading.layer_depths) reading.depth += d;
  reading.depth_to = reading.depth;
}
constexpr Field<Reading> kDepthElement =
    quantity_field<&Reading::layer_depths>("depth", length, kDepth);
constexpr auto kReadingFields = fields_of<Reading>({
    set_by<set_depth>({.key = "depth", .kinds = kNumber | kText}),
    array_field("depths", kDepthElement, 1, 8),
    number_field<&Reading::share>("share", kReadingShare),
    text_field<&Reading::where>("where", kLineText),
});

}  // namespace

constinit const Shape<Reading> kReadingShape{kReadingFields, finish_by<finish_reading>()};

}  // namespace overjoist::io
