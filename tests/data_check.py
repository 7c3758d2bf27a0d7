# SPDX-License-Identifier: MIT
"""Checks the tables of data/: their schemas, what a schema cannot say, and what binds one table to another.

Usage: python3 tests/data_check.py REPO_ROOT    Needs python3-jsonschema 4.10 or later. Exit code 1 with messages.
"""
import json
import re
import sys
from pathlib import Path

from jsonschema import Draft202012Validator

TABLES = ("materials", "targets", "limits", "cautions", "assumptions", "sources", "bypasses", "fuels", "money", "plausible")
LEVELS = ("stop", "fix-first", "care", "note")
PLACE = re.compile(r"\{([a-z][a-z_]*)\}")
FIGURES = ("r_per_inch_low", "r_per_inch", "r_per_inch_high")

# Common practice: stop-work conditions and cautions of attic work, with the level that the trade gives them.
TRADE_LEVELS = {
    "live-knob-and-tube": "stop", "unsafe-wiring": "stop", "vermiculite": "stop", "other-asbestos": "stop",
    "moisture": "stop", "vent-into-attic": "stop", "animals": "stop", "soiled-insulation": "stop",
    "non-ic-light": "care", "flue-defect": "stop", "combustion-appliance": "stop", "backdraft": "stop",
    "tight-house": "care", "weak-ceiling": "stop", "blocked-soffit": "fix-first", "facing-cold-side": "care",
    "heat": "care", "falls-shock-nails": "care", "fiber-dust": "care", "lead-paint": "care", "foam-vapour": "care",
    "people-and-building": "care",
}
# Source: EPA and ATSDR on vermiculite; common practice for other asbestos.
HANDS_OFF = {"vermiculite", "unidentified-fill", "other-asbestos"}
STANDING = {"seal-first", "falls-shock-nails", "heat", "fiber-dust", "local-code"}

# Invariant: a text may hold only the places that the program fills.
CAUTION_PLACES = {
    "worse-than-found": "after before",
    "ceiling-weight": "when weight limit board spacing", "ceiling-limit-unknown": "board spacing",
    "existing-weight-unknown": "material", "cavity-weight-unknown": "material", "gap-below-deck": "gap", "gap-below-batt": "gap",
    "hatch-below-attic": "r target", "buried-facing": "material", "dew-point-risk": "plane", "facing-off": "material", "facing-bare": "material", "facing-under-deck": "material", "removal-below": "material", "foam-found": "material", "wider-spacing": "board limit spacing", "exposed-joists": "share",
    "batt-thicker-than-joist": "material thickness joist",
    "squeezed-batt": "material label_thickness thickness r", "batt-missing": "material share", "batt-below-half": "material thickness r low",
    "reading-above-layers": "depth", "label-ratio": "material thickness r", "few-readings": "count",
    "scattered-readings": "least greatest", "generic-product": "material", "chart-below-first-row": "thickness",
    "no-density": "material", "ceiling-weight-at-least": "when weight limit board spacing",
    "ceiling-assumed": "board spacing", "hatch-plan-lower": "planned r", "facing-unknown": "material", "target-out-of-reach": "target best limit", "settled-below-joists": "thickness",
    "heavy-over-light": "material", "removal": "material area volume", "unknown-fill": "material", "bypass-not-measured": "kind", "leak-unknown": "count",
    "bills-too-low": "share most", "spray-foam": "material", "batt-weight-unknown": "material", "eave-short": "target field width wedge", "eave-all": "target field width wedge",
    "depth-left-alone": "material", "test-great-fall": "fall", "zone-contradicts": "given found",
}
ASSUMPTION_PLACES = {
    "default-films": "inside attic", "default-target": "low high", "material-r": "material value",
    "low-of-range": "material value", "middle-of-range": "material value", "label-of-layer": "material value", "label-r": "material value", "label-thickness": "material value",
    "label-thickness-from-r": "material value", "settling": "material value", "density-high": "material value",
    "wet-counts-zero": "material", "nominal-size": "size width depth", "facing-side": "material",
    "lies-across": "material", "lies-between": "material", "bypass-size": "kind value", "square-rim": "kind",
    "leak-temperatures": "indoor balance", "unvented-roof": "r area", "attic-shape": "pitch area volume", "co2-not-known": "fuel", "cooling-rise": "low high",
    "built-area-larger": "surveyed recorded", "built-area-smaller": "surveyed recorded", "fuel-heat": "unit fuel value year", "found-r": "material value", "no-energy-price": "fuel", "saving-counts-dry": "material",
}
VALUE_ONLY = {
    "built-bags-unplaced", "built-clearance-unplaced", "built-fill-as-proposed", "built-sold-high", "built-sold-quote", "built-waste",
    "batt-waste",
    "layer-thickness-as-depth", "default-joists", "default-spacing", "framing-from-joists", "framing-method",
    "default-ceiling", "default-proposal", "wood", "zone-given", "zone-from-degree-days", "band-one-given",
    "default-bag", "hatch-plan", "void-share", "patch-bare", "hatch-bare", "level-step",
    "hatch-opening", "leak-height", "wind-speed", "vented-area", "attic-air-changes", "attic-roof-r",
    "default-ceiling-share", "default-discount-rate", "default-life", "degree-days-of-site", "cavity-fill", "cavity-dense", "saving-counts-squeezed", "knee-wall-target", "vent-gap", "wall-films",
}

