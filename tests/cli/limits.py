#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Hostile but well-formed surveys: limits, the schema against the reader, paths. Usage: limits.py TOOL REPO_ROOT
Independent: data/survey.schema.json, judged by the jsonschema package, says what may pass; the reader must refuse what it refuses.
Source: the limits are those of README, 'Limits of a survey file'."""
import copy
import ctypes
import json
import os
import pathlib
import struct
import subprocess
import sys
import tempfile

import jsonschema

tool, root = sys.argv[1], pathlib.Path(sys.argv[2])
faults, checks = [], 0


def check(what, holds, detail=""):
    global checks
    checks += 1
    if not holds:
        faults.append(f"{what}: {detail}"[:400])


def assess(data):
    return subprocess.run([tool, "assess", "--format", "json", "-"], input=data, capture_output=True, timeout=120)


def refused(what, data, *words):
    got = assess(data)
    check(f"{what}: refused", got.returncode == 3, (got.returncode, got.stderr[:200]))
    for word in words:
        check(f"{what}: says {word}", word.encode() in got.stderr, got.stderr[:200])
    check(f"{what}: a short message", len(got.stderr) < 20000, len(got.stderr))


def taken(what, data):
    got = assess(data)
    check(f"{what}: taken", got.returncode == 0, (got.returncode, got.stderr[:200]))


def section(number=0, **more):
    return {"name": f"floor {number}", "kind": "flat", "area_ft2": 100, "layers": [{"material": "cellulose-loose"}], "readings": [4]} | more


def survey(**more):
    return {"format": "overjoist-survey", "version": 1, "sections": [section()]} | more


def text(value):
    return json.dumps(value).encode()


# ---- The limits, met and passed by one

taken("200 sections", text(survey(sections=[section(i) for i in range(200)])))
refused("201 sections", text(survey(sections=[section(i) for i in range(201)])), "/sections", "200")
batts = [{"material": "glass-fiber-batt", "thickness_in": 1}] * 7
taken("8 layers", text(survey(sections=[section(layers=batts + [{"material": "cellulose-loose"}], readings=[9])])))
refused("9 layers", text(survey(sections=[section(layers=batts + batts[:1] + [{"material": "cellulose-loose"}], readings=[10])])), "/sections/0/layers", "8")
taken("1,000,000 readings", text(survey(sections=[section(readings=[4] * 1_000_000)])))
refused("1,000,001 readings", text(survey(sections=[section(readings=[4] * 1_000_001)])), "/sections/0/readings", "1000000")
deep = lambda n: text(survey(x_deep=0)).replace(b'"x_deep": 0', b'"x_deep": ' + b"[" * n + b"]" * n)
taken("nesting 32", deep(31))  # the survey itself is the first
refused("nesting 33", deep(32), "32")
full = text(survey(x_pad="")).replace(b'"x_pad": ""', b'"x_pad": "' + b"y" * ((16 << 20) - len(text(survey(x_pad="")))) + b'"')
check("the text is 16 MiB to the byte", len(full) == 16 << 20, len(full))
taken("16 MiB", full)
refused("16 MiB and one byte", full + b" ", "16 MiB")
refused("1,000 faults", text(survey(sections=[section(i, area_ft2=-1, readings=[-1] * 50) for i in range(20)])), "/sections/0/area_ft2")

# Cost grew with the square of the readings at an eave, and of the keys of one's own: minutes to hours. Common practice: a minute is ample
# for what takes a second in any build.
spread = [1 + 6 * i / 10000 for i in range(10000)]
chart = {"name": "c", "chart": [{"r": r, "settled_thickness_in": r / 3.5, "initial_thickness_in": r / 2.9, "weight_psf": r / 30} for r in (11, 19, 30, 38, 49, 60)]}
floor = section(area_ft2=1000, readings=spread, eave={"heel_in": 6, "pitch_in_12": 5, "length_ft": 60})
taken("10,000 distinct readings at an eave", text(survey(sections=[floor])))
taken("10,000 distinct readings at an eave, with a chart", text(survey(sections=[floor], proposal={"product": chart, "bag_net_lb": 25})))
taken("100,000 keys of one's own", text(survey(**{f"x_{i}": i for i in range(100_000)})))
refused("a key of one's own, twice among many", text(survey(**{f"x_{i}": i for i in range(1000)}))[:-1] + b', "x_7": 1}', "x_7", "twice")

# Numbers without a least value ended in no answer, or in one that was no number. Common practice, no published source: the least of each
# that a thing of the kind can have; what is 0 or nearer to it than any price is nothing.
LEAST = [
    (("proposal", "bag_net_lb"), 1, {"material": "cellulose-loose"}), (("heating", "efficiency"), 0.05, {"fuel": "natural-gas"}),
    (("heating", "cop"), 0.5, {"fuel": "electricity"}), (("sections", 0, "area_ft2"), 0.1, None), (("sections", 0, "headroom_in"), 0.1, None),
    (("money", "life_years"), 1, {}), (("winter", "indoor_rh_percent"), 1, {"indoor_f": 70, "attic_f": 20}),
    (("sections", 0, "target_r"), 0.1, None), (("sealing", "foam_board_ft_per_can"), 1, {}), (("site", "outdoor_sd_f"), 0.1, {"outdoor_mean_f": 40}),
    (("heating", "days_below_base"), 1, {"fuel": "natural-gas", "efficiency": 0.8, "hdd_f_day": 50, "base_f": 65}),
    (("site", "heating_days"), 1, {"hdd65_f_day": 50}), (("heating", "bills", "allowed_share"), 0.01, {"units_per_year": 500}),
]
for path, least, beside in LEAST:
    for value, allowed in ((least, True), (least * 0.999, False), (1e-320, False)):
        changed_survey = survey()
        if path[0] == "sections":
            changed_survey["sections"][0] |= {"readings": [0], path[-1]: value}
        elif path[:2] == ("heating", "bills"):
            changed_survey["heating"] = {"fuel": "natural-gas", "efficiency": 0.8, "hdd_f_day": 6000, "base_f": 65,
                                         "bills": dict(beside) | {path[-1]: value}}
        else:
            changed_survey[path[0]] = dict(beside) | {path[-1]: value}
        if allowed:
            taken(f"{path} = {value}", text(changed_survey))
        else:
            refused(f"{path} = {value}", text(changed_survey), "/".join(str(p) for p in path), "allowed")
hatch = {"name": "h", "kind": "hatch", "area_ft2": 5}
for value in (1e-320, 0.0999):
    refused(f"a lid of R {value}", text(survey(sections=[hatch | {"total_r": value}])), "/sections/0/total_r", "0.1")
for key in ("price_per_unit", "co2_lb_per_unit", "hdd_f_day"):
    gas = {"fuel": "natural-gas", "efficiency": 0.8, "price_per_unit": 1.2, "hdd_f_day": 6000, "base_f": 65, key: 1e-320}
    priced = {"material": "cellulose-loose", "bag_net_lb": 25, "price_per_bag": 16, "labour": {"price_per_ft2": 0.5}}
    taken(f"{key} next to nothing", text(survey(heating=gas, proposal=priced)))
endless = section(area_ft2=300, readings=[4], eave={"heel_in": 11.66, "pitch_in_12": 4, "length_ft": 8.8})
refused("a bag of nothing", text(survey(sections=[endless], proposal={"material": "glass-fiber-loose", "bag_net_lb": 1e-320})), "bag_net_lb")

# ---- What the schema refuses, the reader refuses

validator = jsonschema.Draft202012Validator(json.loads((root / "data/survey.schema.json").read_text()))
WRONG = {"text": "\u202e" + "z" * 30000, "negative": -1e9, "huge": 1e300, "half": 0.5, "tiny": 1e-320, "small": 1e-8, "null": None, "true": True, "array": [], "object": {}}


def places(value, path=()):
    """Every place below the root, keys before what they hold."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        if isinstance(key, str) and key.startswith("x_"):
            continue
        yield (*path, key)
        yield from places(inner, (*path, key))


