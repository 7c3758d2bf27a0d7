#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Every good survey through every face, in both unit systems: cautions, stop banner and plain bytes. Usage: faces.py TOOL REPO_ROOT
Invariants: no caution is lost in any output; a stop stands above the numbers; no NaN, no control character, no line over 80 columns;
JSON is strict JSON; the units of the other system do not stand beside a figure."""
import json
import pathlib
import re
import subprocess
import sys

tool, root = sys.argv[1], pathlib.Path(sys.argv[2])
surveys = sorted((root / "examples").glob("*.json")) + sorted((root / "tests/surveys/good").glob("*.json"))
faults, checks = [], 0


def check(what, holds, detail=""):
    global checks
    checks += 1
    if not holds:
        faults.append(f"{what}: {detail}")


def run(what, *args):
    got = subprocess.run([tool, *map(str, args)], capture_output=True, timeout=120)
    check(f"{what}: exit 0, nothing on stderr", got.returncode == 0 and not got.stderr, (got.returncode, got.stderr[:300]))
    return got.stdout.decode("utf-8")


def refuse_constant(name):
    raise ValueError(name)


def strict(what, text):
    """JSON without NaN and Infinity, which Python would let pass."""
    try:
        return json.loads(text, parse_constant=refuse_constant)
    except ValueError as fault:
        check(f"{what}: strict JSON", False, fault)
        return None


def plain(text):
    """Words in a row, so that a line break or an indent hides nothing."""
    return " ".join(text.split())


def of_units(text, si):
    """A caution of the JSON speaks in US units; figures are left out of the comparison where the page is in SI."""
    return not si or not re.search(r"\d", text)


NUMBERS_OF_NOBODY = re.compile(r"(?<![a-z])(nan|inf)(?![a-z])")  # 'in' and 'insulation' are words, these are not
WRONG_IN_SI = re.compile(r"\d (ft2|ft3|h ft2 F/Btu)(?! \()")  # boards and gaps keep their trade name: 1/2 in. (13 mm) gypsum

for survey in surveys:
    name = survey.name
    result = strict(name, run(f"{name} json", "assess", "--format", "json", survey))
    cautions = result["cautions"]
    check(f"{name}: at least the caution on local code", any(c["code"] == "local-code" for c in cautions))
    stops = [c for c in cautions if c["level"] == "stop"]
    for units in ("us", "si"):
        for face, args in {"text": ["assess"], "order": ["order"], "goods": ["goods"]}.items():
            what = f"{name} {face} {units}"
            page = run(what, *args, "--units", units, survey)
            words = plain(page)
            for c in cautions:
                if of_units(c["text"], units == "si"):
                    check(f"{what}: caution {c['code']}", plain(c["text"]) in words, c["text"][:60])
            if stops:
                check(f"{what}: STOP stands first", "STOP" in page and page.index("STOP") < 400)
            check(f"{what}: 80 columns", max(map(len, page.splitlines())) <= 80, max(page.splitlines(), key=len))
            check(f"{what}: no NaN", not NUMBERS_OF_NOBODY.search(page.lower()), "a NaN")
            check(f"{what}: no control character", not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", page))
            if units == "si":
                hit = WRONG_IN_SI.search(page)
                check(f"{what}: SI alone", not hit, page[max(0, hit.start() - 60):hit.end()] if hit else "")
    for rows in ("survey", "section"):
        table = run(f"{name} csv {rows}", "assess", "--format", "csv", "--rows", rows, survey)
        for c in cautions:
            check(f"{name} csv {rows}: caution {c['code']}", c["code"] in table)
    line = subprocess.run([tool, "batch", survey], capture_output=True, timeout=120).stdout.decode("utf-8")
    check(f"{name}: batch says what assess says", strict(name, line)["cautions"] == cautions)

# Several surveys in one text and one array, none lost.
many = [str(s) for s in surveys]
array = strict("many", run("many", "assess", "--format", "json", *many))
check("an array of all", [a["status"] for a in array] == ["done"] * len(many))
text = run("many as text", "assess", *many)
check("every id of the array stands in the text", all(a["id"] is None or str(a["id"]) in text for a in array))

print(f"{checks} checks over {len(surveys)} surveys, {len(faults)} faults")
for fault in faults[:40]:
    print(fault)
sys.exit(1 if faults else 0)
