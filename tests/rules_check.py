# SPDX-License-Identifier: MIT
"""Rules that a compiler does not check: rooms of includes, places of `catch`, where dependencies may be included,
sources beside checks, size of main.cpp, and the visible top level. Usage: rules_check.py REPO_ROOT"""
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(sys.argv[1])
faults = []

# The rooms, top to bottom: a room includes only rooms above it, and itself. What a public header
# declares is as low as the room that defines it; those not named here are plain types that all may use.
ROOMS = [
    ("words", {"units", "diagnostics"}),
    ("tables", set()),
    ("sums", {"assembly", "attic_air", "ceiling_load", "eaves", "framing", "leakage", "moisture", "money", "quantities", "ranges", "readings", "rebate",
              "savings", "sealing", "strata", "topup", "two_column", "ventilation", "wedge"}),
    ("evaluate", set()),
    ("inspect", set()),
    ("read", {"survey_json", "record_json"}),
    ("write", {"report", "report_inspect", "form"}),
    ("batch", {"batch"}),
    ("cli", set()),
]
NUMBER = {room: i for i, (room, _) in enumerate(ROOMS)}
CATCH = ("src/read/json/reader.cpp", "src/batch/run.cpp", "src/cli/app.cpp")
BY_LIBRARY = (("<CLI/", "src/cli/"), ("<nlohmann/", "src/read/json/"))


def room_of(path):
    """The number of the room that a file stands in, or that defines what a public header declares; None: any may use it."""
    parts = pathlib.PurePath(path).parts
    if parts[0] == "src":
        parts = parts[1:]
    if parts[0] in NUMBER:
        return NUMBER[parts[0]]
    stem = pathlib.PurePath(path).name.split(".")[0]
    return next((i for i, (_, public) in enumerate(ROOMS) if stem in public), None)


sources = sorted(p for d in ("src", "include") for p in (root / d).rglob("*") if p.suffix in (".cpp", ".hpp"))
for path in sources:
    name = path.relative_to(root).as_posix()
    text = path.read_text()
    mine = room_of(name)
    if name.startswith("src/") and mine is None:
        faults.append(f"{name}: stands in no room")
    if not text.startswith("// SPDX-License-Identifier: MIT"):
        faults.append(f"{name}: first line is not the SPDX line")
    for included in re.findall(r'#include "([^"]+)"', text):
        theirs = room_of(included)
        if name.startswith("src/") and theirs is not None and theirs > mine:
            faults.append(f"{name} includes {included}, of the lower room {ROOMS[theirs][0]}/")
    for header, place in BY_LIBRARY:
        if f"#include {header}" in text and not name.startswith(place):
            faults.append(f"{name} includes {header}...> outside {place}")
    if name.endswith(".hpp") and re.search(r"#include <(fmt|nlohmann|CLI)/", text) and name.startswith("include/"):
        faults.append(f"{name}: a public header drags a dependency in")
    if re.search(r"\bcatch\s*\(", text) and name not in CATCH:
        faults.append(f"{name}: catch may stand in {', '.join(CATCH)} only")
    if mine in range(NUMBER["words"], NUMBER["inspect"] + 1) and re.search(r"#include <(iostream|fstream|chrono|ctime)>", text):
        faults.append(f"{name}: what computes does no input, output or time")
    if re.search(r"\b(TODO|FIXME|XXX)\b", text):
        faults.append(f"{name}: unfinished")

# A list of sources that leaves a file out would leave its tests out too, and nobody would see it.
def listed_sources(folder):
    text = (folder / "CMakeLists.txt").read_text()
    return re.findall(r"^  ([\w/]+\.cpp)\)?$", text, re.M)


def check_lists(top):
    for folder in sorted(p.parent for p in (root / top).glob("*/CMakeLists.txt")):
        name = folder.relative_to(root).as_posix()
        there = sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*.cpp"))
        there = [p for p in there if (name, p) != ("src/cli", "main.cpp")]
        listed = listed_sources(folder)
        if listed != sorted(there):
            missing = sorted(set(there) ^ set(listed)) or ["the order"]
            faults.append(f"{name}/CMakeLists.txt: not the sorted list of its files: {', '.join(missing)}")


check_lists("src")
check_lists("tests/unit")
for stray in sorted((root / "tests/unit").glob("test_*.cpp")):
    faults.append(f"{stray.relative_to(root)}: stands in no folder of a room")

if len((root / "src/cli/main.cpp").read_text().splitlines()) > 15:
    faults.append("src/cli/main.cpp: more than 15 lines")

# Every group of checks names its authority: in each test case, or in the comment right above it.
AUTHORITY = re.compile(r"Source:|Hand derivation:|Independent:|Invariant:|Common practice")
for path in sorted((root / "tests/unit").rglob("test_*.cpp")):
    lines = path.read_text().splitlines()
    starts = [i for i, line in enumerate(lines) if line.startswith("TEST_CASE")]
    for k, start in enumerate(starts):
        end = starts[k + 1] if k + 1 < len(starts) else len(lines)
        above = start
        while above > 0 and lines[above - 1].startswith("//"):
            above -= 1
        if not AUTHORITY.search("\n".join(lines[above:end])):
            faults.append(f"{path.relative_to(root)}:{start + 1}: a test case without Source:, Hand derivation:, Independent:, Invariant: or Common practice")
    text = "\n".join(lines)
    for anchor in re.findall(r"SOURCES\.md#([\w-]+)", text):
        if f'"{anchor}"' not in (root / "tests/reference/SOURCES.md").read_text() and f"## {anchor}" not in (root / "tests/reference/SOURCES.md").read_text():
            faults.append(f"{path.relative_to(root)}: SOURCES.md has no entry '{anchor}'")

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
