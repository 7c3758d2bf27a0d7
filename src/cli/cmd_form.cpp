// SPDX-License-Identifier: MIT
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "overjoist/form.hpp"
#include "overjoist/survey_json.hpp"

namespace overjoist::cli {

int form(const FormOptions& options, const Streams& streams) {
  std::string text;
  if (options.format == "html")
    write_field_sheet(text, builtin_tables());
  else
    write_empty_survey(text);
  return deliver(text, options.output_file, streams);
}

}  // namespace overjoist::cli
