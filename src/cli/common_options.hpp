// SPDX-License-Identifier: MIT
#pragma once
#include <CLI/CLI.hpp>
#include <set>
#include <string>

#include "cli/commands.hpp"

/// Options that several commands take, and what a value may be.
namespace overjoist::cli {

/// An empty name, as an unset variable of a shell leaves it, names nothing.
const CLI::Validator& named();
/// Of a flag that may be left out: an empty value is a slip, not a wish for what is taken else.
const CLI::Validator& told();
const CLI::Validator& folder();

CLI::Option* add_output(CLI::App& command, std::string& file);
void add_common(CLI::App& command, CommonOptions& o);
/// Replaces the formats of add_common.
void set_formats(CLI::App& command, CommonOptions& o, const char* first,
                 const std::set<std::string>& formats, const char* words);
void add_csv(CLI::App& command, std::string& rows, bool& raw_text);
void add_fail_on(CLI::App& command, CommonOptions& o);
/// The evaluation options: the same for every command that evaluates.
void add_evaluation(CLI::App& command, CommonOptions& o);
void add_compare(CLI::App& command, CommonOptions& o);

}  // namespace overjoist::cli
