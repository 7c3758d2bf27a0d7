// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "evaluate/chain.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/inspect.hpp"

/// Parts of `inspect`, private to it.
namespace overjoist::parts {

/// Bags that a tag states, for the R that was sold.
struct TagBags {
  double bags = 0.0;
  bool scaled = false;  ///< in proportion: the tag states another R
};

/// A floor that was to be blown, with all it takes to turn bags and depths into levels.
struct BlownFloor {
  const BuiltSection& built;
  const BaseFloor& floor;
  const Blow& blow;
  const TopUp& plan;
  const TopUp* by_tag = nullptr;      ///< the plan by the tag's own R per inch and a light bag;
                                      ///< null: a chart, or no tag that can be
  double tag_settling = 0.0;          ///< share of the initial thickness, of that plan
  bool tag_rated = false;             ///< that R per inch is the tag's, not the material's best
  std::optional<TagBags> tag_bags{};  ///< that the tag states of this floor
  bool lightest = false;  ///< bags are taken as the lightest fill: where they stand alone, R by
                          ///< them is then a most
};

/// Depths read, merged to distinct ones with their shares.
struct DepthsRead {
  std::vector<Spot> spots;
  DepthKind kind = DepthKind::initial;
};

/// The flat level that a count of bags makes at the label's density, rounded down; that of the
/// chart's end at most. Without a chart at the plan's density, or at the lightest.
Length level_of_bags(const BlownFloor& f, double bags);
/// The flat level with the working R of the depths that were read, every one over every spot where
/// they are initial, the deepest over the deepest where they are settled.
Length level_of_depths(const BlownFloor& f, const DepthsRead& depths);
/// The new layer by itself.  @param bags  of the section, empty: not known  @param depths  null:
/// not read
NewLayerBuilt new_layer_built(const BlownFloor& f, std::optional<double> bags,
                              const DepthsRead* depths);
/// The most R that the new layer of a level may have: the level is that of the whole section as
/// built, so that both agree.
Resistance most_of_level(const BlownFloor& f, Length level);
/// Bag weight on the bays, less waste.
MassPerArea weight_of_bags(const BlownFloor& f, double bags);
/// Settled thickness of an even layer of so many bags, of the heaviest and of the lightest that the
/// fill may be; one by a chart.
struct LayerOfBags {
  Length least, most;
};
LayerOfBags layer_of_bags(const BlownFloor& f, double bags);
/// Mean settled thickness of the new layer by the depths read.
Length layer_of_depths(const BlownFloor& f, const DepthsRead& depths);

/// What the lists and papers are made from.
struct InspectWork {
  const Survey& survey;  ///< with the hazards and papers of the record
  const Record& record;
  const Tables& tables;
  const Evaluation& plan;  ///< with the fill that was used and the areas as insulated
  const Planned& job;      ///< of it, what was sold
  const Planned* by_tag;   ///< the same with the fill of `TaggedFill`; null without one
  double tag_settling;
  bool tag_rated;
  const Blow& blow;
};
std::vector<CountCheck> check_counts(const InspectWork& w);
std::vector<SealCheck> check_sealing(const InspectWork& w);
std::vector<HazardCheck> check_hazards(const InspectWork& w);
std::vector<TagCheck> check_tag(const InspectWork& w);
Receipt make_receipt(const InspectWork& w, const Inspection& inspection);

/// What the quote sells rules where the record does not say which end of the band was sold: its
/// final R, of the whole attic or of a section, where it names just one.  @returns true if it is
/// the whole attic's
bool sell_quote(Survey& s, const std::vector<Claim>& claims, const Record& record);

/// The flat level that each floor was sold by inches; empty where an R was sold.
using SoldLevels = std::vector<std::optional<Length>>;
/// The inches of a quote rule where it names no final R, and the record no end of the band: initial
/// before settled before added ones. The survey's floors get the R of their level as their target.
SoldLevels sell_inches(Survey& s, const std::vector<Claim>& claims, const Record& record,
                       const Tables& tables);
/// The plan of what was sold: that of the target, and the levels that were sold as they are.
Evaluation sold_plan(const Survey& s, const Tables& tables, const SoldLevels& levels);

/// The survey with the fill as its tag has it, where no chart is known: the tag's own R per inch,
/// or the most that the material may have where the tag tells none, and the lightest that the
/// material comes.
struct TaggedFill {
  Survey survey;
  double settling = 0.0;
  bool rated = false;  ///< the R per inch is the tag's own, not the material's best
};
/// The bags that the tag states of the one floor that is blown, for what was sold; empty where it
/// tells no R or no bags, where several floors take fill, and where no such fill is so light.
std::optional<TagBags> bags_by_tag(const InspectWork& w, const BlownFloor& floor);
/// @returns empty with a chart, without a tag, and where the material cannot have the tag's R
std::optional<TaggedFill> tagged_fill(const Survey& used, const Record& record, const Blow& blow);

int hazards_of_kind(const Survey& survey, const std::string& kind);
/// True if this paper speaks of this hazard. Without a place it speaks of the only one of its kind,
/// or of none.
bool clears(const Survey& survey, const ClearedHazard& paper, const Hazard& hazard);
/// The hazard as the record's paper clears it.
Hazard with_paper(const Hazard& hazard, const ClearedHazard& paper);
/// The paper of the record that clears the hazard; else the first that speaks of it; else null.
const ClearedHazard* paper_for(const Hazard& hazard, const Survey& survey, const Record& record,
                               const Tables& tables);
/// What the record says of a section, or null.
const RecordSection* recorded(const Record& record, const std::string& name);

/// Bags of each section: its own count, or its part of what was counted together.
struct BagCount {
  std::optional<double> used;
  bool shared = false;
};

struct Bags {
  std::vector<BagCount> sections;
  std::optional<double> rest, rest_needed;  ///< counted together, and what those sections take
  double rest_least = 0.0;                  ///< what they take at the least, by a tag
  std::optional<double> unplaced;
  bool with_cavity =
      false;  ///< the whole count holds what went into slopes or walls too, and cannot be parted
};

Bags place_bags(const InspectWork& w, const std::vector<SectionInspection>& sections);
/// The least bags that prove the plan, by a tag where there is one.
double least_bags(const TopUp& plan, const TopUp* by_tag);
/// Whole bags that are missing, with the slack of `reaches`.
double bags_short(double used, double needed);

/// Everything that a section is judged with.
struct Judge {
  const InspectWork& w;
  const Bags& bags;
  Notes& notes;
};

/// A section of the record, and how the attic was left.
struct Left {
  LeftAs as;
  bool known = true;
};

/// Judges a section.  @param built_survey  the section of the survey as built: what the record says
/// of a lid goes into it
Left judge_section(const Judge& j, SectionInspection& s, std::size_t index, Section& built_survey);

/// A lid by what the record says of it, which goes into the section as built.
void judge_lid(const Judge& j, SectionInspection& s, Section& built);

/// The survey with what the record says of hazards and papers.
Survey with_record(const Survey& survey, const Record& record, const Tables& tables);
/// The survey with the fill that was used and the areas as insulated, never less than was surveyed:
/// what was sold and not done is a shortfall, not a smaller job.  @returns false if neither differs
bool use_record(Survey& s, const Record& record);
/// Areas and clearances of the record that do not stand against the survey as they are written.
void say_differences(const Survey& survey, const Record& record, Notes& notes);
/// What the inspection takes as it was not told.
void say_terms(const Inspection& in, const Record& record, const Bags& bags, const Blow& blow,
               Notes& notes);

/// True if the plan puts loose fill here.
inline bool is_blown(const TopUp& t) { return t.adds() && t.batts.empty(); }

}  // namespace overjoist::parts