# Invariant: ids that surveys may rely on.
MATERIAL_IDS = {
    "cellulose-loose", "glass-fiber-loose", "rock-wool-loose", "unknown-loose", "vermiculite", "glass-fiber-batt",
    "rock-wool-batt", "cotton-batt", "spray-foam-closed", "spray-foam-open", "gypsum-1/2", "gypsum-5/8",
    "plaster-lath", "plywood-1/2", "plywood-5/8", "plywood-3/4", "osb", "softwood", "hardwood",
}
EXISTING_ONLY = {"vermiculite", "perlite", "wood-chips", "unknown-loose"}

# Source: NIST list of leakage elements (published) and ASHRAE Fundamentals 2001 ch. 26 Table 1 (from memory), cm2 at 4 Pa:
# typical and tight. Open chases, dropped soffits and stud cavities have none: they are measured.
BYPASS_LEAKS = {
    "bath-fan": (20, 10, "published"), "duct-boot": (5, 1, "published"), "hatch": (30, 18, "published"),
    "kitchen-fan": (40, 5, "published"), "top-plate": (1.5, 0.5, "published"), "ceiling-box": (2.5, 0.15, "from memory"),
    "flue": (31, 28, "from memory"), "plumbing-stack": (6, 2, "from memory"), "pull-down-stair": (44, 14, "from memory"),
    "recessed-light-ic": (10, 1.5, "from memory"), "recessed-light-non-ic": (10, 1.5, "from memory"),
    "wire-hole": (6, 2, "from memory"),
}
# Common practice: big holes first, then heat, lights, plates and pipes, ducts and fans, hatches, knee walls, party walls.
BYPASS_RANKS = {
    "open-chase": 1, "dropped-soffit": 1, "open-stud-cavity": 1, "flue": 2, "masonry-chimney": 2, "recessed-light-ic": 3,
    "recessed-light-non-ic": 3, "top-plate": 4, "wire-hole": 4, "plumbing-stack": 4, "ceiling-box": 4, "duct-boot": 5,
    "bath-fan": 5, "kitchen-fan": 5, "hatch": 6, "pull-down-stair": 6, "knee-wall-transition": 7, "party-wall": 8,
}
# Source: the rows' own (code reprint, work specifications); tubes are 10.1 and about 28.5 fl oz of 231/128 in3.
BYPASS_FIGURES = {
    "clearing-first-year": 1950, "clearing-last-year": 2100, "clearing-years-after-survey": 5,
    "attic-air-changes": 3, "attic-pitch": 5, "attic-roof-r": 1.9, "balance-temperature": 65, "batt-waste": 5, "built-area-slack": 2, "dam-flue-margin": 4, "flow-exponent": 0.65, "indoor-temperature": 70, "marker-area": 300, "range-bare": 0.5, "range-bare-depth": 0.5, "range-bare-error": 15, "range-label": 10, "range-covered": 9.5, "range-least": 20,
    "range-readings": 4, "range-variation": 25, "read-again-bags": 5,
    "read-again-density": 2.5, "read-again-slack": 1, "read-again-tape": 0.5, "readings-most": 60, "sheet-area": 32, "sheet-waste": 15, "stack-height": 4,
    "tube-large": 52, "tube-small": 18.2, "vent-ratio": 150, "vent-ratio-reduced": 300, "vent-retarder-zone": 6,
    "vent-upper-high": 50, "vent-upper-low": 40, "weatherstrip-waste": 10,
    # Source: coefficients of Sherman and Grimsrud's form, from memory (shelter class 3, one to three storeys); the span
    # of a leak's heat and the wind are our own (computed; common practice).
    "gypsum-least": 0.5, "hole-discharge": 0.6, "house-stack-1": 0.015, "house-stack-2": 0.0299, "house-stack-3": 0.0449,
    "house-wind-1": 0.0065, "house-wind-2": 0.0086, "house-wind-3": 0.0101,
    "leak-heat-high": 1.6, "leak-heat-low": 0.3, "sealing-fall": 30, "wind-speed": 6.7,
}

