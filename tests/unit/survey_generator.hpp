// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cmath>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

/// Surveys by chance, as JSON that the reader must accept: every kind of section, fill, proposal
/// and list. All figures are invented. The same seed gives the same surveys everywhere: only the
/// bits of std::mt19937 are used, no distribution of the library.
namespace survey_generator {

using Json = nlohmann::json;

class Maker {
 public:
  explicit Maker(unsigned seed) : random_(seed) {}

  Json survey() {
    Json s = {{"format", "overjoist-survey"},
              {"version", 1},
              {"id", fmt::format("made-{}", ++made_)},
              {"x_mark", made_}};
    const bool foam = chance(12);
    s["sections"] = sections(foam);
    s["proposal"] = foam ? foam_proposal() : proposal();
    if (!foam && chance(5)) s["compare"] = Json::array({proposal(), proposal()});
    s["site"] = site();
    if (chance(2)) s["target"] = target();
    house(s);
    lists(s);
    return s;
  }

 private:
  // ---- chance

  unsigned below(unsigned n) { return static_cast<unsigned>(random_() % n); }
  bool chance(unsigned one_in) { return below(one_in) == 0; }
  int between(int low, int high) {
    return low + static_cast<int>(below(static_cast<unsigned>(high - low + 1)));
  }
  /// Quarters of an inch, so that millimeters print it whole.
  double quarters(int low, int high) { return between(low * 4, high * 4) / 4.0; }
  template <std::size_t N>
  std::string one_of(const std::array<const char*, N>& words) {
    return words[below(N)];
  }

  // ---- sections

  Json sections(bool foam) {
    Json list = Json::array({floor("floor 0", foam)});
    const int more = between(0, 3);
    for (int i = 1; i <= more; ++i) {
      const std::string name = fmt::format("part {}", i);
      const unsigned kind = below(4);
      list.push_back(kind == 0   ? lid(name)
                     : kind == 1 ? slope(name)
                     : kind == 2 ? knee_wall(name)
                                 : floor(name, foam));
    }
    return list;
  }

  Json floor(const std::string& name, bool foam) {
    static constexpr std::array<const char*, 4> kinds = {"flat", "decked", "side-attic-floor",
                                                         "dropped-soffit"};
    Json s = {
        {"name", name}, {"kind", foam ? "flat" : one_of(kinds)}, {"area_ft2", between(300, 2500)}};
    const bool decked = s["kind"] == "decked";
    if (decked)
      s["deck"] =
          chance(2) ? Json("plywood-3/4") : Json({{"material", "osb"}, {"thickness_in", 0.5}});
    if (!chance(4))
      s["ceiling"] =
          chance(3) ? Json(0.6) : Json(one_of<3>({"gypsum-1/2", "gypsum-5/8", "plaster-lath"}));
    if (chance(6)) s["below"] = "unheated";
    const double joist = joists(s, "joists");
    layers(s, foam, decked ? joist : 14.0);
    if (!decked && chance(5)) s["headroom_in"] = quarters(16, 24);
    if ((s["kind"] == "flat" || s["kind"] == "side-attic-floor") && chance(6))
      s["eave"] = {{"heel_in", quarters(2, 10)},
                   {"pitch_in_12", between(3, 12)},
                   {"length_ft", between(5, 30)}};
    if (chance(4))
      s["patches"] =
          Json::array({{{"kind", "light-cover"}, {"area_ft2", between(1, 6)}, {"where", "hall"}}});
    if (chance(2)) s["bypasses"] = bypasses();
    return s;
  }

  /// @returns the depth of the wood, in.
  double joists(Json& s, const char* key) {
    if (chance(4)) return s["kind"] == "knee-wall" ? 3.5 : 5.5;
    static constexpr std::array<const char*, 4> sizes = {"2x4", "2x6", "2x8", "2x10"};
    static constexpr std::array<double, 4> depths = {3.5, 5.5, 7.25, 9.25},
                                           spacings = {12, 16, 19.25, 24};
    const unsigned size = below(4);
    s[key] = {{"size", sizes[size]}, {"spacing_in", spacings[below(4)]}};
    if (chance(5)) s[key]["framing_fraction"] = between(5, 20) / 100.0;
    return depths[size];
  }

