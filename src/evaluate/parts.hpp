// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "overjoist/evaluate.hpp"
#include "overjoist/quantities.hpp"
#include "overjoist/wedge.hpp"

/// Parts of `evaluate`, private to it: defaults filled in, spots and paths built, results gathered.
namespace overjoist::parts {

/// A column with its share of the area: one spot, or one combination of voids at that spot.
struct Piece {
  double share = 0.0;
  std::size_t spot = 0;  ///< index of the spot
  Length depth;          ///< reading at the spot
  Column column;
  SpotPaths paths;
  Resistance insulation;
};

/// A section with every default filled in.
struct BuiltSection {
  const Section* survey = nullptr;
  std::vector<BuiltLayer> layers;
  PathEnds ends;
  Framing framing;
  Length joist_width, spacing;   ///< 0 for a hatch
  std::string board;             ///< material id of the ceiling; "" if only its R is known
  bool under_deck = false;       ///< a deck or backing touches the wood
  Length vent_gap;               ///< under the deck, of a slope or an eave
  bool ceiling_assumed = false;  ///< board or spacing was not given
  bool unvented = false;         ///< the attic has no vents, and is to have none
  bool thin_board =
      false;  ///< thinner than the row of its material: that row's weight limit does not hold
  std::vector<Spot> spots;
  std::vector<Piece> pieces;
  std::optional<MassPerArea> weight, weight_greatest;
  bool unmeasured = false;         ///< the depth of a fill that nobody may touch is not known
  bool spoiled_lid = false;        ///< a hazard says that what lies on the lid is wet or soiled
  std::optional<BaseFloor> floor;  ///< what new fill would find; of floors over heated rooms alone
};

/// A section while it is worked out: as found, and what it gets at either end of the band.
struct WorkedSection {
  SectionResult found;
  Ends<TopUp> planned;
};

/// Defaults, layers, spots and pieces of a section.  @throws Error where it cannot be built
BuiltSection build_section(const Section& section, const Survey& survey, const Tables& tables,
                           Notes& notes);

/// Code of the assumption that names where a row's R per inch comes from.
inline std::string_view rho_code(const Material& m) {
  return m.typical ? "material-r" : m.middle ? "middle-of-range" : "low-of-range";
}
/// Takes the R of fill that a hazard of this section calls wet or soiled; asks where several layers
/// could be meant.
void spoil_by_hazards(BuiltSection& built, const Survey& survey, const Tables& tables,
                      Notes& notes);
/// Asks for the section where a hazard calls insulation wet or soiled and the survey does not tell
/// which.
void spoiled_place_cautions(const Survey& survey, const Tables& tables, Notes& notes);

/// A layer with its material and defaults.
BuiltLayer build_layer(const Layer& layer, const Survey& survey, const Tables& tables,
                       const std::string& where, Notes& notes);
/// Depth of a slope or wall that insulation may take.
Length fitting_room(const BuiltSection& built);
/// The same section with other layers in one column: a slope or wall after the work.
BuiltSection with_layers(const BuiltSection& built, std::vector<BuiltLayer> layers,
                         Resistance continuous);

/// What goes into a slope or knee wall, and what it is worth then; the section after the work,
/// empty where nothing is done.
std::optional<BuiltSection> plan_cavity(WorkedSection& result, const BuiltSection& built,
                                        const Survey& survey, const Tables& tables, Notes& notes);

/// Weight of what stays and what comes in, in a slope whose work is planned: its board hangs below
/// it.
void weigh_cavity(WorkedSection& result, const BuiltSection& after, const CeilingLimit* limit);

/// Existing R-values and the way from the yardstick figure to them.
ExistingResult existing_result(const BuiltSection& built);

/// True if the density of all that stays is known: what comes out will not rest on the ceiling.
bool weight_known(const BuiltSection& built);
/// The floor that new fill would be blown on: what must come out is gone.
BaseFloor base_floor(const BuiltSection& built);
std::vector<RemovalResult> removals(const BuiltSection& built);

/// One product of the list, or two on top of each other.
struct Stack {
  std::vector<std::size_t> products;  ///< indexes into the list, from below up
  Length thickness;
  Resistance r, r_low,
      r_high;  ///< as printed, and the sides of the range where a table's R stands for a label
  std::optional<MassPerArea> weight;    ///< empty: not known
  std::optional<double> price_per_ft2;  ///< before waste
};

/// What is blown in, laid or sprayed, ready for the solver. `chart` must outlive `fill`.
struct Blow {
  Method method = Method::blown;
  std::vector<BattProduct> products;  ///< what is laid, every default filled in
  std::vector<const Material*> rows;  ///< of the products
  std::vector<Stack> stacks;          ///< singles by thickness, price and name, then pairs likewise
  std::optional<double> price_per_board_ft, price_per_bag;
  NewFill fill;
  CoverageChart chart;
  const Material* material = nullptr;  ///< null for a product that names no material
  std::string name;
  Mass bag_net;
  double waste = 0.0;  ///< share
  bool chart_deducts_framing = true;
};
void prepare_blow(Blow& blow, const Proposal& proposal, const Survey& survey, const Tables& tables,
                  Notes& notes);
/// Products and stacks of a proposal with a list.
void prepare_batts(Blow& blow, const Proposal& proposal, const Survey& survey, const Tables& tables,
                   Notes& notes);

/// The top-up with batts or boards that lie across the joists, from `t` with target and limits set.
void lay_batts(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow);
/// The floor with the layers of a top-up on it. @param side  0 as printed, -1 and 1 the sides of
/// the range
BaseFloor laid_floor(const BaseFloor& floor, const Blow& blow, const TopUp& t, int side);
void laid_cautions(const BuiltSection& built, const WorkedSection& result, const Blow& blow,
                   Notes& notes);
/// What a whole job buys, rounded up over all of it.
struct Goods {
  std::optional<double> bags;          ///< empty: not known
  std::optional<double> board_ft;      ///< of a spray
  std::vector<PackageCount> packages;  ///< in the order of the list
  std::optional<double> price;         ///< empty: not priced
};
/// @param tops  of the sections that take new fill
Goods goods_of(const std::vector<const TopUp*>& tops, const Blow& blow);
/// Foam is sprayed on a bare ceiling.  @throws Error{contradiction} where fill stays
void check_bare(const BuiltSection& built, const BaseFloor& floor);

/// A row for each alternative, the survey's own proposal first.
void add_compare(Evaluation& e, const Survey& survey, const Tables& tables);

/// What a top-up is to reach.
struct Aim {
  Resistance target;
  Basis basis = Basis::working;
};
/// @param now  R of the floor before the blow
TopUp top_up(const BuiltSection& built, const BaseFloor& floor, const FloorR& now, const Blow& blow,
             const Aim& aim, const CeilingLimit* limit);

/// A floor blown to a level that is given, not solved: what was really built. A level below every
/// spot adds nothing.
TopUp topped_up(const BuiltSection& built, const BaseFloor& floor, const Blow& blow,
                const TargetBand& band, Length level, const CeilingLimit* limit);

/// How a section was really left.
struct LeftAs {
  std::optional<Length> level;  ///< floor: blown to this initial level; empty: as found
  bool as_planned = false;      ///< slope or wall: as planned; else as found
};
/// The chain of `evaluate`.  @param left  one for each section in place of the planned work, or
/// null; without alternatives then
Evaluation evaluate_left(const Survey& survey, const Tables& tables,
                         const std::vector<LeftAs>* left);

/// The greatest initial level that room and chart allow [in.]; very large where nothing limits it.
Length level_room(const BuiltSection& built, const BaseFloor& floor, const Blow& blow);

/// Effective U of a section with what blurs it, as found and after either end of the band.
struct SectionSpread {
  UncertainU existing;
  Ends<UncertainU> planned;
};
/// Fills the ranges, readings needed and verdict of a section whose central values stand.
/// @param after  a slope or wall after the work, or null
SectionSpread section_ranges(WorkedSection& result, const BuiltSection& built,
                             const BuiltSection* after, const Blow& blow, Notes& notes);
/// Ranges of the attic's R as found and at either end, from the U of each section and its blur.
void attic_ranges(Evaluation& e, const std::vector<SectionSpread>& spreads);

/// The strip along the eaves of a floor; empty without.
std::optional<EaveStrip> strip_of(const BuiltSection& built);
/// Takes the eave's wedge into R, mass, bags and least depth of a top-up that has its level.
void apply_eave(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow);

/// What a section gives to the yearly saving, beside its result.
struct SectionSaving {
  Resistance before;  ///< effective R as found, wet or soiled fill at its dry high R
  std::vector<TopUp>
      stages;  ///< at each of the targets of `stages_of`; empty where nothing is blown
};

/// A target of the next-step table.
struct Stage {
  std::string_view step;
  Resistance target;
};
/// Low, middle, high and beyond, in rising R; equal ones once. Empty where heating or degree days
/// are not given.
std::vector<Stage> stages_of(const Survey& survey, const TargetBand& band, const Tables& tables);
SectionSaving section_saving(const BuiltSection& built, const WorkedSection& result,
                             const std::vector<Stage>& stages, const Blow& blow, Basis basis,
                             Notes& notes);
/// Slopes, walls and lids that get work which no price of the proposal holds; marks the extras that
/// cover such work as due.
std::vector<std::string> unpriced_work(Proposal& proposal, const Evaluation& e);
/// True if an extra of the proposal pays for a section's work.
bool covered(const Proposal& proposal, std::string_view section);

/// What the yearly saving and its worth are worked out from, beside the sections' results.
struct SavingsWork {
  const Proposal& proposal;
  const Blow& blow;
  const std::vector<Stage>& stages;
  const std::vector<SectionSaving>& sections;
};
/// Fills heating, money, steps and the yearly and money parts of both totals.
void add_savings(Evaluation& e, const Survey& survey, const SavingsWork& work, const Tables& tables,
                 Notes& notes);

/// Takes a sealing saving that is given or accepted into the package's line; needs the plan. Says
/// if none is counted.
void add_sealing_saving(Evaluation& e, const Survey& survey, const Tables& tables, Notes& notes);
/// Saving and what follows from it, into a line whose cost and rebate stand.
void add_worth(WorthLine& line, std::optional<double> saving,
               const std::optional<MoneyTerms>& terms);
/// Fills `moisture` of a section whose plan stands; a caution where a facing stays below the dew
/// point.
void add_moisture(WorkedSection& result, const BuiltSection& built, const Survey& survey,
                  Notes& notes);

/// What a drawing of a floor shows; needs the top-up. Nothing for lids, slopes and walls.
void add_cut(WorkedSection& result, const BuiltSection& built, const Blow& blow,
             const Survey& survey, const Tables& tables);

/// Holds the claims of a quote against sections, attic and totals.
void hold_claims(Evaluation& e, const Survey& survey, const Proposal& proposal);
/// Holds rebate rules against what either end blows, by the working R of those sections and the
/// cost of all.
void hold_rebates(Evaluation& e, const Survey& survey);

/// What is said of a batt that lies thinner than its label says.
void squeezed_cautions(const std::string& where, const BuiltLayer& layer, Length thinnest,
                       Notes& notes);
/// Cautions of hazards and of the house's age.
void attic_cautions(const Survey& survey, const Tables& tables, Notes& notes);
/// Cautions that follow from a section as found, and from what is planned for it.
void section_cautions(const BuiltSection& built, const Tables& tables, Notes& notes);
void plan_cautions(const BuiltSection& built, const WorkedSection& result, const Blow& blow,
                   const CeilingLimit* limit, const Tables& tables, Notes& notes);

/// While a fill taken as asbestos is not cleared, the result says so, and no reading is asked for.
void keep_hands_off(Evaluation& e, Notes& notes);

/// True of a layer with paper or foil on it, as far as the survey says.
inline bool is_faced(const Layer& layer) {
  return layer.facing == Facing::kraft || layer.facing == Facing::foil ||
         layer.facing_side.has_value();
}
/// Sprayed foam; other things are sprayed too, such as damp cellulose.
bool is_foam(const Material& m);

/// Cautions on facings, once `moisture` stands: where the air of winter is known its verdict takes
/// the place of the rule of thumb.
void facing_cautions(const BuiltSection& built, const SectionResult& result, Notes& notes);

/// Cautions on what is beyond a threshold of `data/plausible.json`: of one section, and of the rest
/// of the survey.
void plausible_section(const BuiltSection& built, const Survey& survey, const Tables& tables,
                       Notes& notes);
void plausible_survey(const Survey& survey, const Tables& tables, Notes& notes);

/// Sealing, leakage, vents and counts into `e.plan`; needs sections, totals and target.
void plan_job(Evaluation& e, const Survey& survey, const Tables& tables, Notes& notes);
/// What still stands in the way of the work; needs the finished cautions and plan.
Readiness readiness(const Evaluation& e, const Survey& survey, const Tables& tables);

}  // namespace overjoist::parts
