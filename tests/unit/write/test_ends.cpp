// SPDX-License-Identifier: MIT
#include "overjoist/ends.hpp"

#include <optional>
#include <string>
#include <type_traits>

#include <doctest/doctest.h>

#include "write/parts/parts.hpp"

using namespace overjoist;

namespace {

struct Job {
  int bags = 0;
  std::optional<double> cost;
};
/// Two ends that are no `Ends`, as a section's are.
struct Jobs {
  const Job &low, &high;
};

const Job kSmall = {20, std::nullopt}, kLarge = {31, 800.0};

}  // namespace

// Invariant: what stands low stays low, for a function and for a member.
TEST_CASE("ends: map keeps the low end low, of a function's values and of a member") {
  const Jobs jobs{kSmall, kLarge};
  const auto words = map(jobs, [](const Job& job) { return std::to_string(job.bags); });
  CHECK(words == Ends<std::string>{"20", "31"});
  const auto bags = map(jobs, &Job::bags);
  static_assert(std::is_same_v<decltype(bags), const Ends<const int&>>);  // no copy of a member
  CHECK(&bags.low == &kSmall.bags);
  CHECK(&bags.high == &kLarge.bags);
}

// Invariant: `at` is the end itself, as `Ends` gives it by its brackets.
TEST_CASE("ends: at gives the end itself") {
  const Jobs jobs{kSmall, kLarge};
  CHECK(&at(jobs, End::low) == &kSmall);
  CHECK(&at(jobs, End::high) == &kLarge);
  const Ends<int> numbers{1, 2};
  CHECK(&at(numbers, End::high) == &numbers[End::high]);
}

// Hand derivation: one end has a cost; both have bags; neither has a hundred.
TEST_CASE("ends: both, either and same tell the two ends apart") {
  const Jobs mixed{kSmall, kLarge}, turned{kLarge, kSmall}, alike{kLarge, kLarge};
  for (const Jobs& jobs : {mixed, turned}) {
    CHECK(either(jobs, &Job::cost));
    CHECK_FALSE(both(jobs, &Job::cost));
    CHECK_FALSE(same(jobs, &Job::bags));
  }
  CHECK(both(alike, &Job::cost));
  CHECK(same(alike, &Job::bags));
  CHECK_FALSE(either(mixed, [](const Job& job) { return job.bags >= 100; }));
  CHECK(same(Ends<int>{3, 3}));
  CHECK_FALSE(same(Ends<int>{3, 4}));
}

// Hand derivation: words stand between two texts, and not beside one.
TEST_CASE("ends: a text of both ends has its joint only between two texts") {
  CHECK(io::join(Ends<std::string>{"a", "b"}, " and ") == "a and b");
  CHECK(io::join(Ends<std::string>{"", "b"}, " and ") == "b");
  CHECK(io::join(Ends<std::string>{"a", ""}, " and ") == "a");
  CHECK(io::span_text(Ends<std::string>{"R-38", "R-49"}) == "R-38 to R-49");
  CHECK(io::span_text(Ends<std::string>{"R-49", "R-49"}) == "R-49");
}

// Hand derivation: three forms of a range, the last without an upper limit.
TEST_CASE("ends: a range is rendered as a span, one figure or an open end") {
  const auto text = [](Resistance r) { return std::to_string(static_cast<int>(r.us())); };
  const Resistance low = Resistance::from_us(12), high = Resistance::from_us(15);
  CHECK(io::range_text({low, high}, Units::us, text) == "12 to 15");
  CHECK(io::range_text({low, low}, Units::us, text) == "12");
  CHECK(io::range_text({low, std::nullopt}, Units::us, text) == "12 or more");
}