# Source: Standard 169 from 2013, as IECC 2021 R301.3 (from memory), just below, at and just above every bound:
# (CDD50, HDD65, marine) -> zone.
ZONE_POINTS = (
    (9001, 0, False, 1), (9000, 0, False, 2), (6301, 5400, False, 2), (6300, 5400, False, 4),
    (6300, 3600, False, 3), (4500, 5400, False, 4), (0, 3600, False, 3), (0, 3601, False, 4), (4500, 5401, False, 5), (4501, 5401, False, 5),
    (0, 7200, False, 5), (0, 7201, False, 6), (0, 9000, False, 6), (0, 9001, False, 7), (0, 12600, False, 7),
    (0, 12601, False, 8), (2000, 3600, True, 3), (2000, 3601, True, 4), (5000, 5400, True, 4),
    (2000, 5401, True, 5), (9001, 100, True, 1),
)

# Source: EIA emission coefficients, 2 February 2016, lb of CO2 per million Btu.
CO2_PER_MMBTU = {
    "heating-oil": 161.30, "kerosene": 159.40, "natural-gas": 117.00, "natural-gas-ccf": 117.00,
    "natural-gas-mcf": 117.00, "propane": 139.05,
}
MONEY_IDS = {"attic-rise-high-f", "attic-rise-low-f", "ceiling-bill-share", "life-years", "real-discount-rate-percent", "step-beyond-r"}


def read_json(path):
    def pairs(items):
        keys = [key for key, _ in items]
        for key in sorted({key for key in keys if keys.count(key) > 1}):
            raise ValueError(f"key '{key}' stands twice")
        return dict(items)

    text = path.read_text(encoding="utf-8")
    if not text.isascii():
        raise ValueError("only ASCII is allowed")
    return text, json.loads(text, object_pairs_hook=pairs)


def load(root, faults):
    tables, texts = {}, {}
    for name in TABLES:
        try:
            texts[name], tables[name] = read_json(root / "data" / f"{name}.json")
            schema = read_json(root / "data" / f"{name}.schema.json")[1]
            Draft202012Validator.check_schema(schema)
        except Exception as fault:  # any fault of a file is reported, and the other files are still looked at
            faults.append(f"{name}: {fault}")
            continue
        check_schema(name, tables[name], schema, faults)
    return tables, texts


