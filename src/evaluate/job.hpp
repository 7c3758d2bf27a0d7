// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/cautions.hpp"
#include "overjoist/materials.hpp"
#include "overjoist/survey.hpp"

/// What every step of the chain reads, and where it says what it assumed.
namespace overjoist::parts {

struct Job {
  const Survey& survey;
  const Tables& tables;
  Notes& notes;
};

}  // namespace overjoist::parts
