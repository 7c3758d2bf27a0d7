// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "evaluate/floor.hpp"
#include "overjoist/strata.hpp"

/// What the readings of a section say about its mean U (method eq. 15b).
namespace overjoist::parts {

/// Bay alone and both paths.
struct TwoUs {
  double bay = 0.0, both = 0.0;
  double of(Basis basis) const { return basis == Basis::working ? bay : both; }
};
/// U of the section's ceiling where nothing lies on it, film to film.
SpotPaths bare_paths(const BuiltSection& built);
TwoUs bare_u(const BuiltSection& built);

/// How a scatter differs from that of what was found.
struct Seen {
  double most = 0.0;    ///< U of the bare ceiling, which no end is above
  bool filled = false;  ///< new goods lie on it
  double scale = 1.0;   ///< of the prior's variation under them
};

class Evidence {
 public:
  Evidence(const BuiltSection& built, const RangePrior& prior);

  /// Mean U with both ends at 90 %, of what a scatter of the section's spots shows.
  ReadU of(const CoveredScatter& scatter, const Seen& seen) const;
  bool by_each() const { return !strata_.empty(); }  ///< needs the mean of each spot
  /// Two readings or more, or nothing lies there.
  bool known() const { return known_; }
  /// Readings at random places are all that tells of the bare part.
  bool bare_by_prior() const { return covered_ > 0 && !measured_ && strata_.empty(); }
  double covered() const { return covered_; }  ///< readings of what is covered; 0: nothing blurs it
  double bare() const { return bare_; }
  const RangePrior& prior() const { return prior_; }

 private:
  /// A reading whose share of the area is given; of a span its two ends.
  struct Told {
    double share;
    std::size_t from, to;  ///< spots
    bool bare;
  };
  void tell_strata(const BuiltSection& built);
  MeanU of_strata(const CoveredScatter& scatter, const RangePrior& prior) const;

  const RangePrior& prior_;
  double covered_ = 0.0, bare_ = 0.0;
  bool known_ = false;
  std::optional<MeasuredBare> measured_;
  std::vector<Told> strata_;
};

}  // namespace overjoist::parts