  Json loose() {
    return {{"material", one_of<6>({"cellulose-loose", "glass-fiber-loose", "rock-wool-loose",
                                    "unknown-loose", "vermiculite", "wood-chips"})}};
  }
  Json batt() {
    static constexpr std::array<std::array<double, 2>, 4> labels = {
        {{11, 3.5}, {13, 3.5}, {19, 6.25}, {30, 10}}};
    const auto& label = labels[below(4)];
    return {{"material", one_of<3>({"glass-fiber-batt", "rock-wool-batt", "cotton-batt"})},
            {"label_r", label[0]},
            {"label_thickness_in", label[1]}};
  }

  /// Layers and readings of a floor: bare, loose, batts, loose over batts, batts across, loose over
  /// a board.
  void layers(Json& s, bool foam, double deepest) {
    const unsigned stack = foam ? below(2) : below(7);
    double board = 0;
    Json list = Json::array();
    if (stack == 1 || stack >= 5) list.push_back(loose());
    if (stack == 2 || stack == 3) list.push_back(batt());
    if (stack == 3) list.push_back(loose());
    if (stack == 4 && deepest > 12) {
      list.push_back(batt());
      list.push_back(batt());
      list.back()["lies"] = "across";
    }
    if (stack == 5 && deepest > 12) {
      board = 1;
      list.insert(list.begin(),
                  Json{{"material", one_of<3>({"xps-board", "eps-board", "polyiso-board"})},
                       {"thickness_in", board}});
    }
    if (foam && !list.empty())
      list[0]["condition"] = "remove";
    else if (!list.empty() && chance(4))
      condition(list.back());
    const bool bare = list.empty();
    if (!bare) s["layers"] = std::move(list);
    s["readings"] = readings(bare ? 0.0 : deepest, board);
  }

  void condition(Json& layer) {
    layer["condition"] = one_of<4>({"voids", "wet", "soiled", "remove"});
    if (layer["condition"] == "voids" && chance(2)) layer["void_share"] = between(1, 10) / 100.0;
    if (chance(3) && layer.contains("label_r")) layer["facing"] = one_of<2>({"kraft", "foil"});
  }

  Json readings(double deepest, double board) {
    if (!(deepest > 0)) return Json::array({0});
    const auto depth = [&] {
      return board > 0 ? quarters(1, static_cast<int>(deepest))
                       : quarters(0, static_cast<int>(deepest));
    };
    const int n = chance(5) ? 1 : between(2, 9);
    const bool shares = chance(4), spans = !shares && chance(4);
    Json list = Json::array();
    for (int i = 0; i < n; ++i) {
      const double d = board <= 0 && chance(8) ? 0.0 : depth();
      if (shares)
        list.push_back({{"depth", d}, {"share", 1.0 / n}});
      else if (spans && chance(3))
        list.push_back(
            fmt::format("{} to {} in", std::min(d, deepest - 1), std::min(d, deepest - 1) + 1));
      else
        list.push_back(d);
    }
    return list;
  }

  Json lid(const std::string& name) {
    Json s = {{"name", name},
              {"kind", chance(3) ? "pull-down-stair" : "hatch"},
              {"area_ft2", between(4, 14)}};
    s[chance(3) ? "total_r" : "insulation_r"] = between(1, 12);
    if (chance(2)) s["after_insulation_r"] = between(10, 49);
    return s;
  }

  Json cavity_add() {
    Json add = chance(2)
                   ? batt()
                   : Json{{"material",
                           one_of<3>({"cellulose-dense", "glass-fiber-dense", "rock-wool-batt"})}};
    if (add["material"] == "rock-wool-batt" && !add.contains("label_r"))
      add.update({{"label_r", 15}, {"label_thickness_in", 3.5}});
    return add;
  }