def changed(document, path, change):
    out = copy.deepcopy(document)
    holder = out
    for key in path[:-1]:
        holder = holder[key]
    change(holder, path[-1])
    return out


def put(value):
    return lambda holder, key: holder.__setitem__(key, value)


def mutants(document):
    for path in places(document):
        if isinstance(path[-1], int) and path[-1] > 1:
            continue  # the third of a row is as the second
        for name, value in WRONG.items():
            yield f"{path} = {name}", changed(document, path, put(value))
        yield f"{path} gone", changed(document, path, lambda holder, key: holder.pop(key))
        if isinstance(path[-1], str):
            yield f"{path} misspelt", changed(document, path, lambda holder, key: holder.__setitem__(key + "q", holder.pop(key)))


for name in ("full-plan", "quote-check", "batts-across", "cape-house", "coverage-chart"):
    document = json.loads((root / f"examples/{name}.json").read_text())
    many = list(mutants(document))
    lines = b"".join(text(m) + b"\n" for _, m in many)
    got = subprocess.run([tool, "batch", "-"], input=lines, capture_output=True, timeout=300)
    records = [json.loads(line) for line in got.stdout.splitlines()]
    check(f"{name}: a record for each of {len(many)} changed surveys", len(records) == len(many), len(records))
    refusals = 0
    for (what, mutant), record in zip(many, records):
        valid = validator.is_valid(mutant)
        refusals += not valid
        check(f"{name} {what}: refused as by the schema", valid or record["status"] == "rejected", record["status"])
        check(f"{name} {what}: no bug", b"bug in the program" not in text(record), record)
        if record["status"] == "rejected":
            check(f"{name} {what}: says where, what and what to do", all(d["message"] and d["pointer"] is not None for d in record["diagnostics"]), record)
    check(f"{name}: the schema does refuse", refusals > len(many) / 3, refusals)

