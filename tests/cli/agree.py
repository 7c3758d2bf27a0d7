# SPDX-License-Identifier: MIT
"""Text, JSON and CSV tell the same numbers, over the examples, the good surveys, and variants of them with other areas, depths,
prices and targets (fixed seed). Usage: agree.py TOOL REPO_ROOT
Invariant: a number of the text is that of JSON at the text's decimals, rounded against us: R down, what must be blown, carried,
bought or paid up. A CSV cell reads back as the very number of JSON. The table of materials, printed as JSON and given back, is the same table."""
import csv
import io
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile

tool, root = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
VARIANTS = 5
SLACK = 1e-9  # of the product's own rounding: 12.500000000001 is 12.5
faults, compared = [], {}


def vary(value, chance, key=""):
    """Another attic: numbers of these keys by a chance factor, readings by a quarter or more, all within their ranges."""
    if isinstance(value, dict):
        return {k: v if k in ("compare", "materials", "batts", "product") else vary(v, chance, k) for k, v in value.items()}
    if isinstance(value, list):
        return [vary(v, chance, key) for v in value]
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return value
    if key in ("area_ft2", "price_per_bag", "price_per_ft2", "price_per_unit", "hdd_f_day", "price"):
        return round(value * chance.uniform(0.7, 1.6), 2)
    if key in ("low_r", "high_r", "target_r", "waste_percent"):
        return round(value * 1.1, 1)
    if key in ("readings", "depth") and value > 0:
        return max(0.25, value - chance.randint(0, 2) / 4)
    return value


def surveys():
    chance, made = random.Random(12), []
    for path in sorted(root.glob("examples/*.json")) + sorted(root.glob("tests/surveys/good/*.json")):
        whole = json.loads(path.read_text(encoding="utf-8-sig"))
        made += [whole] + [vary(whole, chance) for _ in range(VARIANTS)]
    taxed = json.loads((root / "examples/demo.json").read_text())  # what no example has: a tax, sprayed foam
    taxed.setdefault("money", {})["tax_percent"] = 6
    foam = {"format": "overjoist-survey", "version": 1, "target": {"low_r": 30, "high_r": 49},
            "proposal": {"material": "spray-foam-open", "price_per_board_ft": 0.9},
            "sections": [{"name": "floor", "kind": "flat", "area_ft2": 777, "readings": [0]}]}
    made += [taxed, foam] + [vary(foam, chance) for _ in range(VARIANTS)]
    for number, survey in enumerate(made):
        survey["id"] = f"survey {number}"
        survey.pop("label", None)
    return made


def run(*args):
    return subprocess.run([tool, *args], capture_output=True, text=True, encoding="utf-8", check=False)


def up(x, step):
    return math.ceil(x / step - SLACK * max(1.0, abs(x / step))) * step


def down(x, step):
    return math.floor(x / step + SLACK * max(1.0, abs(x / step))) * step


def nearest(x, step):
    return math.floor(x / step + 0.5) * step


def number(cell):
    """The number of a cell: 'R-49.3', '16 1/2 in.', '$1264', '2.36 lb/ft2', '80'; None for a cell of words."""
    match = re.search(r"(\d+) (\d)/(\d)|(?<![\d.])(\d)/(\d)(?= in)|\d+(?:\.\d+)?", cell)
    if not match:
        return None
    if re.search(r"(?<!R)-\d", cell):
        return -float(match.group())
    if match.group(1):
        return int(match.group(1)) + int(match.group(2)) / int(match.group(3))
    return int(match.group(4)) / int(match.group(5)) if match.group(4) else float(match.group())


def same(where, what, cell, value, rounding, step):
    """A cell of the text against a number of JSON; a cell without a number must stand for null."""
    got = number(cell)
    if value is None or got is None:
        if not (value is None and got is None):
            faults.append(f"{where}: {what}: text '{cell}', JSON {value}")
        return
    label = what.rsplit(", ", 1)[0]
    compared[label] = compared.get(label, 0) + 1
    want = rounding(value, step)
    if abs(got - want) > 1e-6 * max(1.0, abs(want)):
        faults.append(f"{where}: {what}: text '{cell}', JSON {value}, which the text should round to {want:.10g}")


def eighths(rounding):
    """Depths keep the eighths of an inch, which a rule shows; any other is rounded."""
    return lambda x, step: round(x * 8) / 8 if abs(x * 8 - round(x * 8)) < 1e-8 * max(1.0, abs(x * 8)) else rounding(x, step)


