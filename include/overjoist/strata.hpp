// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <span>

#include "overjoist/materials.hpp"
#include "overjoist/ranges.hpp"

/// Ranges that hold where parts of an attic are bare (method eq. 15b): a bare area that was
/// measured is a stratum of its own, one that nobody measured has a stated prior, shares that are
/// given are strata and no draws. U in Btu/(h·ft2·°F), film to film. Pure in effect and thread
/// safe; deterministic.
namespace overjoist {

/// What is taken for granted where readings do not say it: our own assumption, figures of
/// `data/bypasses.json`.
struct RangePrior {
  double bare = 0.0;      ///< bare readings before any was taken; >= 1/2
  double covered = 0.0;   ///< covered readings before any was taken; > 0
  double readings = 0.0;  ///< that the variation below weighs on the variance of covered spots; > 0
  double variation = 0.0;    ///< deviation over mean of the U of covered spots; > 0
  double least = 0.0;        ///< of its mean, below which the U of covered spots is not let; 0..1
  double bare_error = 0.0;   ///< relative standard error of a bare area that was measured; >= 0
  Length bare_depth{};       ///< a spot below it is bare
  double label_below = 0.0;  ///< share by which new goods may lie below the R of their label
};
RangePrior range_prior(const Tables& tables);

/// U of the spots that are covered, each reading with the same weight.
struct CoveredSpots {
  double mean = 0.0;      ///< > 0
  double variance = 0.0;  ///< about the mean, over the count itself; >= 0
  double count = 0.0;     ///< of readings, a span counts as one; > 0
};
/// From a scatter that holds covered spots alone.
CoveredSpots covered_spots(const SpotScatter& scatter, double count);

/// A mean with the half of its 90 % interval.
struct MeanU {
  double mean = 0.0, half = 0.0;
};

/// Mean U of what is covered, by Student's t: on the readings alone from three on, with the prior
/// below. @throws Error{out_of_range} naming the value
MeanU covered_mean(const CoveredSpots& spots, const RangePrior& prior);

/// One share of the area that the survey gives.
struct Stratum {
  double share = 0.0;     ///< of the area; shares need not add to 1, they are scaled
  double mean = 0.0;      ///< U there; > 0
  double variance = 0.0;  ///< about its mean, over the count itself: a span has two ends
  double count = 1.0;     ///< of readings; >= 1
  bool bare = false;      ///< nothing there varies
};
/// Mean U over strata: variance sum w²·s²/n, s in proportion to the mean of its stratum, pooled
/// over them, with the prior where one reading stands for a stratum.
/// @throws Error{out_of_range} naming the value
MeanU strata_mean(std::span<const Stratum> strata, const RangePrior& prior);

/// Mean U of a section with what the readings say about it, 90 %.
struct ReadU {
  double u = 0.0;                ///< central
  double low = 0.0, high = 0.0;  ///< 0 < low <= u <= high
};

/// A bare area that was measured.
struct MeasuredBare {
  double share = 0.0;           ///< of the section, 0..1
  std::optional<double> error;  ///< relative standard error; empty: the prior's
  double u = 0.0;               ///< there
  double most = 0.0;            ///< U of the bare ceiling, which no end is above; 0: as there
};
/// The bare part beside the covered mean: both errors add in squares.
/// @throws Error{out_of_range} naming the value
ReadU measured_bare(const MeanU& covered, const MeasuredBare& bare, const RangePrior& prior);

/// What readings at random places found.
struct SampledBare {
  CoveredSpots covered;  ///< count 0: none
  double bare = 0.0;     ///< number of bare readings, >= 0
  double u = 0.0;        ///< bare ceiling: no end is above it
};
/// Nobody measured the bare area: its share is Beta(prior + bare, prior + covered readings), the
/// covered U Student's t with the prior's variance; 25 midpoint quantiles of either make 625
/// values, of which the 32nd least and the 32nd greatest are the ends, widened to the central
/// value. Some 1 microsecond, 30 where the pair of counts was not asked for before by this thread.
/// @throws Error{out_of_range} naming the value
ReadU sampled_bare(const SampledBare& found, const RangePrior& prior);

/// The same under new fill, where the bare spots need not be the worst: each side of the bare share
/// and of the covered U by itself, in squares. The prior's variation is that under the fill.
/// @param most  U of the bare ceiling  @throws Error{out_of_range} naming the value
ReadU filled_bare(const SampledBare& found, double most, const RangePrior& prior);

/// That with the materials' part, each side in squares; no R below that of the bare ceiling.
/// @param up, down  to the U with every material at its low and at its high R per inch; >= 0
ReadU with_materials(const ReadU& read, double up, double down, double u_bare);

/// Range of 1/u - ends; the low end is never below 0.  @param u  with a low end above 0
ResistanceRange resistance_range(const ReadU& u, Resistance ends);

}  // namespace overjoist
