// SPDX-License-Identifier: MIT
// Keys of one struct under another, or an object whose keys are those of another struct than its
// member, would write past a struct while reading; they must not compile.
#include <doctest/doctest.h>

#include <concepts>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "overjoist/survey.hpp"
#include "read/json/fields.hpp"

using namespace overjoist;
using namespace overjoist::io;

namespace {

template <class T, class U>
concept takes_field_of = requires(const Field<U>& field) {
  fields_of<T>({field});
};
template <class T, class U>
concept takes_fields_of = requires(const Fields<U, 1>& fields) {
  Shape<T>(fields);
};
template <class T, class U>
concept takes_check_of = requires(const Fields<T, 1>& fields, Finish<U> finish) {
  Shape<T>(fields, finish);
};
template <auto M, class U>
concept holds_object_of = requires(const Shape<U>& shape) {
  object_field<M>("key", shape);
};
template <auto M, class U>
concept may_hold_object_of = requires(const Field<OwnerOf<M>>& field, const Shape<U>& shape) {
  or_object<M>(field, shape);
};
template <class T, class U>
concept is_list_in = requires(const Field<U>& element) {
  { array_field("key", element, 0, 1) } -> std::same_as<Field<T>>;
};
template <class T, class U>
concept reads_into = requires(Reader& reader, const Shape<U>& shape, T& object) {
  reader.read(shape, object, "noun");
};

struct Box {
  double width = 0.0;
  std::vector<std::string> labels;
};
struct Shelf {
  std::optional<Box> box;
  bool lit = false, holds_box = false;
  std::string wood;
};

void set_wood(Reader&, Shelf& shelf, Scalar& value) { shelf.wood = "of " + *value.text; }
void finish_shelf(Reader&, Shelf& shelf, const Seen& seen) { shelf.holds_box = seen.has("box"); }

constexpr Field<Box> kLabel = text_field<&Box::labels>("label", 20);
constexpr auto kBoxFields = fields_of<Box>({
    number_field<&Box::width>("width", from(0, 10), true),
    array_field("labels", kLabel, 1, 2),
});
constexpr Shape<Box> kBox{kBoxFields};
constexpr auto kLightFields = fields_of<Shelf>({flag_field<&Shelf::lit>("lit")});
constexpr auto kShelfFields = kLightFields.then(fields_of<Shelf>({
    set_by<set_wood>({.key = "wood", .kinds = kText}),
    object_field<&Shelf::box>("box", kBox),
}));
constexpr Shape<Shelf> kShelf{kShelfFields, finish_by<finish_shelf>()};

}  // namespace

// Invariant: a table of keys is of one struct, and so is all that is hung under it.
static_assert(takes_field_of<Site, Site> && !takes_field_of<Site, Section>);
static_assert(takes_fields_of<Site, Site> && !takes_fields_of<Site, Section>);
static_assert(takes_check_of<Site, Site> && !takes_check_of<Site, Section>);
static_assert(holds_object_of<&Survey::site, Site> && !holds_object_of<&Survey::site, Section>);
static_assert(holds_object_of<&Survey::sections, Section> &&
              !holds_object_of<&Survey::sections, Site>);
static_assert(may_hold_object_of<&Section::ceiling, Board> &&
              !may_hold_object_of<&Section::ceiling, Layer>);
static_assert(is_list_in<Section, Section> && !is_list_in<Section, Layer>);
static_assert(reads_into<Site, Site> && !reads_into<Site, Section>);
static_assert(std::is_same_v<decltype(set_by<set_wood>({})), Field<Shelf>>);
static_assert(std::is_same_v<decltype(finish_by<finish_shelf>()), Finish<Shelf>>);

TEST_CASE("A typed table fills its struct, the structs below it and calls its setters and check") {
  Shelf shelf;
  Reader reader(R"({"wood": "oak", "lit": true, "box": {"width": 2, "labels": ["a", "b"]}})");
  REQUIRE(reader.read(kShelf, shelf, "shelf"));
  CHECK(reader.fault_count() == 0);
  // Hand derivation: what the text above says, and what set_wood and finish_shelf make of it.
  CHECK(shelf.lit);
  CHECK(shelf.wood == "of oak");
  CHECK(shelf.holds_box);
  REQUIRE(shelf.box);
  CHECK(shelf.box->width == 2.0);
  CHECK(shelf.box->labels == std::vector<std::string>{"a", "b"});
}

TEST_CASE("A typed table keeps the limits of its keys") {
  Shelf shelf;
  Reader reader(R"({"wood": 3, "box": {"labels": ["a", "b", "c"]}})");
  reader.read(kShelf, shelf, "shelf");
  // Hand derivation: wood is no text, a third label, no width.
  const Diagnostics faults = reader.faults();
  REQUIRE(faults.size() == 3);
  CHECK(faults[0].pointer == "/wood");
  CHECK(faults[1].pointer == "/box");
  CHECK(faults[2].pointer == "/box/labels/2");
}
