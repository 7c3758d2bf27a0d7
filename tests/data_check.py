# SPDX-License-Identifier: MIT
"""Checks the tables of data/: their schemas, what a schema cannot say, and what binds one table to another.

Usage: python3 tests/data_check.py REPO_ROOT    Needs python3-jsonschema 4.10 or later. Exit code 1 with messages.
"""
import json
import re
import sys
from pathlib import Path

from jsonschema import Draft202012Validator

TABLES = ("materials", "targets", "limits", "cautions", "assumptions", "sources")
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
STANDING = {"seal-first", "falls-shock-nails", "heat", "fiber-dust", "local-code"}

# Invariant: a text may hold only the places that the program fills.
CAUTION_PLACES = {
    "ceiling-weight": "weight limit board spacing", "ceiling-limit-unknown": "board spacing",
    "existing-weight-unknown": "material", "gap-below-deck": "gap", "gap-below-batt": "gap",
    "hatch-below-attic": "r target", "buried-facing": "material", "exposed-joists": "share",
    "batt-thicker-than-joist": "material thickness joist",
    "squeezed-batt": "material label_thickness thickness r", "batt-missing": "material share",
    "reading-above-layers": "depth", "label-ratio": "material thickness r", "few-readings": "count",
    "scattered-readings": "least greatest", "generic-product": "material", "chart-below-first-row": "thickness",
    "no-density": "material", "target-out-of-reach": "target best limit", "settled-below-joists": "thickness",
    "heavy-over-light": "material", "removal": "material area volume", "unknown-fill": "material",
}
ASSUMPTION_PLACES = {
    "default-films": "inside attic", "default-target": "low high", "material-r": "material value",
    "low-of-range": "material value", "label-r": "material value", "label-thickness": "material value",
    "label-thickness-from-r": "material value", "settling": "material value", "density-high": "material value",
    "wet-counts-zero": "material",
}
VALUE_ONLY = {
    "layer-thickness-as-depth", "default-joists", "default-spacing", "nominal-size", "framing-from-joists",
    "default-ceiling", "default-proposal", "wood", "zone-given", "zone-from-degree-days", "band-one-given",
    "default-bag", "void-share", "patch-bare", "hatch-bare", "level-step",
}

# Invariant: ids that surveys may rely on.
MATERIAL_IDS = {
    "cellulose-loose", "glass-fiber-loose", "rock-wool-loose", "unknown-loose", "vermiculite", "glass-fiber-batt",
    "rock-wool-batt", "cotton-batt", "spray-foam-closed", "spray-foam-open", "gypsum-1/2", "gypsum-5/8",
    "plaster-lath", "plywood-1/2", "plywood-5/8", "plywood-3/4", "osb", "softwood", "hardwood",
}
EXISTING_ONLY = {"vermiculite", "perlite", "wood-chips", "unknown-loose"}

# Source: IECC Table R301.3(2), just below, at and just above every bound: (CDD50, HDD65, marine) -> zone.
ZONE_POINTS = (
    (9001, 0, False, 1), (9000, 0, False, 2), (6301, 5400, False, 2), (6300, 5400, False, 3),
    (4501, 5400, False, 3), (4500, 5400, False, 4), (4500, 5401, False, 5), (4501, 5401, False, 5),
    (0, 7200, False, 5), (0, 7201, False, 6), (0, 9000, False, 6), (0, 9001, False, 7), (0, 12600, False, 7),
    (0, 12601, False, 8), (2000, 3600, True, 3), (2000, 3601, True, 4), (5000, 5400, True, 4),
    (2000, 5401, True, 5), (9001, 100, True, 1),
)


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
    keys = {"cautions": "code", "assumptions": "code", "targets": "zone"}
    return (row["board"], row["spacing_in"]) if name == "limits" else row[keys.get(name, "id")]


def check_order(name, rows, faults):
    """Invariant: no row stands twice; rows are sorted, cautions by level."""
    keys = [key_of(name, row) for row in rows]
    faults += [f"{name}: {key} stands twice" for key in sorted({k for k in keys if keys.count(k) > 1})]
    order = [LEVELS.index(row["level"]) for row in rows] if name == "cautions" else keys
    faults += [f"{name}: {keys[i + 1]} is out of order" for i in range(len(order) - 1) if order[i] > order[i + 1]]


def check_lines(name, text, rows, faults):
    """Invariant: one row per line, so that changes read well."""
    lines = {line.strip().rstrip(",") for line in text.splitlines()}
    faults += [f"{name}: {key_of(name, row)} is not one line" for row in rows if json.dumps(row) not in lines]


def check_sources(tables, faults):
    """Invariant: every row names sources that exist and a status; no source is left without use."""
    known, used = {row["id"] for row in tables["sources"]["rows"]}, set()
    for name in ("materials", "cautions", "limits", "targets"):
        for row in tables[name]["rows"]:
            if "source" not in row or row.get("status", "survey") == "survey":
                faults.append(f"{name}: {key_of(name, row)} lacks source or status")
            used.update(row.get("source", ()))
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


def main(root):
    faults = []
    tables, texts = load(Path(root), faults)
    if not faults:
        for name in TABLES:
            check_order(name, tables[name]["rows"], faults)
            check_lines(name, texts[name], tables[name]["rows"], faults)
        for check in (check_sources, check_materials, check_targets, check_limits, check_cautions, check_assumptions):
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
