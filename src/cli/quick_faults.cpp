// SPDX-License-Identifier: MIT
#include <array>
#include <string_view>
#include <utility>

#include "cli/quick_survey.hpp"
#include "words/faults.hpp"

// What is wrong with the flags of quick, in their own words.
namespace overjoist::cli {
namespace {

using F = io::FaultCode;

/// Which flag a place in the survey came from, longest pointer first.
constexpr std::array<std::pair<std::string_view, std::string_view>, 28> kFlags = {{
    {"/sections/0/layers/0/label_r", "--label-r"},
    {"/sections/0/layers/0/label_thickness_in", "--label-thickness"},
    {"/sections/0/layers/0/material", "--material"},
    {"/sections/0/layers/0", "--material"},
    {"/sections/0/area_ft2", "--area"},
    {"/sections/0/readings", "--depth"},
    {"/sections/0/bare_area_ft2", "--bare"},
    {"/sections/0/bare_share", "--bare"},
    {"/sections/0/joists/size", "--joist"},
    {"/sections/0/joists/spacing_in", "--spacing"},
    {"/sections/0/ceiling", "--ceiling"},
    {"/site/climate_zone", "--zone"},
    {"/target/low_r", "--target-low"},
    {"/target/high_r", "--target-high"},
    {"/proposal/material", "--add"},
    {"/proposal/bag_net_lb", "--bag-lb"},
    {"/proposal/price_per_bag", "--bag-price"},
    {"/proposal/labour", "--labour-per-ft2"},
    {"/proposal/currency", "--currency"},
    {"/heating/fuel", "--fuel"},
    {"/heating/efficiency", "--efficiency"},
    {"/heating/cop", "--cop"},
    {"/heating/price_per_unit", "--fuel-price"},
    {"/heating/hdd_f_day", "--degree-days"},
    {"/heating/base_f", "--degree-days"},
    {"/heating", "--fuel"},
    {"/compare", "--compare"},
    {"/sections/0", "--area"},
}};

std::string_view flag_at(std::string_view pointer) {
  for (const auto& [place, flag] : kFlags)
    if (pointer.substr(0, place.size()) == place) return flag;
  return pointer;
}

}  // namespace

Diagnostics by_flag(Diagnostics faults) {
  for (Diagnostic& d : faults) {
    // A fault that only the evaluation finds is told without a key of the survey.
    if (const io::FaultRow* const row = io::row_called(d.code)) {
      io::FaultText text = io::say(*row, d.values, io::Reads::flags);
      d.message = std::move(text.message);
      d.hint = std::move(text.hint);
    }
    d.pointer = flag_at(d.pointer);
    d.line = d.column = 0;
  }
  return faults;
}

Diagnostics label_faults(const QuickOptions& o) {
  if (!o.material.empty() && o.material != "none") return {};
  Diagnostics faults;
  for (const auto& [told, flag] :
       {std::pair(&o.label_r, "--label-r"), std::pair(&o.thickness, "--label-thickness")}) {
    if (told->empty()) continue;
    faults.push_back(io::diagnostic_of(std::string(flag),
                                       o.material.empty() ? io::make_fault<F::label_of_unknown>()
                                                          : io::make_fault<F::label_of_nothing>()));
  }
  return faults;
}

}  // namespace overjoist::cli