# Rows of the text, two cells each (low and high end): label, place in JSON's low or high end, rounding, step.
TOP_UP = [
    (r"target \(\w+\)", "target_r", down, 0.1), ("level after (?:settling|the work), mean", "settled_level_in", eighths(up), 0.1),
    ("(?:new fill after settling|new layer), least", "new_depth_in/least", eighths(up), 0.1), ("(?:new fill after settling|new layer), mean", "new_depth_in/mean", eighths(up), 0.1),
    ("(?:new fill after settling|new layer), greatest", "new_depth_in/greatest", eighths(up), 0.1), ("working R after", "working_r", down, 0.1),
    ("effective R after", "effective_r", down, 0.1), ("bags", "bags", up, 1), ("above the target by", "overshoot_r", down, 0.1),
    ("board feet of foam", "board_ft_exact", up, 1), ("weight on the ceiling, mean", "weight_psf", up, 0.01),
    ("weight on the ceiling, greatest", "weight_greatest_psf", up, 0.01), ("what the ceiling may carry", "weight_limit_psf", down, 0.01),
    ("(?:blow|foam) to this level above the ceiling", "initial_level_in", "level", 0.25),
    ("level that is sure to reach it", "confident_level_in", "level", 0.25),
    ("  working R there", "within_weight_limit/working_r", down, 0.1), ("  effective R there", "within_weight_limit/effective_r", down, 0.1),
]
TOTALS = [
    ("bags(?:, all sections together)?", "totals/{end}/bags", up, 1), ("material", "totals/{end}/cost_by/material", up, 1),
    ("labor", "totals/{end}/cost_by/labour", up, 1), ("extras", "totals/{end}/cost_by/extras", up, 1),
    ("tax", "totals/{end}/cost_by/tax", up, 1), ("cost", "totals/{end}/cost", up, 1),
    ("effective R of the attic after", "attic/{end}/effective_r", down, 0.1),
    ("heat loss per degree, after", "attic/{end}/ua_btu_per_h_f", up, 0.1),
    ("heat loss per degree, now", "attic/existing/ua_btu_per_h_f", up, 0.1),
]

YEAR = [
    ("heat saved", "heat_saved_btu", lambda x, step: down(x / 1e6, step), 0.1), ("CO2 saved", "co2_lb", down, "mass"),
    ("heat saved, by the bills", "scaled_to_bills/heat_saved_btu", lambda x, step: down(x / 1e6, step), 0.1),
    ("money saved, by the bills", "scaled_to_bills/annual_saving", down, 1),
]
WORTH = [  # twice: of the insulation measure, then of the whole package
    ("cost", up, 1), ("rebate", down, 1), ("payback_years", up, 0.1), ("payback_after_rebate_years", up, 0.1), ("present_value", down, 1),
    ("sir", down, 0.01),
]
WORTH_LABELS = {"rebate": "  rebate", "payback_years": "  pays back in", "payback_after_rebate_years": "  after the rebate",
                "present_value": "  all savings, worth today", "sir": r"  SIR \(that over the cost\)"}
STEP = [("added_in", eighths(up), 0.1), ("bags", up, 1), ("cost", up, 1), ("rebate", down, 1), ("annual_saving", down, "saving"),
        ("payback_years", up, 0.1), ("sir", down, 0.01)]


def at(value, place):
    for key in place.split("/"):
        value = value.get(key) if isinstance(value, dict) else None
    return value


def rows_of(block, label):
    """Both cells of each row of that label."""
    return [m.groups() for m in re.finditer(rf"^  {label} {{2,}}(\S.*?) {{2,}}(\S.*)$", block, flags=re.M)]


def blocks(report):
    """Headings of one report with what stands below each."""
    parts = re.split(r"^(\S.*)\n-+\n", report, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2])), parts[0]


def check_section(where, block, section):
    for label, place, rounding, step in TOP_UP:
        for cells in rows_of(block, label):
            for end, cell in zip(("low", "high"), cells):
                t = section["top_up"][end]
                if place == "overshoot_r" and cell.strip() == "-" and (t[place] or 0) < step:
                    continue  # nothing that shows: never "R-0.0"
                way = rounding if rounding != "level" else down if t["status"] == "unreachable" else up
                size = step
                if rounding == "level" and at(t, place) == t["initial_level_in"] and at(t, place) is not None and at(t, place) % 0.25 > 1e-6:
                    way, size = down, 0.1  # cut short by the room: to a tenth
                same(where, f"{label.strip()}, {end}", cell, at(t, place), way, size)
    found = " ".join(block.split("  found", 1)[-1].split()).split(" certain? ")[0]
    have = section["existing"]
    for pattern, value, rounding, step in (
            (r"^(\S+) in\. on average", have["mean_depth_in"], eighths(down), 0.1),
            (r"R-(\S+) working", have["working_r"], down, None), (r"R-(\S+) effective", have["effective_r"], down, None),
            (r"Weight (\S+) lb/ft2", have["weight_psf"], up, 0.01), (r"at most (\S+) lb/ft2", have["weight_greatest_psf"], up, 0.01)):
        match = re.search(pattern, found)
        if match:
            same(where, pattern, match.group(1), value, rounding, step or (0.1 if value >= 2 else 0.01))
    if not re.search(r"R-\S+ working", found) or not re.search(r"R-\S+ effective", found):
        faults.append(f"{where}: the text lacks the R that was found")


