// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluate.hpp"
#include "write/json/writer.hpp"

/// What the drawings of a page show, and who read the attic when, as JSON.
namespace overjoist::io {

/// The key `cut` of a section: null where there is no drawing.
void write_cut_json(JsonWriter& w, const std::optional<SectionCut>& cut);
/// The key `surveyed`: null where the survey does not say.
void write_surveyed_json(JsonWriter& w, const Evaluation& e);

}  // namespace overjoist::io