  Json slope(const std::string& name) {
    Json s = {{"name", name},
              {"kind", "slope"},
              {"area_ft2", between(80, 600)},
              {"layers", Json::array()}};
    joists(s, "rafters");
    if (chance(2))
      s["layers"] = Json::array({{{"material", "glass-fiber-batt"},
                                  {"label_r", 11},
                                  {"label_thickness_in", 3.5},
                                  {"thickness_in", 2.25}}});
    if (chance(2)) s["vent_gap_in"] = chance(3) ? 0.0 : 1.0;
    if (!chance(3)) s["add"] = cavity_add();
    if (chance(3)) s["continuous_r"] = between(3, 12);
    if (chance(3)) s["target_r"] = between(19, 38);
    return s;
  }

  Json knee_wall(const std::string& name) {
    Json s = {{"name", name},
              {"kind", "knee-wall"},
              {"area_ft2", between(60, 300)},
              {"layers", Json::array()}};
    joists(s, "studs");
    if (chance(2))
      s["layers"] = Json::array(
          {{{"material", "glass-fiber-batt"}, {"label_r", 11}, {"label_thickness_in", 3.5}}});
    if (!chance(3)) s["add"] = cavity_add();
    if (chance(3)) s["backing"] = "plywood-1/2";
    if (chance(3)) s["continuous_r"] = between(3, 12);
    return s;
  }

  Json bypasses() {
    static constexpr std::array<const char*, 10> counted = {
        "bath-fan",    "ceiling-box",    "duct-boot",         "flue",
        "kitchen-fan", "plumbing-stack", "recessed-light-ic", "recessed-light-non-ic",
        "wire-hole",   "masonry-chimney"};
    Json list =
        Json::array({{{"kind", one_of(counted)}, {"count", between(1, 9)}, {"where", "bath"}}});
    if (chance(2)) list.push_back({{"kind", "top-plate"}, {"length_ft", between(4, 90)}});
    if (chance(2))
      list.push_back({{"kind", one_of<2>({"open-chase", "dropped-soffit"})},
                      {"length_ft", between(2, 6)},
                      {"width_in", between(6, 30)}});
    return list;
  }

  // ---- proposals

  Json foam_proposal() {
    return {{"material", one_of<2>({"spray-foam-closed", "spray-foam-open"})},
            {"price_per_board_ft", between(1, 3) / 2.0}};
  }

  Json proposal() {
    const unsigned kind = below(4);
    Json p = kind == 0 ? laid()
             : kind == 1
                 ? product()
                 : Json{{"material",
                         one_of<3>({"cellulose-loose", "glass-fiber-loose", "rock-wool-loose"})}};
    if (kind >= 2 && chance(2)) p["bag_net_lb"] = between(19, 36);
    if (kind >= 1 && chance(2)) p["price_per_bag"] = between(20, 90) / 2.0;
    if (chance(2)) p["waste_percent"] = between(0, 15);
    if (chance(2))
      p["labour"] =
          chance(2) ? Json{{"price_per_ft2", 0.5}} : Json{{"hours", 12}, {"price_per_hour", 55}};
    if (chance(2))
      p["extras"] = Json::array({{{"what", "dams"}, {"price", 120}},
                                 {{"what", "wiring"}, {"price", 300}, {"part", "safety"}}});
    return p;
  }

  /// A chart whose weight times coverage is the bag, a little uneven in depth, as labels are.
  Json product() {
    const double psf_inch = between(10, 16) / 100.0, bag = between(20, 30);
    Json rows = Json::array();
    for (int r : {11, 19, 30, 38, 49, 60}) {
      const double settled = std::round(r / 3.6 * 4) / 4,
                   weight = settled * psf_inch * (1 + r / 400.0);
      rows.push_back({{"r", r},
                      {"settled_thickness_in", settled},
                      {"initial_thickness_in", settled * 1.125},
                      {"coverage_ft2", bag / weight},
                      {"weight_psf", weight}});
    }
    return {{"product",
             {{"name", "invented fill"}, {"chart", rows}, {"chart_deducts_framing", chance(2)}}},
            {"bag_net_lb", bag}};
  }