def check_text(where, report, result):
    parts, head = blocks(report)
    for section in result["sections"]:
        title = next((t for t in parts if t.startswith(f"{section['name'][:40]}")), None)
        if not title:
            faults.append(f"{where}: no part for section {section['name']}")
            continue
        check_section(f"{where}, {section['name']}", parts[title], section)
    total = parts.get("In total")
    if total:
        for label, place, rounding, step in TOTALS:
            for cells in rows_of(total, label):
                for end, cell in zip(("low", "high"), cells):
                    same(where, f"total {label}, {end}", cell, at(result, place.format(end=end)), rounding, step)
    if "Each year" in parts:
        check_year(where, parts["Each year"], result)
    if "Step by step" in parts:
        check_steps(where, parts["Step by step"], result)
    have = re.search(r"You have +R-(\S+) over", head)
    if have:
        value = result["attic"]["existing"]["effective_r"]
        same(where, "You have", have.group(1), value, down, 0.1 if value >= 2 else 0.01)


def check_year(where, block, result):
    for end, cells in (("low", 0), ("high", 1)):
        total = result["totals"][end]
        for label, place, rounding, step in YEAR:
            for row in rows_of(block, label):
                value = at(total, place)
                same(where, f"{label}, {end}", row[cells], value, rounding, step if step != "mass" else 0.1 if (value or 0) < 100 else 1)
        if not total["scaled_to_bills"]:
            for row in rows_of(block, "money saved"):
                same(where, f"money saved, {end}", row[cells], total["annual_saving"], down, 1)
        for part, (line, title) in zip(re.split(r"^  whole package, cost", block, flags=re.M),
                                       (("measure", "  insulation measure, cost"), ("package", "  whole package, cost"))):
            part = part if line == "measure" else title + part
            for key, rounding, step in WORTH:
                for row in rows_of(part, WORTH_LABELS.get(key, title.strip())):
                    same(where, f"{line} {key}, {end}", row[cells], total[line][key], rounding, step)


def check_steps(where, block, result):
    """Rows `R-49, low  10.3  73.5 ...`: the cells after the label, with the rebate's column only where one is given."""
    steps = result["totals"]["steps"][1:]
    keys = [k for k in STEP if k[0] != "rebate" or any(s["rebate"] is not None for s in steps)]
    rows = re.findall(r"^  R-\S+, \w+\*? +(\S.*)$", block, flags=re.M)
    if result["money"] is None:
        return
    if len(rows) != len(steps):
        faults.append(f"{where}: {len(rows)} rows of steps, JSON has {len(steps)}")
    for row, step in zip(rows, steps):
        for cell, (key, rounding, size) in zip(row.split(), keys):
            size = size if size != "saving" else 0.001 if (step[key] or 0) < 1 else 0.1
            same(where, f"step {key}, {step['step']}", cell, step[key], rounding, size)


CSV_SURVEY = {
    "area_ft2": "attic/area_ft2", "target_low_r": "target/low_r", "target_high_r": "target/high_r",
    "ua_existing_btu_per_h_f": "attic/existing/ua_btu_per_h_f", "effective_r": "attic/existing/effective_r",
    "effective_r_low": "attic/low/effective_r", "effective_r_high": "attic/high/effective_r", "ua_low_btu_per_h_f": "attic/low/ua_btu_per_h_f",
    "ua_high_btu_per_h_f": "attic/high/ua_btu_per_h_f", "bags_low": "totals/low/bags", "bags_high": "totals/high/bags",
    "added_lb_low": "totals/low/added_lb", "added_lb_high": "totals/high/added_lb", "board_ft_low": "totals/low/board_ft",
    "board_ft_high": "totals/high/board_ft", "cost_low": "totals/low/cost", "cost_high": "totals/high/cost",
    "annual_saving_low": "totals/low/measure/annual_saving", "annual_saving_high": "totals/high/measure/annual_saving",
    "payback_low": "totals/low/measure/payback_years", "payback_high": "totals/high/measure/payback_years",
}


