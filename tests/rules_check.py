# SPDX-License-Identifier: MIT
"""Rules that a compiler does not check: ranks of includes, places of `catch`, where dependencies may be included,
sources beside checks, size of main.cpp, and the visible top level. Usage: rules_check.py REPO_ROOT"""
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(sys.argv[1])
faults = []

# Rank of each file by the stem of its name; a file may include equal names (its own header) and lower ranks only.
RANKS = [
    (1, r"diagnostics$"), (2, r"units$"), (3, r"materials$"), (3, r"readings$"), (4, r"(survey|record)$"), (5, r"assembly$"),
    (4, r"(ranges|claims|rebate)$"), (6, r"framing$"), (6, r"moisture$"), (7, r"(topup|eaves)$"),
    (8, r"(quantities|wedge|sealing|leakage|ventilation)$"), (9, r"savings$"), (10, r"money$"), (11, r"(cautions|clearing)$"),
    (12, r"(plan|goods|cut|evaluate(_\w+)?)$"), (12, r"inspect(_parts|_section|_layer|_lists|_bags|_tag|_sold)?$"), (13, r"(record_json|inspect_words|held_text)$"),
    (13, r"(survey_json|report\w*|json_\w+|quantity_text|csv_row|html_\w+|svg_\w+|form\w*|tables_json|words|embedded|page|utf8|shapes|survey_checks|material_names|survey_section|survey_plan|survey_money|survey_batts|survey_layers|survey_quote|quote_words)$"),
    (15, r"(outputs|result_folder|batch_sources)$"), (14, r"batch\w*$"),
    (15, r"(main|app|commands|files|exit_codes|signals|cmd_\w+)$"),
]
ALWAYS = {"version"}


def rank(path):
    stem = pathlib.PurePath(path).name.split(".")[0]
    if stem in ALWAYS:
        return 0
    for number, pattern in RANKS:
        if re.fullmatch(pattern, stem):
            return number
    faults.append(f"{path}: no rank is known for this file; add it to RANKS in tests/rules_check.py")
    return 99


sources = sorted(p for d in ("src", "include") for p in (root / d).rglob("*") if p.suffix in (".cpp", ".hpp"))
for path in sources:
    name = path.relative_to(root).as_posix()
    text = path.read_text()
    mine = rank(name)
    if not text.startswith("// SPDX-License-Identifier: MIT"):
        faults.append(f"{name}: first line is not the SPDX line")
    for included in re.findall(r'#include "([^"]+)"', text):
        theirs = rank(included)
        if theirs > mine:
            faults.append(f"{name} (rank {mine}) includes {included} (rank {theirs})")
    for header, place in (("<CLI/", "src/cli/"), ("<nlohmann/", "src/io/")):
        if f"#include {header}" in text and not name.startswith(place):
            faults.append(f"{name} includes {header}...> outside {place}")
    if name.endswith(".hpp") and re.search(r"#include <(fmt|nlohmann|CLI)/", text) and name.startswith("include/"):
        faults.append(f"{name}: a public header drags a dependency in")
    if re.search(r"\bcatch\s*\(", text) and name not in ("src/io/json_reader.cpp", "src/io/survey_checks.cpp", "src/io/json_parse.cpp", "src/io/batch.cpp", "src/cli/app.cpp"):
        faults.append(f"{name}: catch may stand in the JSON reader, batch and app.cpp only")
    if name.startswith("src/core/") and re.search(r"#include <(iostream|fstream|chrono|ctime)>", text):
        faults.append(f"{name}: the core does no input, output or time")
    if re.search(r"\b(TODO|FIXME|XXX)\b", text):
        faults.append(f"{name}: unfinished")

if len((root / "src/cli/main.cpp").read_text().splitlines()) > 15:
    faults.append("src/cli/main.cpp: more than 15 lines")

# Every group of checks names its authority: in each test case, or in the comment right above it.
AUTHORITY = re.compile(r"Source:|Hand derivation:|Independent:|Invariant:|Common practice")
for path in sorted((root / "tests/unit").glob("test_*.cpp")):
    lines = path.read_text().splitlines()
    starts = [i for i, line in enumerate(lines) if line.startswith("TEST_CASE")]
    for k, start in enumerate(starts):
        end = starts[k + 1] if k + 1 < len(starts) else len(lines)
        above = start
        while above > 0 and lines[above - 1].startswith("//"):
            above -= 1
        if not AUTHORITY.search("\n".join(lines[above:end])):
            faults.append(f"tests/unit/{path.name}:{start + 1}: a test case without Source:, Hand derivation:, Independent:, Invariant: or Common practice")
    text = "\n".join(lines)
    for anchor in re.findall(r"SOURCES\.md#([\w-]+)", text):
        if f'"{anchor}"' not in (root / "tests/reference/SOURCES.md").read_text() and f"## {anchor}" not in (root / "tests/reference/SOURCES.md").read_text():
            faults.append(f"tests/unit/{path.name}: SOURCES.md has no entry '{anchor}'")

ALLOWED = set("CMakeLists.txt README.md DEVELOPERS.md src include tests data examples LICENSE".split())
try:
    tracked = subprocess.run(["git", "-C", str(root), "ls-files"], capture_output=True, text=True, check=True).stdout.split("\n")
except (OSError, subprocess.CalledProcessError):
    tracked = []
for entry in sorted({t.split("/")[0] for t in tracked if t}):
    if not entry.startswith(".") and entry not in ALLOWED:
        faults.append(f"{entry}: not one of the agreed top-level entries")

print("\n".join(faults) if faults else f"{len(sources)} files keep the rules")
sys.exit(1 if faults else 0)
