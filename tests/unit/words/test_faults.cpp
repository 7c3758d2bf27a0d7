// SPDX-License-Identifier: MIT
#include "words/faults.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <set>
#include <string>

#include "../fixtures.hpp"
#include "overjoist/survey_json.hpp"

using namespace overjoist;      // a test names many of its words
using namespace overjoist::io;  // a test names many of its words

namespace {

using F = FaultCode;

/// Names of the placeholders of a text.
std::set<std::string> placeholders(std::string_view words) {
  std::string text(words);
  for (const char* twice : {"{{", "}}"})
    for (std::size_t at = text.find(twice); at != std::string::npos; at = text.find(twice))
      text.erase(at, 2);
  std::set<std::string> names;
  const std::regex pattern(R"(\{(\w+)(:[^}]*)?\})");
  for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it)
    names.insert((*it)[1]);
  return names;
}

std::set<std::string> placeholders(const FaultWords& words) {
  std::set<std::string> names = placeholders(words.message);
  names.merge(placeholders(words.hint));
  return names;
}

bool is_key_of_flags(const std::string& name) {
  return std::any_of(std::begin(kFlagsOfKeys), std::end(kFlagsOfKeys),
                     [&](const FlagOfKey& row) { return row.key == name; });
}

/// A value of each slot.
std::vector<FaultValue> sample(const FaultRow& row) {
  std::vector<FaultValue> values;
  for (std::size_t i = 0; i < row.count(); ++i) {
    const ValueSlot& slot = row.slots[i];
    FaultValue& value = values.emplace_back();
    value.name = slot.name;
    if (slot.type == ValueType::key) value.value = KeyName{"area_ft2"};
    if (slot.type == ValueType::text) value.value = std::string("moor");
    if (slot.type == ValueType::number) value.value = 2.5;
    if (slot.type == ValueType::count) value.value = std::size_t{3};
  }
  return values;
}

}  // namespace

// Invariant: a program may go by the code of a fault, so each is told apart from the others and
// none is in words that a sentence would change.
TEST_CASE("faults: every code is one word of its own") {
  std::set<std::string_view> names;
  for (const FaultRow& row : kFaultRows) {
    CAPTURE(row.name);
    CHECK(names.insert(row.name).second);
    CHECK(std::regex_match(std::string(row.name), std::regex("[a-z0-9]+(-[a-z0-9]+)*")));
    CHECK(row_called(row.name) == &row);
  }
  CHECK(row_called("no-such-code") == nullptr);
}

// Invariant: what a sentence asks for is what its fault carries, and nothing is carried unsaid.
TEST_CASE("faults: the placeholders of every row are its values, or keys that a flag stands for") {
  for (const FaultRow& row : kFaultRows) {
    CAPTURE(row.name);
    std::set<std::string> slots;
    for (std::size_t i = 0; i < row.count(); ++i) slots.insert(std::string(row.slots[i].name));
    CHECK(slots.size() == row.count());
    const std::set<std::string> said = placeholders(row.survey);
    for (const FaultWords* words : {&row.survey, &row.flags.words})
      for (const std::string& name : placeholders(*words))
        CHECK_MESSAGE((slots.count(name) > 0 || is_key_of_flags(name)), name);
    const bool list_of_depths = row.code == F::too_few_entries || row.code == F::empty_list;
    for (const std::string& name : slots)
      CHECK_MESSAGE((said.count(name) > 0 || list_of_depths), name);
  }
}

// Invariant: each code has words for both readers, or says why flags cannot raise it.
TEST_CASE("faults: every code has words for both readers, filled to the last placeholder") {
  for (const FaultRow& row : kFaultRows) {
    CAPTURE(row.name);
    CHECK_FALSE(row.survey.message.empty());
    const bool own = !row.flags.words.message.empty();
    CHECK_FALSE((own && !row.flags.why.empty()));
    for (const Reads reads : {Reads::survey, Reads::flags}) {
      const FaultText text = say(row, sample(row), reads);
      CHECK_FALSE(text.message.empty());
      CHECK(placeholders(FaultWords{text.message, text.hint}).empty());
    }
  }
}

// Invariant: somebody who wrote flags has never seen a key of a survey.
TEST_CASE("faults: no words for flags hold a key of a survey") {
  const std::regex key(R"([a-z0-9]+_[a-z0-9_]+|under (layers|batts|materials)|the key is|\{")");
  for (const FaultRow& row : kFaultRows) {
    if (!row.flags.why.empty()) continue;
    CAPTURE(row.name);
    const FaultText text = say(row, sample(row), Reads::flags);
    CHECK_MESSAGE(!std::regex_search(text.message, key), text.message);
    CHECK_MESSAGE(!std::regex_search(text.hint, key), text.hint);
  }
}

// Common practice: a program that reads faults goes by codes and values, not by sentences.
TEST_CASE("faults: a diagnostic of a survey carries its code and its values") {
  const Diagnostics faults =
      read_survey(R"({"format": "overjoist-survey", "version": 1, "sections": [
{"name": "attic", "kind": "flat", "area_ft2": 0, "readings": [4], "colour": 1}]})",
                  fixtures::tables())
          .faults;
  REQUIRE(faults.size() == 2);
  CHECK(faults[0].code == "below-range");
  REQUIRE(faults[0].values.size() == 6);
  CHECK(faults[0].values[0].name == "key");
  CHECK(std::get<KeyName>(faults[0].values[0].value).key == "area_ft2");
  CHECK(std::get<std::string>(faults[0].values[1].value) == "0");
  CHECK(std::get<double>(faults[0].values[3].value) == 0.1);
  CHECK(faults[1].code == "unknown-key");
}

// Common practice: the same fault, once for whoever wrote a survey and once for whoever wrote
// flags.
TEST_CASE("faults: one value has words for each reader") {
  const Fault fault = make_fault<F::target_upside_down>(40, 30);
  const FaultRow& row = row_of(fault.code);
  CHECK(say(row, fault.values, Reads::survey).message == "low_r 40 is above high_r 30");
  CHECK(say(row, fault.values, Reads::flags).message ==
        "--target-low 40 is above --target-high 30");
}