def check_csv(where, row, result):
    for column, place in CSV_SURVEY.items():
        value = at(result, place)
        compared[column] = compared.get(column, 0) + (value is not None)
        if (row[column] == "") != (value is None) or (value is not None and float(row[column]) != value):
            faults.append(f"{where}: CSV {column} is '{row[column]}', JSON {value}")


def check_table(folder):
    """Symptom: the printed table, given back, was refused: "tight": 1 is no flag. Cause: the writer had a flag as a number.
    Independent: data/materials.json has the rows. Invariant: what is printed and read back gives the same bytes but for the name
    of the file, be the rows the program's or a user's own."""
    demo, back = str(root / "examples/demo.json"), pathlib.Path(folder) / "table.json"

    def told(*command):
        got = run(*command)
        # The given-back table is named beside the program's own: taken out, and the paragraph that it lengthens is one line.
        one_line = lambda m: re.sub(r", \S*table.json [^,.]*", "", " ".join(m[0].split())) + "\n"
        out = re.sub(r"^ *Tables, version and hash:.*\n(?:    .*\n)*", one_line, got.stdout, flags=re.M)
        return re.sub(r',\s*{\s*"name": "[^"]*table.json"[^}]*}|^ *table \S*table.json .*\n', "", out, flags=re.M), got.stderr

    printed = told("materials", "--format", "json")[0]
    rows, ours = json.loads(printed)["materials"], json.loads((root / "data/materials.json").read_text())["rows"]
    as_text = [json.dumps(json.loads(json.dumps(each), parse_float=float, parse_int=float), sort_keys=True) for each in (rows, ours)]
    if as_text[0] != as_text[1]:
        faults.append("materials: what is printed is not what data/materials.json has")
    own = json.dumps({"table": "materials", "rows": [{**row, "id": f"own-{row['id']}"} for row in ours]})
    back.write_text(own)
    mine = told("materials", "--format", "json", "--materials", str(back))[0]
    if len(json.loads(mine or '{"materials": []}')["materials"]) != 2 * len(ours):
        faults.append("a user's own rows do not stand beside the program's")
    for text, commands in ((printed, (["materials", "--format", "json"], ["assess", demo], ["assess", demo, "--format", "json"])),
                           (mine, (["materials", "--format", "json"],))):
        for command in commands:
            back.write_text(own)
            first = told(*command, *([] if text == printed else ["--materials", str(back)]))
            back.write_text(text)
            again = told(*command, "--materials", str(back))
            if again != first or not first[0]:
                faults.append(f"{' '.join(command)} differs with its printed table given back: {again[1][:150]}")


made = surveys()
with tempfile.TemporaryDirectory() as folder:
    paths = []
    for n, survey in enumerate(made):
        paths.append(str(pathlib.Path(folder) / f"{n:03}.json"))
        pathlib.Path(paths[-1]).write_text(json.dumps(survey))
    records = [json.loads(line) for line in run("batch", *paths, "--format", "json").stdout.splitlines()]
    table = list(csv.DictReader(io.StringIO(run("batch", *paths, "--format", "csv").stdout)))
    done = [(path, record) for path, record in zip(paths, records) if record["status"] == "done"]
    text = run("assess", *[path for path, _ in done]).stdout
    check_table(folder)
if len(records) != len(made) or len(table) != len(made) or len(done) < 0.9 * len(made):
    faults.append(f"{len(made)} surveys gave {len(records)} records and {len(table)} rows, {len(done)} done")
for record, row in zip(records, table):
    if row["id"] != record["id"] or row["status"] != record["status"]:
        faults.append(f"{record['id']}: CSV has {row['id']}, {row['status']}; JSON {record['status']}")
    elif record["status"] == "done":
        check_csv(record["id"], row, record)
reports = re.split(r"^(survey \d+)\n", text, flags=re.M)
if reports[1::2] != [record["id"] for _, record in done]:
    faults.append(f"{len(reports) // 2} text reports of {len(done)}")
for (_, record), report in zip(done, reports[2::2]):
    check_text(record["id"], report, record)

# A row whose label was changed would be compared no more, so each must have come up.
labels = [label.strip() for label, *_ in TOP_UP] + [f"total {label}" for label, *_ in TOTALS] + list(CSV_SURVEY)
labels += [label for label, *_ in YEAR] + [f"{line} {key}" for line in ("measure", "package") for key, *_ in WORTH]
labels += [f"step {key}" for key, *_ in STEP] + ["money saved"]
faults += [f"'{label}' was never compared" for label in labels if not compared.get(label)]
print("\n".join(faults[:40]) if faults else f"{len(done)} surveys: {sum(compared.values())} numbers agree between text, JSON and CSV")
sys.exit(1 if faults else 0)