def check_schema(name, table, schema, faults):
    if schema.get("$id") != f"https://overjoist.example.org/schema/{name}.schema.json":
        faults.append(f"{name}.schema: wrong $id")
    for fault in Draft202012Validator(schema).iter_errors(table):
        faults.append(f"{name}: /{'/'.join(str(p) for p in fault.absolute_path)}: {fault.message}")


def key_of(name, row):
    keys = {"cautions": "code", "assumptions": "code", "targets": "zone", "plausible": "code"}
    return (row["board"], row["spacing_in"]) if name == "limits" else row[keys.get(name, "id")]


def check_order(name, rows, faults):
    """Invariant: no row stands twice; rows are sorted, cautions by level."""
    keys = [key_of(name, row) for row in rows]
    faults += [f"{name}: {key} stands twice" for key in sorted({k for k in keys if keys.count(k) > 1})]
    order = [LEVELS.index(row["level"]) for row in rows] if name == "cautions" else [row["compares"] for row in rows] if name == "plausible" else keys
    faults += [f"{name}: {keys[i + 1]} is out of order" for i in range(len(order) - 1) if order[i] > order[i + 1]]


def check_lines(name, text, rows, faults):
    """Invariant: one row per line, so that changes read well."""
    lines = {line.strip().rstrip(",") for line in text.splitlines()}
    faults += [f"{name}: {key_of(name, row)} is not one line" for row in rows if json.dumps(row) not in lines]


def check_sources(tables, faults):
    """Invariant: every row names sources that exist and a status; no source is left without use."""
    known, used = {row["id"] for row in tables["sources"]["rows"]}, set()
    for name in ("materials", "cautions", "limits", "targets", "fuels", "money", "bypasses", "plausible"):
        for row in tables[name]["rows"]:
            if "source" not in row or row.get("status", "survey") == "survey":
                faults.append(f"{name}: {key_of(name, row)} lacks source or status")
            used.update(row.get("source", ()))
            used.update(row.get("found_source", ()))
    for row in tables["bypasses"]["figures"] + [row["leak"] for row in tables["bypasses"]["rows"] if "leak" in row]:
        used.update(row["source"])
    targets = tables["targets"]
    for named in [targets["films"]["source"], *(targets[key] for key in targets if key.endswith("_source"))]:
        used.update(named)
    faults += [f"sources: '{name}' is not known" for name in sorted(used - known)]
    faults += [f"sources: '{name}' is used by no row" for name in sorted(known - used)]


def check_material(row, codes, faults):
    """Invariant: low <= typical <= high, a sheet's R agrees with its R per inch, the caution is known."""
    say = lambda message: faults.append(f"materials: {row['id']}: {message}")
    figures = [row[key] for key in FIGURES if key in row]
    if figures != sorted(figures):
        say("low, typical and high R per inch are not in order")
    for low, high in (("density_low_lb_ft3", "density_high_lb_ft3"), ("settling_low_percent", "settling_high_percent")):
        if low in row and row[low] > row[high]:
            say(f"{low} is above {high}")
    # Tolerance: both figures are printed to 0.01, and thickness is at most 1 in.
    if "r" in row and "r_per_inch" in row and abs(row["r"] - row["r_per_inch"] * row["thickness_in"]) > 0.01:
        say("r is not thickness_in times r_per_inch")
    if row.get("caution", "vermiculite") not in codes:
        say(f"caution '{row['caution']}' is not known")


def check_materials(tables, faults):
    rows = tables["materials"]["rows"]
    codes = {row["code"] for row in tables["cautions"]["rows"]}
    for row in rows:
        check_material(row, codes, faults)
    ids = {row["id"] for row in rows}
    faults += [f"materials: '{name}' is missing" for name in sorted(MATERIAL_IDS - ids)]
    existing = {row["id"] for row in rows if row.get("use") == "existing"}
    if existing != EXISTING_ONLY:
        faults.append(f"materials: never added are {sorted(EXISTING_ONLY)}, not {sorted(existing)}")
    caution = {row["id"]: row.get("caution") for row in rows}
    if caution.get("vermiculite") != "vermiculite":
        faults.append("materials: vermiculite does not raise its caution")
    if not {"retrieved", "units"} <= set(tables["materials"]):
        faults.append("materials: retrieved or units is missing")


