// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

/// The words and the day of what is said to clear a hazard.
namespace overjoist {

/// Parts a day at its hyphens; a year of -1 where it is no day.
struct Day {
  int year = -1, month = 0, day = 0;
};
/// Of a day of the calendar as YYYY-MM-DD; else its year is -1.
Day day_of(std::string_view text);
bool is_after(const Day& a, const Day& b);

/// Without blanks around it, Latin letters small.
std::string plain(std::string_view text);
/// True if a paper denies what it is named for.
bool speaks_against(std::string_view paper);
/// True if a name is that of nobody but someone of the house.
bool is_household(std::string_view name);

}  // namespace overjoist
