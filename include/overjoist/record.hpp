// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "overjoist/ends.hpp"
#include "overjoist/survey.hpp"

/// The record of a finished job as plain structs; it knows no JSON. An empty optional means 'not
/// recorded': `inspect` judges what can be judged and says what cannot. Field meanings and ranges
/// are those of data/record.schema.json.
namespace overjoist {

/// When depths were read. Unknown ones are judged as initial: the stricter way.
enum class DepthKind { initial, settled };
/// The end of the target band that was sold.

/// What was done in one section of the survey.
struct RecordSection {
  std::string name;             ///< of a section of the survey
  std::optional<double> bags;   ///< opened for this section alone
  std::vector<Reading> depths;  ///< from the ceiling to the top of the insulation, as in the survey
  std::optional<Area> area;     ///< where it turned out another than surveyed
  std::optional<bool> done;     ///< a slope, a knee wall or a lid: done as planned
  std::optional<Resistance> insulation_r;  ///< on a lid, as built
  std::optional<bool> weatherstripped, latched;
};

struct Installer {
  std::string name, address, license;
};

/// What a tag or receipt of the installer says; proves nothing by itself.
struct TagClaim {
  std::optional<Resistance> r;
  std::optional<Length> initial, settled;  ///< of the new layer
  std::optional<double> bags;
};

/// What was counted on site.
struct RecordCounts {
  std::optional<int> markers, baffles, dams, covers, flags;
};

/// A bypass that was sealed.
struct SealTick {
  std::string kind, where;  ///< where "": one of the kind
};

/// A hazard of the survey that was cleared.
struct ClearedHazard {
  std::string kind, where;  ///< where "": the only one of the kind
  std::string by, trade, date, paper;
};

struct Record {
  std::string id, survey, notes;
  std::string date;  ///< YYYY-MM-DD, echoed only
  Installer installer;
  std::optional<End> sold;
  std::string material, maker;     ///< "" if not given: as proposed
  std::optional<Product> product;  ///< with its label's chart
  std::optional<Mass> bag_net;
  std::optional<double> waste_percent;
  std::optional<double> bags;  ///< of the whole job
  std::optional<DepthKind> depths_are;
  std::vector<RecordSection> sections;
  std::optional<TagClaim> tag;
  RecordCounts counts;
  std::vector<SealTick> sealed;
  std::vector<ClearedHazard> cleared;
  std::vector<std::string> changes;  ///< what changed on site
  std::vector<std::string> papers;   ///< that the record holds
  std::vector<std::pair<std::string, std::string>>
      extras;  ///< x_ keys of the top level and their raw JSON text
};

/// The survey's proposal with what the record says was really used: another product takes the place
/// of the proposed one, another material that of product and chart too.  @returns empty where
/// neither says anything
std::optional<Proposal> used_proposal(const Survey& survey, const Record& record);

}  // namespace overjoist