def zone_of(rules, cdd50, hdd65, marine):
    for rule in rules:
        fits = cdd50 > rule.get("cdd50_above", -1) and cdd50 <= rule.get("cdd50_upto", cdd50)
        fits = fits and hdd65 > rule.get("hdd65_above", -1) and hdd65 <= rule.get("hdd65_upto", hdd65)
        if fits and (marine or not rule["marine"]):
            return rule["zone"]
    return None


def check_targets(tables, faults):
    """Invariant: low <= high in every zone; the zone rules give the zones of ZONE_POINTS."""
    table = tables["targets"]
    if [row["zone"] for row in table["rows"]] != list(range(1, 9)):
        faults.append("targets: not one row for each zone from 1 to 8")
    bands = [(row["low_r"], row["high_r"]) for row in table["rows"]]
    bands.append((table["default_low_r"], table["default_high_r"]))
    faults += [f"targets: {low} is above {high}" for low, high in bands if low > high]
    for cdd50, hdd65, marine, zone in ZONE_POINTS:
        found = zone_of(table["zones"], cdd50, hdd65, marine)
        if found != zone:
            faults.append(f"targets: CDD50 {cdd50}, HDD65 {hdd65}, marine {marine}: zone {found}, not {zone}")


def check_limits(tables, faults):
    """Invariant: every limit is that of a ceiling in the material table."""
    ceilings = {row["id"] for row in tables["materials"]["rows"] if row["form"] == "ceiling"}
    boards = {row["board"] for row in tables["limits"]["rows"]}
    faults += [f"limits: '{name}' is no ceiling" for name in sorted(boards - ceilings)]


def check_bypass(row, faults):
    """Invariant: tight <= typical, leakage goes by the row's own unit, nothing that burns near heat, quantities can be formed."""
    say = lambda message: faults.append(f"bypasses: {row['id']}: {message}")
    leak = row.get("leak")
    if leak and leak["tight_cm2"] > leak["typical_cm2"]:
        say("tight leaks more than typical")
    if leak and {"each": "each", "ft": "m", "ft2": "m2", "bay": "none"}[row["unit"]] != leak["per"]:
        say(f"leakage per {leak['per']} does not go with unit {row['unit']}")
    if row.get("metal_ft2_per_unit_low", 0) > row.get("metal_ft2_per_unit_high", 0):
        say("metal: low is above high")
    if row["sealant"] == "heat" and not ("No foam" in row.get("fire_rule", "") and row.get("metal_ft2_per_unit_low")):
        say("a hot thing needs a fire rule that forbids foam, and metal")
    if row["sealant"] in ("foam-or-caulk", "caulk") and "bead_width_in" not in row:
        say("no bead")
    if "rim" in row and row["sealant"] not in ("weatherstrip", "heat") and "bead_width_in" not in row:
        say("a rim without a bead's width")
    sized = row["unit"] == "ft2" or "opening_length_in" in row
    if ("board_over_opening" in row or ("rim" in row and row["unit"] != "ft")) and not sized:
        say("the size of the opening is not known")


