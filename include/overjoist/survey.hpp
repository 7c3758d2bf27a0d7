// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "overjoist/claims.hpp"
#include "overjoist/materials.hpp"
#include "overjoist/proposal.hpp"
#include "overjoist/readings.hpp"
#include "overjoist/rebate.hpp"
#include "overjoist/units.hpp"

/// The survey as plain structs; it knows no JSON. An empty optional means 'not given': `evaluate`
/// fills the default and lists it. Field meanings and ranges are those of data/survey.schema.json.
namespace overjoist {

/// Floors (flat, decked, dropped_soffit, side_attic_floor), lids (hatch, pull_down_stair) and
/// cavities (slope, knee_wall).
enum class SectionKind {
  flat,
  decked,
  hatch,
  slope,
  knee_wall,
  pull_down_stair,
  dropped_soffit,
  side_attic_floor
};
constexpr bool is_lid(SectionKind kind) {
  return kind == SectionKind::hatch || kind == SectionKind::pull_down_stair;
}
constexpr bool is_cavity(SectionKind kind) {
  return kind == SectionKind::slope || kind == SectionKind::knee_wall;
}
constexpr bool is_floor(SectionKind kind) { return !is_lid(kind) && !is_cavity(kind); }
enum class Below { heated, unheated };
enum class Lies { between, across };
enum class Facing { none, kraft, foil, unknown };
enum class FacingSide { ceiling, attic };
enum class Condition { sound, voids, wet, soiled, remove };
enum class Basis { working, effective };
enum class Member { joist, truss_chord };

enum class AtticKind { vented, unvented };
/// What the air of a vented attic counts as in the saving.
enum class AtticConvention { balance, outdoors };

struct Site {
  std::string climate_zone;  ///< "5", "5A", "4C"; "" if not given
  std::optional<double> hdd65_f_day, cdd50_f_day, heating_days, elevation_ft;
  std::optional<bool> marine;
  std::optional<int> year_built, storeys;
  std::optional<double> outdoor_mean_f,
      outdoor_sd_f;                ///< of the year, for the heat that leaks carry; both or neither
  std::optional<AtticKind> attic;  ///< not given: vented
  std::optional<Resistance> roof_r;            ///< roof, its films and air space
  std::optional<Area> roof_area;               ///< over all of the attic
  std::optional<AtticConvention> attic_air{};  ///< vented only; not given: balance
  std::optional<double> roof_pitch_in_12{}, attic_air_changes{},
      attic_volume_ft3{};  ///< of the balance; air changes by the hour
  bool unvented() const { return attic == AtticKind::unvented; }
  bool balanced() const { return !unvented() && attic_air != AtticConvention::outdoors; }
};

/// A ceiling or a deck: a table row, or an R of the user's own.
struct Board {
  std::string material;  ///< "" if only `r` is given
  std::optional<Length> thickness;
  std::optional<Resistance> r;
};

struct Joists {
  std::string size;  ///< nominal, "2x6"; "" if the actual size is given
  std::optional<Length> width, depth, spacing;
  std::optional<double> framing_fraction;
  std::optional<Resistivity> wood;
  Member member = Member::joist;
};

struct Layer {
  std::string material;
  std::optional<Length> thickness;
  std::optional<Resistance> label_r;
  std::optional<Length> label_thickness;
  std::optional<Lies> lies;  ///< not given: by what lies below it
  Facing facing = Facing::none;
  std::optional<FacingSide> facing_side;
  Condition condition = Condition::sound;
  std::optional<double> void_share;
};

/// An area that safety or use leaves out: its own area and R (model 8).
struct Patch {
  std::string kind;  ///< light-cover, flue-clearance, platform, other
  Area area;
  std::optional<Resistance> total_r;  ///< air to air
  std::string where;
};

/// An air leak at the attic floor (`data/bypasses.json` names the kinds).
struct Bypass {
  std::string kind, where;
  double count = 0;                     ///< 0: not given, one is meant
  std::optional<Length> length, width;  ///< of one opening, or the length of a joint
  std::optional<Area> area;             ///< of one opening
  std::optional<bool> ends_outdoors{};  ///< exhaust fan: where its duct ends
  bool inferred = false;  ///< not entered: stands for a hatch section, its leakage is not known
};

/// Where the roof comes down onto a floor; the sum is in eaves.hpp.
struct EaveSurvey {
  Length heel;
  double pitch_in_12 = 0.0;
  Length length;  ///< of all eaves of this kind
  std::optional<Length> vent_gap, baffle;
};

struct Section {
  std::string name;
  SectionKind kind = SectionKind::flat;
  Area area;  ///< of this section alone: hatches and patches are not inside it
  std::optional<Length> length, width;  ///< where the area was given by its sides
  std::optional<Below> below;
  std::optional<Board> ceiling, deck;
  std::optional<Resistance> film_inside, film_attic;
  std::optional<Joists> joists;    ///< of a slope its rafters, of a knee wall its studs
  std::optional<Length> vent_gap;  ///< slope only: air kept free under the deck
  std::optional<Layer> add;        ///< slope and knee wall: what goes into the room that is left
  std::optional<Resistance>
      continuous_r;  ///< slope and knee wall: R of a board that is added across the wood
  std::optional<Resistance> target_r;  ///< of this section alone
  std::optional<EaveSurvey> eave;      ///< flat and side-attic floors
  std::optional<Length> headroom;      ///< greatest depth of insulation that fits
  std::vector<Layer> layers;           ///< from the ceiling up
  std::vector<Reading> readings;
  std::optional<double> bare_share,
      bare_error;  ///< of its area without insulation, as measured, and the relative standard error
                   ///< of that: the readings are then of what is covered alone
  std::optional<Resistance> insulation_r, total_r, after_insulation_r;  ///< lids only
  std::vector<Patch> patches;
  std::vector<Bypass> bypasses;
  bool bypasses_given =
      false;  ///< the key is there, with an empty list too: somebody looked for them here
};

struct Hazard {
  std::string kind, where;
  std::string cleared_by, cleared_date, cleared_paper;  ///< as said; clearing.hpp judges it
  bool blank_trade = false;                             ///< of a record: its trade is blanks
  bool by_record = false;  ///< said by the record of the job, not by the survey
  bool said_cleared() const {
    return !cleared_by.empty() || !cleared_date.empty() || !cleared_paper.empty();
  }
};

struct TargetRequest {
  std::optional<Resistance> low, high;
  std::optional<Basis> basis;
};

/// What the sealing list is bought with.
struct SealingRequest {
  std::optional<double> foam_board_ft_per_can, waste_percent;
};

/// What runs through the attic: recorded, and raises its caution.
enum class EquipmentKind { duct, air_handler, pipe, fan };
struct Equipment {
  EquipmentKind kind = EquipmentKind::duct;
  std::string where;
  std::optional<Length> length;
  std::optional<Resistance> r;        ///< of its own insulation
  std::optional<bool> sealed;         ///< joints of a duct
  std::optional<bool> ends_outdoors;  ///< fan
};

/// A blower-door test of the house, at 50 Pa.
struct BlowerDoor {
  double cfm50_before = 0.0;
  std::optional<double> cfm50_after, wind_mph;
  std::optional<int> storeys;  ///< heated ones; not given: the site's
};

/// Vents of the attic, passive ones only.
struct VentilationSurvey {
  std::optional<Area> low, high;  ///< net free area
  std::optional<bool> retarder;   ///< a vapor retarder on the warm side
  std::optional<Length> eave_length, rafter_spacing;
};

/// A year of bills for the heating fuel, in its unit.
struct HeatingBills {
  double units_per_year = 0.0;
  std::optional<double> base_load_units{};  ///< of these not for heating
  std::optional<double> allowed_share{};  ///< most of the heating that the ceiling may account for,
                                          ///< 0..1; not given: the table's
};

struct Heating {
  std::string fuel;                                       ///< id of a row of data/fuels.json
  std::optional<double> efficiency, cop;                  ///< one of them
  std::optional<double> price_per_unit, co2_lb_per_unit;  ///< by the fuel's unit
  std::optional<double> hdd_f_day, base_f;                ///< both, or the site's HDD at base 65 F
  std::optional<double> days_below_base, indoor_f;        ///< both: full form
  std::optional<HeatingBills> bills;
};

/// Electric cooling: its saving is a range of low confidence.
struct Cooling {
  std::optional<double> cop, price_per_kwh, degree_hours_f_h, hours;
};

/// A plain rebate, by area or by cost; who may have it is not asked here.
struct RebateTerms {
  std::optional<double> per_ft2, percent, cap;
};

struct MoneyWish {
  std::optional<double> life_years, real_discount_rate_percent, real_price_rise_percent;
  std::optional<RebateTerms> rebate;
  std::optional<double> sealing_saving_per_year;     ///< money, for the package alone
  std::optional<bool> accept_sealing_upper_bound{};  ///< of older files: read, and no longer used
  std::optional<double> tax_percent;                 ///< on what `tax_on` says
  std::optional<TaxOn> tax_on;                       ///< not given: goods
};

/// Empty without a percentage.
inline std::optional<Tax> tax_of(const MoneyWish& wish) {
  if (!wish.tax_percent) return {};
  return Tax{*wish.tax_percent, wish.tax_on.value_or(TaxOn::goods)};
}

/// Air in winter, for the dew point at tight planes; all three or none.
struct WinterSurvey {
  double indoor_f = 0.0, indoor_rh_percent = 0.0, attic_f = 0.0;
};

/// What somebody looked for, whether or not anything was found: a key with an empty list says so
/// too.
struct LookedAt {
  bool hazards = false, bypasses = false, vents = false;
  bool fan_ends = true;  ///< where each fan that was entered ends
  bool all() const { return hazards && bypasses && vents && fan_ends; }
};

struct Survey {
  std::string id, label, notes;
  std::string surveyed_by,
      surveyed_date;     ///< who was in the attic, and the day as YYYY-MM-DD; "" if not given
  std::string job_date;  ///< day of the job, from its record; "" while there is none
  Site site;
  std::vector<Material> materials;  ///< the survey's own rows
  std::vector<Section> sections;
  std::vector<Hazard> hazards;
  std::vector<Equipment> equipment;
  TargetRequest target;
  std::optional<Proposal> proposal;
  std::vector<Proposal> compare;  ///< others that the same attic is worked out with
  SealingRequest sealing;
  std::optional<VentilationSurvey> ventilation;
  std::optional<BlowerDoor> blower_door;
  std::optional<Heating> heating;
  std::optional<Cooling> cooling;
  std::optional<MoneyWish> money;
  std::vector<Claim> claims;        ///< of a quote
  std::vector<RebateRule> rebates;  ///< rules to hold against the attic
  std::vector<std::string> papers;  ///< that the record holds
  std::optional<WinterSurvey> winter;
  LookedAt looked_at;    ///< keys that the file has; what is entered counts as looked at without it
  UnitsWritten written;  ///< of the file
  std::vector<std::pair<std::string, std::string>>
      extras;  ///< x_ keys of the top level and their raw JSON text

  /// The survey's own rows first, then the tables.  @returns nullptr if there is no such row
  const Material* material(const Tables& tables, std::string_view id_) const {
    for (const Material& m : materials)
      if (m.id == id_) return &m;
    return tables.material(id_);
  }
};

}  // namespace overjoist
