// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/survey.hpp"

/// What a drawing to scale shows.
namespace overjoist::parts {

/// What a drawing of a floor shows; needs the top-up. Nothing for lids, slopes and walls.
void add_cut(WorkedSection& result, const BuiltSection& built, const Blow& blow,
             const Survey& survey, const Tables& tables);

}  // namespace overjoist::parts
