// SPDX-License-Identifier: MIT
#include "overjoist/form.hpp"

namespace overjoist {
namespace {

// Texts, since no number may stand for one that was not read; quantities may be given as text with
// their unit anyway.
constexpr std::string_view kEmptySurvey =
    R"({
  "format": "overjoist-survey",
  "version": 1,
  "x_how": "Fill in every empty text (quantities as \"4 1/2\" or \"11 cm\", prices)"
    R"( and counts as plain numbers) and strike out the keys that do not apply. overjoist)"
    R"( check names what is still empty.",
  "id": "",
  "label": "",
  "surveyed": {"by": "", "date": ""},
  "site": {"climate_zone": "", "year_built": "", "storeys": ""},
  "sections": [
    {
      "name": "attic floor",
      "kind": "flat",
      "length_ft": "",
      "width_ft": "",
      "below": "heated",
      "ceiling": "",
      "joists": {"size": "", "spacing_in": ""},
      "layers": [{"material": ""}],
      "readings": ["", "", "", "", "", "", "", "", "", "", "", ""],
      "bypasses": [{"kind": "", "where": "", "count": ""}]
    },
    {"name": "hatch", "kind": "hatch", "length_ft": "", "width_ft": "",
     "below": "heated", "ceiling": "", "insulation_r": ""}
  ],
  "hazards": [{"kind": "", "where": ""}],
  "ventilation": {"low_nfa_in2": "", "high_nfa_in2": "", "eave_length_ft": "",
                  "rafter_spacing_in": ""},
  "proposal": {"material": "", "bag_net_lb": "", "price_per_bag": "", "currency": "",
               "labour": {"price_per_ft2": ""}},
  "heating": {"fuel": "", "efficiency": "", "price_per_unit": "", "hdd_f_day": "", "base_f": ""},
  "notes": ""
}
)";

}  // namespace

void write_empty_survey(std::string& out) { out += kEmptySurvey; }

}  // namespace overjoist