# Symptom: currency "5" made a price of 15 read 515. Cause: any text was a currency. Reader and schema alike, both ways.
currencies = ["", "$", "USD", "kr", "US-$", "S/.", "Rs.", "C$", "€", "د.إ", "zł", "A$ ", "5", "$5", "USD2", "x²", "½", "５", "٣", "۴", "৪", "४", "๕", "₂", "⅔", "①", "-", "+", "−",
              "$-", ".", ",", "$.", "¥,", "$+x"]
for currency in currencies:
    priced = survey(proposal={"material": "cellulose-loose", "bag_net_lb": 25, "price_per_bag": 15, "currency": currency})
    (taken if validator.is_valid(priced) else refused)(f"currency {currency!r}", text(priced))
    check(f"currency {currency!r} by the schema", validator.is_valid(priced) == (currencies.index(currency) < 12), currency)

# The same of the record of a finished job, each beside its own survey.
schemas = {name: json.loads((root / f"data/{name}.schema.json").read_text()) for name in ("survey", "record")}
resolver = jsonschema.RefResolver.from_schema(schemas["record"], store={schemas["survey"]["$id"]: schemas["survey"]})
records = jsonschema.Draft202012Validator(schemas["record"], resolver=resolver)
for name in ("pass", "fluffed", "tag-only"):
    job = root / "examples/inspect" / name
    many = list(mutants(json.loads((job / "record.json").read_text())))
    with tempfile.TemporaryDirectory() as folder:
        for number, (_, mutant) in enumerate(many):
            pair = pathlib.Path(folder) / f"{number:05}"
            pair.mkdir()
            (pair / "survey.json").symlink_to(job / "survey.json")
            (pair / "record.json").write_bytes(text(mutant))
        got = subprocess.run([tool, "inspect", "--format", "jsonl", folder], capture_output=True, timeout=300)
    results = [json.loads(line) for line in got.stdout.splitlines()]
    check(f"record {name}: an answer for each of {len(many)} changed records", len(results) == len(many), (len(results), got.stderr[:300]))
    refusals = 0
    for (what, mutant), result in zip(many, results):
        valid = records.is_valid(mutant)
        refusals += not valid
        check(f"record {name} {what}: refused as by the schema", valid or result["status"] == "rejected", result["status"])
    check(f"record {name}: the schema does refuse", refusals > len(many) / 3, refusals)

# ---- Paths in a survey are never opened

IN_OPEN, IN_NONBLOCK = 0x20, os.O_NONBLOCK
libc = ctypes.CDLL(None, use_errno=True)
with tempfile.TemporaryDirectory() as folder:
    bait = pathlib.Path(folder) / "bait.json"
    bait.write_text("{}")
    watch = libc.inotify_init1(IN_NONBLOCK)
    check("the folder is watched", watch >= 0 and libc.inotify_add_watch(watch, folder.encode(), IN_OPEN) >= 0)
    here = str(bait)
    hostile = survey(id=here, label=here, notes=here, x_photo=here, papers=[], hazards=[{"kind": "moisture", "where": here}])
    hostile["sections"] = [section(name=here, x_photos=[here, "file://" + here])]
    for args in (["assess", "-"], ["assess", "--format", "json", "-"], ["assess", "--format", "csv", "-"], ["order", "-"], ["goods", "-"], ["batch", "-"], ["check", "-"]):
        got = subprocess.run([tool, *args], input=text(hostile), capture_output=True, timeout=60)
        check(f"{args}: taken, the path is text", got.returncode == 0, got.stderr[:300])

    def opened():
        try:
            data = os.read(watch, 65536)
        except BlockingIOError:
            return 0
        return len(data) // struct.calcsize("iIII")

    check("no path of the survey was opened", opened() == 0)
    bait.read_text()
    check("the watch would have seen it", opened() > 0)
    os.close(watch)

print(f"{checks} checks, {len(faults)} faults")
for fault in faults[:40]:
    print(fault)
sys.exit(1 if faults else 0)
