// SPDX-License-Identifier: MIT
#include "write/json/findings.hpp"

#include "words/words.hpp"
#include "write/json/parts.hpp"

namespace overjoist {
namespace io {
namespace {

// A template as a JSON string; most have no places and are copied without a detour.
void write_words(JsonWriter& w, std::string_view key, std::string_view text, const Values& values,
                 Units units) {
  w.key(key);
  if (text.find('{') == std::string_view::npos) return w.string(text);
  std::string rendered;
  rendered.reserve(text.size() + 64);  // the values' room: no growth by steps
  render(rendered, text, values, units);
  w.string(rendered);
}

void write_cleared(JsonWriter& w, const Caution& caution) {
  constexpr std::string_view names[][2] = {
      {"cleared_by", "by"}, {"cleared_date", "date"}, {"cleared_paper", "paper"}};
  for (const auto& name : names) {
    const Value* value = find_value(caution.values, name[1]);
    const auto* text = value != nullptr ? std::get_if<std::string>(value) : nullptr;
    w.field_or_null(name[0], text != nullptr ? std::string_view(*text) : std::string_view());
  }
}

void write_caution_words(JsonWriter& w, const Caution& caution, const CautionRow& row,
                         Units units) {
  write_words(w, "text", caution.text(row), caution.values, units);
  write_words(w, "who", caution.who(row), caution.values, units);
  write_words(w, "clears", caution.clears(row), caution.values, units);
}

void write_cautions(JsonWriter& w, const Findings& findings, const Tables& tables, Units units,
                    const PreparedWords* prepared) {
  w.objects("cautions", findings.cautions, [&](const Caution& caution) {
    const CautionRow& row = tables.cautions.at(caution.row);
    w.field("code", row.code);
    w.field("level", word(caution.level));
    w.field("where", caution.where);
    if (prepared && !caution.quiet && !caution.cleared &&
        !prepared->caution_texts[caution.row].empty())
      w.prepared(prepared->caution_texts[caution.row]);
    else
      write_caution_words(w, caution, row, units);
    if (const std::string* but = not_cleared_but(caution)) w.field("said_to_be_cleared_but", *but);
    if (caution.cleared) write_cleared(w, caution);
  });
}

void write_assumption_value(JsonWriter& w, const Assumption& assumption, Units units) {
  const Value* value = find_value(assumption.values, "value");
  if (value == nullptr) return w.field_null("value");
  if (const auto* text = std::get_if<std::string>(value)) return w.field("value", *text);
  w.field("value", plain_number(*value, units));
}

void write_assumptions(JsonWriter& w, const Findings& findings, const Tables& tables, Units units,
                       const PreparedWords* prepared) {
  const auto one = [&](const std::vector<std::string>* ready, std::size_t row, std::string_view key,
                       std::string_view text, const Values& values) {
    if (ready && !(*ready)[row].empty())
      w.prepared((*ready)[row]);
    else
      write_words(w, key, text, values, units);
  };
  w.objects("assumptions", findings.assumptions, [&](const Assumption& assumption) {
    const AssumptionRow& row = tables.assumptions.at(assumption.row);
    const PreparedWords* own = assumption.quiet ? nullptr : prepared;
    one(own ? &own->assumption_what : nullptr, assumption.row, "what", assumption.what(row),
        assumption.values);
    write_assumption_value(w, assumption, units);
    one(own ? &own->assumption_why : nullptr, assumption.row, "why", assumption.why(row),
        assumption.values);
    if (!assumption.where.empty()) w.field("where", assumption.where);
  });
}

void write_sources(JsonWriter& w, const Findings& findings, const Tables& tables,
                   const PreparedWords* prepared) {
  w.list("sources", findings.sources, [&](const std::size_t i) {
    if (prepared)
      w.prepared(prepared->sources[i]);
    else
      w.object([&] { write_source(w, tables.sources[i].id, &tables.sources[i]); });
  });
}

/// What a writer of one object puts between its brackets, as compact JSON.
template <class Write>
std::string inside(Write write) {
  std::string text;
  JsonWriter w(text, false);
  w.object([&] { write(w); });
  return text.substr(1, text.size() - 2);
}

bool has_places(std::string_view text) { return text.find('{') != std::string_view::npos; }

}  // namespace

void write_words_json(JsonWriter& w, const Findings& findings, const Tables& tables,
                      const JsonStyle& style) {
  const PreparedWords* prepared = style.pretty ? nullptr : style.prepared;
  write_cautions(w, findings, tables, style.units, prepared);
  write_assumptions(w, findings, tables, style.units, prepared);
  write_sources(w, findings, tables, prepared);
  if (prepared)
    w.prepared(prepared->stamps);
  else
    write_stamps(w, tables.stamps);
}

}  // namespace io

PreparedWords prepare_words(const Tables& tables) {
  PreparedWords p;
  for (const CautionRow& row : tables.cautions) {
    const bool fixed =
        !io::has_places(row.text) && !io::has_places(row.who) && !io::has_places(row.clears);
    p.caution_texts.push_back(fixed ? io::inside([&](io::JsonWriter& w) {
      io::write_caution_words(w, {}, row, Units::us);
    })
                                    : "");
  }
  for (const AssumptionRow& row : tables.assumptions) {
    const auto part = [](std::string_view key, std::string_view text) {
      return io::has_places(text) ? "" : io::inside([&](io::JsonWriter& w) { w.field(key, text); });
    };
    p.assumption_what.push_back(part("what", row.what));
    p.assumption_why.push_back(part("why", row.why));
  }
  for (const SourceRow& row : tables.sources)
    p.sources.push_back(
        '{' + io::inside([&](io::JsonWriter& w) { io::write_source(w, row.id, &row); }) + '}');
  p.stamps = io::inside([&](io::JsonWriter& w) { io::write_stamps(w, tables.stamps); });
  return p;
}

}  // namespace overjoist
