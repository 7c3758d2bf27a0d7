// SPDX-License-Identifier: MIT
#include "batch/record.hpp"

#include <string_view>

#include "overjoist/batch.hpp"

namespace overjoist {

Origin shown_origin(const Origin& origin, const Outcome& outcome) {
  const bool piped = origin.file == "-";
  const bool told = !outcome.evaluation && (!piped || outcome.id.empty());
  return {piped ? std::string_view() : origin.file, told ? origin.line : 0};
}

void RecordWriter::write(std::string& out, const Outcome& outcome, const Origin& origin) const {
  const Evaluation* e = outcome.evaluation ? &*outcome.evaluation : nullptr;
  if (options_.format != BatchFormat::json_lines) {
    if (e)
      write_csv(out, *e, tables_, origin, csv());
    else
      write_rejected_csv(out, outcome.id, outcome.faults, origin, csv());
    return;
  }
  if (e)
    write_json(out, *e, tables_, {options_.units, false, &words_}, origin);
  else
    write_rejected_json(out, outcome.id, outcome.faults, false, origin);
  out += '\n';
}

}  // namespace overjoist