def check_bypasses(tables, faults):
    """Source: leakage and figures as printed in BYPASS_LEAKS and BYPASS_FIGURES. Common practice: order of sealing."""
    table = tables["bypasses"]
    for row in table["rows"]:
        check_bypass(row, faults)
    leaks = {row["id"]: (row["leak"]["typical_cm2"], row["leak"]["tight_cm2"], row["leak"]["status"]) for row in table["rows"] if "leak" in row}
    if leaks != BYPASS_LEAKS:
        faults.append(f"bypasses: leakage is not as its sources print it: {sorted(set(leaks.items()) ^ set(BYPASS_LEAKS.items()))}")
    ranks = {row["id"]: row["rank"] for row in table["rows"]}
    if sorted(ranks) != sorted(BYPASS_RANKS) or any(ranks[name] != rank for name, rank in BYPASS_RANKS.items()):
        faults.append("bypasses: kinds or their order of sealing are not those of the trade")
    figures = {row["id"]: row["value"] for row in table["figures"]}
    if figures != BYPASS_FIGURES:
        faults.append(f"bypasses: figures differ: {sorted(set(figures.items()) ^ set(BYPASS_FIGURES.items()))}")
    if [row["id"] for row in table["figures"]] != sorted(figures):
        faults.append("bypasses: figures are out of order, or one stands twice")


def check_fuels(tables, faults):
    """Source: CO2 per unit agrees with the published CO2 per million Btu; fuels without a figure have none."""
    rows = {row["id"]: row for row in tables["fuels"]["rows"]}
    faults += [f"fuels: {name} is missing" for name in sorted({"electricity", "wood", *CO2_PER_MMBTU} - set(rows))]
    for name, row in rows.items():
        if ("co2_lb_per_unit" in row) != (name in CO2_PER_MMBTU):
            faults.append(f"fuels: {name}: CO2 figure without a source, or source without a figure")
        elif name in CO2_PER_MMBTU:
            per_mmbtu = row["co2_lb_per_unit"] / row["btu_per_unit"] * 1e6
            # Tolerance: the published heat contents of oil in 2012 and 2021 differ by 1.0 %, of propane by 0.13 %;
            # the rest is rounding.
            slack = {"heating-oil": 0.012, "propane": 0.002}.get(name, 0.0005)
            if abs(per_mmbtu / CO2_PER_MMBTU[name] - 1) > slack:
                faults.append(f"fuels: {name}: {per_mmbtu:.2f} lb/MMBtu, not {CO2_PER_MMBTU[name]}")


def check_money(tables, faults):
    """Invariant: the defaults that the program asks for, in ranges that it accepts."""
    rows = {row["id"]: row["value"] for row in tables["money"]["rows"]}
    if set(rows) != MONEY_IDS:
        faults.append(f"money: rows are {sorted(MONEY_IDS)}")
    elif not (0 < rows["ceiling-bill-share"] <= 1 and rows["life-years"] > 0):
        faults.append("money: share or life is out of range")
    elif rows["attic-rise-low-f"] > rows["attic-rise-high-f"]:
        faults.append("money: the attic rises are not in order")


def check_places(where, text, allowed, faults):
    """Invariant: every place is well formed, and the program fills it."""
    if re.search(r"[{}]", PLACE.sub("", text)):
        faults.append(f"{where}: a place is not well formed")
    faults += [f"{where}: {{{name}}} is never filled" for name in PLACE.findall(text) if name not in allowed]


