// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "overjoist/readings.hpp"
#include "overjoist/units.hpp"

/// Ranges at 90 % (model 15, method eq. 15): how uneven depth and the material's R per inch blur a
/// U, and what follows. Not counted: areas, films, framing, a label's own tolerance, readings that
/// were not taken at random. Pure and thread safe. Reached by every command that shows an R.
namespace overjoist {

struct ResistanceRange {
  Resistance low;
  std::optional<Resistance> high;  ///< empty: no upper limit
};

/// 0.95 quantile of Student's t, so that +-t holds 90 %; within 1e-6.
/// @param degrees  of freedom, >= 1, need not be whole  @throws Error{out_of_range}
double student_t_95(double degrees);

/// Effective number of readings, (sum w)^2 / sum w^2 over their shares; their count where no shares
/// are given. A span counts as one.
/// @returns 0 without readings
double effective_count(const std::vector<Reading>& readings);

/// Half width of the 90 % interval of a mean for each unit of deviation, t/sqrt(n); 0 below 2
/// readings: unevenness unknown.
double half_width_per_deviation(double count);

/// Mean and scatter of a local U over spots. Pieces of one spot (voids beside what lies there) come
/// one after the other and are averaged first: they are shares of every spot, not a difference
/// between spots.
class SpotScatter {
 public:
  /// @param share  of the section's area  @param u  film to film [Btu/(h·ft2·°F)]
  void add(std::size_t spot, double share, double u);
  double mean() const;  ///< [Btu/(h·ft2·°F)]
  /// Standard deviation between spots, with n/(n - 1) [Btu/(h·ft2·°F)]; 0 below 2 readings.
  double deviation(double count) const;

 private:
  /// Sums over the spots of share, share·d and share·d^2, d = local U less that of the first spot:
  /// equal spots scatter by exactly 0.
  struct Sums {
    double first = 0.0, share = 0.0, d = 0.0, d2 = 0.0;
  };
  Sums closed() const;  ///< with the open spot in it

  Sums sums_;
  std::size_t spot_ = 0;
  double open_share_ = 0.0, open_sum_ = 0.0;  ///< of the spot whose pieces are coming in
};

/// U over the spots of a section: what is covered scatters, the bare ceiling has one U.
class CoveredScatter {
 public:
  struct Place {
    std::size_t spot;
    double share;  ///< of the section's area; 0: not there, only what it would be if it were
    bool bare;
  };
  /// @param each  keeps the mean of each spot
  explicit CoveredScatter(bool each = false) : each_(each) {}
  void add(const Place& place, double u);
  double mean() const { return share_ > 0 ? first_ + sum_ / share_ : bare_u_; }  ///< of all
  double bare_u() const { return bare_u_; }  ///< of the bare place that was added last
  const SpotScatter& covered() const { return covered_; }
  double mean_of(std::size_t spot) const { return spots_[spot].sum / spots_[spot].share; }

 private:
  struct Sum {
    double share = 0.0, sum = 0.0;
  };
  bool each_;
  double share_ = 0.0, first_ = 0.0, sum_ = 0.0, bare_u_ = 0.0;
  SpotScatter covered_;
  std::vector<Sum> spots_;
};

/// A U with what blurs it [Btu/(h·ft2·°F)].
struct UncertainU {
  double u = 0.0;
  double half = 0.0;  ///< by uneven depth, either way
  double up = 0.0;    ///< to the U with every material at its low R per inch; >= 0
  double down = 0.0;  ///< to the U with every material at its high R per inch; >= 0
  double highest() const;
  double lowest() const;  ///< may be 0 or less: then R has no upper limit
};

/// Range of 1/u - ends, each side a root sum of squares on U; the low end is never below 0.
ResistanceRange resistance_range(const UncertainU& u, Resistance ends);
/// The same of the ends of U.  @param u_lowest  at 0 or less R has no upper limit
ResistanceRange resistance_range(double u_lowest, double u_highest, Resistance ends);

/// Least number of readings whose 90 % interval is within +-5 % of the mean U, were they as
/// scattered as these. Random, independent positions are taken for granted.  @param variation
/// deviation / mean of the local U, >= 0
/// @returns empty above 1 000 000
std::optional<int> readings_for_five_percent(double variation);

/// A range held against a limit (model 15).
enum class Verdict { meets, short_of, too_close };
/// @param unevenness_known  false where there are fewer than 2 readings' worth: then it is never
/// `meets`
Verdict verdict_of(const ResistanceRange& range, Resistance limit, bool unevenness_known);

}  // namespace overjoist