  Json laid() {
    Json list = Json::array(
        {{{"name", "thin"}, {"label_r", 13}, {"label_thickness_in", 3.5}, {"coverage_ft2", 88}},
         {{"name", "middle"},
          {"label_r", 19},
          {"label_thickness_in", 6.25},
          {"coverage_ft2", 75},
          {"package_lb", 20}},
         {{"name", "thick"}, {"label_r", 38}, {"label_thickness_in", 12}, {"coverage_ft2", 42}}});
    if (chance(2))
      list.push_back({{"name", "board"},
                      {"material", "polyiso-board"},
                      {"label_thickness_in", 2},
                      {"coverage_ft2", 32}});
    if (chance(2))
      for (Json& p : list) p["price_per_package"] = between(30, 90);
    return {{"batts", list}};
  }

  // ---- the house

  Json site() {
    Json s = {{"year_built", between(1900, 2020)}, {"storeys", between(1, 3)}};
    if (chance(3))
      s.update({{"hdd65_f_day", between(1000, 9000)}, {"cdd50_f_day", between(500, 5000)}});
    else if (!chance(4))
      s["climate_zone"] = fmt::format("{}", between(1, 8));
    if (chance(2))
      s.update({{"outdoor_mean_f", between(35, 60)}, {"outdoor_sd_f", between(12, 20)}});
    if (chance(2)) s["elevation_ft"] = between(0, 6000);
    if (chance(6))
      s.update({{"attic", "unvented"},
                {"roof_r", between(2, 20)},
                {"roof_area_ft2", between(1500, 4000)}});
    else if (const int year = s["year_built"]; year % 4 == 0)
      s["attic_air"] = "outdoors";
    else if (year % 4 == 1)
      s.update({{"roof_pitch_in_12", year % 9 + 3}, {"attic_air_changes", year % 5 + 1}});
    return s;
  }

  Json target() {
    const int low = between(19, 49);
    Json t = {{"low_r", low}, {"high_r", low + between(0, 20)}};
    if (chance(2)) t["basis"] = one_of<2>({"working", "effective"});
    return t;
  }

  void house(Json& s) {
    if (!chance(3)) {
      s["heating"] = {
          {"fuel", one_of<5>({"natural-gas", "heating-oil", "propane", "electricity", "wood"})},
          {"efficiency", between(60, 98) / 100.0},
          {"hdd_f_day", between(1500, 8000)},
          {"base_f", 65}};
      Json& h = s["heating"];
      if (!chance(3)) h["price_per_unit"] = between(10, 300) / 100.0;
      if (chance(2)) h.update({{"days_below_base", between(150, 300)}, {"indoor_f", 70}});
      if (chance(3))
        h["bills"] = {{"units_per_year", between(300, 2000)}, {"base_load_units", between(0, 200)}};
    }
    if (chance(3))
      s["cooling"] = {{"cop", between(5, 10) / 2.0},
                      {"hours", between(300, 2000)},
                      {"degree_hours_f_h", between(500, 9000)}};
    if (chance(2))
      s["money"] = {{"tax_percent", between(0, 9)},
                    {"tax_on", one_of<2>({"goods", "all"})},
                    {"rebate", {{"percent", between(0, 50)}, {"cap", 900}}}};
    if (chance(3))
      s["winter"] = {
          {"indoor_f", 70}, {"indoor_rh_percent", between(25, 50)}, {"attic_f", between(0, 45)}};
    if (chance(2))
      s["ventilation"] = {{"low_nfa_in2", between(0, 600)},
                          {"high_nfa_in2", between(0, 600)},
                          {"eave_length_ft", between(0, 90)},
                          {"rafter_spacing_in", 24}};
    if (chance(2)) s["sealing"] = {{"foam_board_ft_per_can", 2}, {"waste_percent", 15}};
  }