def check_cautions(tables, faults):
    """Common practice: levels of TRADE_LEVELS. Invariant: a stop names who decides, a hazard has one row."""
    rows = {row["code"]: row for row in tables["cautions"]["rows"]}
    for code, level in TRADE_LEVELS.items():
        if rows.get(code, {}).get("level") != level:
            faults.append(f"cautions: {code} is missing or not of level {level}")
    faults += [f"cautions: {code} is missing" for code in sorted(set(CAUTION_PLACES) - set(rows))]
    if {code for code, row in rows.items() if row.get("standing")} != STANDING:
        faults.append(f"cautions: standing are {sorted(STANDING)}")
    for code, row in rows.items():
        check_places(f"cautions: {code}", row["text"], CAUTION_PLACES.get(code, "").split(), faults)
        check_places(f"cautions: {code}", row["who"] + row["clears"], (), faults)
        if row["level"] in ("stop", "fix-first") and not (row["who"] and row["clears"]):
            faults.append(f"cautions: {code} does not say who decides and what clears it")
    for words in tables["cautions"].get("while_hands_off", ()):
        code = words["code"]
        if code not in rows or rows[code].get("hands_off"):
            faults.append(f"cautions: {code} is no row that other words can stand for")
            continue
        if ("text" in words) != ("who" in words) or ("text" in words) != ("clears" in words):
            faults.append(f"cautions: {code}: text, who and clears while hands are kept off go together")
        check_places(f"cautions: {code}", words.get("text", ""), CAUTION_PLACES.get(code, "").split(), faults)
        if rows[code]["level"] in ("stop", "fix-first") and "text" in words and not (words["who"] and words["clears"]):
            faults.append(f"cautions: {code} does not say who decides and what clears it while hands are kept off")
    if {code for code, row in rows.items() if row.get("hands_off")} != HANDS_OFF:
        faults.append(f"cautions: hands are kept off for {sorted(HANDS_OFF)}")
    kinds = [kind for row in rows.values() for kind in row.get("hazard_kinds", ())]
    faults += [f"cautions: hazard '{kind}' stands twice" for kind in sorted({k for k in kinds if kinds.count(k) > 1})]


def check_assumptions(tables, faults):
    """Invariant: codes that the program uses exist, with the places that it fills."""
    codes = {row["code"] for row in tables["assumptions"]["rows"]}
    faults += [f"assumptions: {code} is missing" for code in sorted((set(ASSUMPTION_PLACES) | VALUE_ONLY) - codes)]
    for row in tables["assumptions"]["rows"]:
        code = row["code"]
        allowed = "value" if code in VALUE_ONLY else ASSUMPTION_PLACES.get(code, "")
        check_places(f"assumptions: {code}", row["what"], allowed.split(), faults)
        check_places(f"assumptions: {code}", row["why"], (), faults)


def check_plausible(tables, faults):
    """Invariant: a code of its own, places that are filled, fuels and zones that exist, thresholds in order. Source: status as named."""
    table, codes = tables["plausible"], {row["code"] for row in tables["cautions"]["rows"]}
    known = {row["id"] for row in tables["fuels"]["rows"]} | {str(row["zone"]) for row in tables["targets"]["rows"]}
    for row in table["rows"]:
        say = lambda message: faults.append(f"plausible: {row['code']}: {message}")
        check_places(f"plausible: {row['code']}", row["text"], ("value", "limit", "what", "other"), faults)
        if row["code"] in codes:
            say("the table of cautions has this code")
        if row.get("of", "natural-gas") not in known:
            say(f"'{row['of']}' is no fuel and no zone")
        if row.get("below", -1e9) >= row.get("above", 1e9):
            say("below is not less than above")
        if (row["status"] == "common practice, no published source") != (row["source"][-1] == "common-practice"):
            say("status and source do not agree")
        if "times" in row and f"{row['times']} times" not in row["text"]:
            say("the words do not say how many times")
    priced = {row["of"] for row in table["rows"] if row["compares"] == "fuel-price"}
    faults += [f"plausible: no price of {name}" for name in sorted({row["id"] for row in tables["fuels"]["rows"]} - priced)]


def main(root):
    faults = []
    tables, texts = load(Path(root), faults)
    if not faults:
        for name in TABLES:
            check_order(name, tables[name]["rows"], faults)
            check_lines(name, texts[name], tables[name]["rows"], faults)
        for check in (check_sources, check_materials, check_targets, check_limits, check_fuels, check_money, check_cautions, check_assumptions, check_bypasses, check_plausible):
            check(tables, faults)
    for fault in faults:
        print(fault, file=sys.stderr)
    if not faults:
        print(", ".join(f"{len(tables[name]['rows'])} {name}" for name in TABLES))
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: data_check.py REPO_ROOT")
    sys.exit(main(sys.argv[1]))
