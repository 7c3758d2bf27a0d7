// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/record.hpp"
#include "read/shapes.hpp"

namespace overjoist::io {

/// Finds what a record contradicts, in itself and against its survey; needs the record read to its
/// end.  @param survey  null if it is not at hand; else it becomes that of `build`
void check_record(Reader& reader, SurveyBuild& build, const Record& record, const Survey* survey);

}  // namespace overjoist::io