  void lists(Json& s) {
    if (chance(2))
      s["hazards"] =
          Json::array({{{"kind", one_of<6>({"knob-and-tube", "roof-leak", "blocked-soffit", "flue",
                                            "sagging-ceiling", "lead-paint"})},
                        {"where", "north"}}});
    if (chance(3))
      s["equipment"] = Json::array(
          {{{"kind", "duct"}, {"where", "north"}, {"length_ft", between(4, 40)}, {"r", 6}}});
    if (!chance(3)) return;
    s["claims"] = Json::array({{{"kind", "existing_r"}, {"r", between(5, 25)}},
                               {{"kind", "final_r"}, {"r", between(30, 60)}},
                               {{"kind", "added_in"}, {"thickness_in", between(4, 14)}},
                               {{"kind", "bags"}, {"bags", between(10, 90)}},
                               {{"kind", "percent_saved"}, {"percent", between(5, 40)}},
                               {{"kind", "price"}, {"money", between(500, 4000)}}});
    if (!s.contains("money"))
      s["rebate"] = {
          {"name", "invented scheme"},
          {"cap", 800},
          {"brackets",
           Json::array({{{"existing_from_r", 0}, {"existing_below_r", 11}, {"per_ft2", 0.5}},
                        {{"existing_from_r", 11}, {"existing_below_r", 30}, {"percent", 20}}})}};
  }

  std::mt19937 random_;
  int made_ = 0;
};

// ---- The same survey in SI

/// A number of a key in the text of another unit; "" where the key has none. Fixed decimals, since
/// no text takes an exponent.
inline std::string in_si(std::string_view key, double v) {
  const auto is = [&](std::initializer_list<std::string_view> names) {
    for (std::string_view n : names)
      if (key == n) return true;
    return false;
  };
  const auto ends = [&](std::string_view tail) {
    return key.size() >= tail.size() && key.substr(key.size() - tail.size()) == tail;
  };
  // Exact by definition: 1 in = 25.4 mm, 1 ft2 = 0.09290304 m2, 1 lb = 0.45359237 kg; R by 1
  // Btu(IT) = 1055.05585262 J.
  if (is({"depth", "readings"}) || (ends("_in") && !is({"pitch_in_12"})))
    return fmt::format("{:.6f} mm", v * 25.4);
  if (ends("_nfa_in2") || is({"price_per_ft2", "per_ft2"})) return "";
  if (ends("_ft2")) return fmt::format("{:.14f} m2", v * 0.09290304);
  if (is({"length_ft", "width_ft", "eave_length_ft", "elevation_ft"}))
    return fmt::format("{:.8f} m", v * 0.3048);
  if (is({"bag_net_lb", "package_lb"})) return fmt::format("{:.12f} kg", v * 0.45359237);
  if (is({"weight_psf"})) return fmt::format("{:.14f} kg/m2", v * 0.45359237 / 0.09290304);
  if (key == "r" || ends("_r")) return fmt::format("RSI {:.15f}", v * 0.17611018368230584);
  return "";
}

/// Every quantity of the survey as text in SI; what has no unit of its own stays.
inline Json metric(const Json& value, const std::string& key = "") {
  if (value.is_object()) {
    Json out = Json::object();
    for (const auto& [name, inner] : value.items()) out[name] = metric(inner, name);
    return out;
  }
  if (value.is_array()) {
    Json out = Json::array();
    for (const Json& inner : value) out.push_back(metric(inner, key));
    return out;
  }
  if (!value.is_number()) return value;
  const std::string text = in_si(key, value.get<double>());
  return text.empty() ? value : Json(text);
}

}  // namespace survey_generator
