// SPDX-License-Identifier: MIT
#pragma once
#include <initializer_list>
#include <string_view>

#include "evaluate/job.hpp"
#include "overjoist/plan.hpp"

/// Heat that air carries in a year: through the leaks of known size, and through a tested house.
namespace overjoist::parts {

/// Needs the sealing list.
void plan_leak_heat(Plan& plan, const Job& job);

/// Sources of the figures that were used.
void use_figures(Notes& notes, const Tables& tables, std::initializer_list<std::string_view> ids);

}  // namespace overjoist::parts
