// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/cautions.hpp"
#include "overjoist/evaluate.hpp"
#include "overjoist/units.hpp"
#include "words/result_words.hpp"

/// Words for people: quantities with their units in US or SI, and the texts of caution and
/// assumption rows. Rounding is against us: R goes down, what must be blown, carried or paid goes
/// up. SI shows length in cm.
namespace overjoist::io {

enum class Toward { nearest, down, up };

/// `value` with at most `decimals` places, zeros at the end left off: 5.50 -> "5.5".
std::string number_text(double value, int decimals, Toward toward = Toward::nearest);

/// "1 day", "250 days": a number as it is shown, and what it counts.
std::string counted(const std::string& number, std::string_view noun);

std::string r_text(Resistance r,
                   Units units);  ///< worked out: "R-19.2", "R-38.0", "RSI 3.38 m2 K/W"; down
std::string r_label(Resistance r,
                    Units units);  ///< worked out, in a sentence: "R-38", "R-37.9"; down
std::string r_given(
    Resistance r, Units units);  ///< target or label, as given: "R-38", "RSI 6.69 m2 K/W"; nearest
std::string r_given_cell(Resistance r,
                         Units units);           ///< the same for columns: "R-38.0", "RSI 6.69"
std::string r_cell(Resistance r, Units units);   ///< for columns: "R-38.0", "RSI 3.38"; down
Resistance r_raised(Resistance r, Units units);  ///< upper end of a range: up to what r_cell prints
double r_shown(Resistance r, Units units);       ///< the number that r_cell prints
std::string r_change(double shown_change, Units units);  ///< "-1.2", "+0.05" for columns
std::string depth_text(
    Length depth, Units units,
    Toward toward);  ///< "5.5 in.", "6.25 in.", "14 cm"; eighths of an inch stay whole
std::string depth_number(Length depth, Units units, Toward toward);  ///< the same without its unit
std::string level_text(Length level, Units units,
                       Toward toward);                ///< as on a tape: "13 1/4 in.", "33.7 cm"
std::string area_text(Area area, Units units);        ///< "1000 ft2", "4.5 ft2", "92.9 m2"
std::string volume_text(Volume volume, Units units);  ///< "60 ft3", "1.7 m3"; up
std::string mass_text(Mass mass, Units units, Toward toward);  ///< "25 lb", "11.3 kg"
std::string weight_text(MassPerArea weight, Units units,
                        Toward toward);                      ///< "1.62 lb/ft2", "7.9 kg/m2"
std::string conductance_text(Conductance ua, Units units);   ///< "76.3 Btu/(h F)", "40.2 W/K"; up
std::string resistivity_text(Resistivity rho, Units units);  ///< "R-3.5 per inch", "24.27 m K/W"
std::string density_text(Density density, Units units);      ///< "1.6 lb/ft3", "25.6 kg/m3"
std::string money_text(
    double amount, std::string_view currency,
    Toward toward = Toward::up);  ///< whole units: "1235 USD", "$1235"; a saving goes down
std::string heat_text(Energy heat, Units units);  ///< "52.3 MMBtu", "55.1 GJ"; down
std::string temperature_text(double f,
                             Units units);  ///< of a Fahrenheit temperature: "65 F", "18.3 C"
std::string degree_days_text(double f, Units units);  ///< "7600 F day", "4222 K day"

/// "2 to 3", or "2" where both ends show the same: equal ends are no span.
std::string span_text(const std::string& low, const std::string& high);

/// One value of a template with its unit. Text from the survey is passed on as it stands.
/// @param weight  how a weight per area is rounded: up for what is carried, down for what may be
/// @param given  an R that was asked for or printed: nearest; one that was worked out goes down
void append_value(std::string& out, const Value& value, Units units, Toward weight = Toward::up,
                  bool given = false);
/// The number that goes with `append_value`, in the same unit; empty for a text.
std::optional<double> plain_number(const Value& value, Units units);
/// Why what is said to clear a hazard does not; nullptr where nothing of the kind is said.
const std::string* not_cleared_but(const Caution& caution);
/// A row of cautions as this result says it, for its words alone.
Caution said_of(const Evaluation& e, std::size_t row);
/// @returns nullptr if there is no value of this name
const Value* find_value(const Values& values, std::string_view name);
/// Appends `text` with its {name} places filled; a weight goes up, but down at {limit}. A place
/// without a value reads
/// "(not known)".
void render(std::string& out, std::string_view text, const Values& values, Units units);

}  // namespace overjoist::io
