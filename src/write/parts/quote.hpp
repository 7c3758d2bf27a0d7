// SPDX-License-Identifier: MIT
#pragma once
#include "write/parts/parts.hpp"

/// Claims of a quote, rebate rules and tight planes, as text.
namespace overjoist::io {

/// The quote held against the figures. Nothing without claims.
void write_claims(const Report& c);
/// What each rebate rule gives, why, and which papers are lacking. Nothing without rules.
void write_rebates(const Report& c);
/// Dew point at the tight planes of a section. Nothing without winter temperatures.
void write_moisture(const Report& c, const SectionResult& s);

}  // namespace overjoist::io
