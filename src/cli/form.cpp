// SPDX-License-Identifier: MIT
#include "overjoist/form.hpp"
#include "cli/commands.hpp"
#include "cli/outputs.hpp"
#include "overjoist/survey_json.hpp"

namespace overjoist::cli {

int form(const FormOptions& options, const Streams& streams) {
  if (would_overwrite(options.output_file, options.force, streams.err)) return kUsage;
  std::string text;
  if (options.format == "html")
    write_field_sheet(text, builtin_tables());
  else
    write_empty_survey(text);
  const int delivered = deliver(text, options.output_file, streams);
  if (delivered != kDone) return delivered;
  tell_written(options.output_file,
               options.format == "html"
                   ? "print it, take it up, then run: overjoist form --output survey.json"
                   : "fill it in, then run: overjoist assess " + shell_word(options.output_file),
               streams);
  return kDone;
}

}  // namespace overjoist::cli
