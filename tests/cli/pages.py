# SPDX-License-Identifier: MIT
"""Pages without a browser: all words of the JSON stand on the page, one page a survey in a folder of a batch, names that stay in
that folder, and the empty survey of `form`. Usage: pages.py TOOL REPO_ROOT"""
import html
import json
import pathlib
import re
import subprocess
import sys
import tempfile

tool, root = sys.argv[1], pathlib.Path(sys.argv[2])
faults, count = [], 0


def run(*args, code=0, stdin=""):
    got = subprocess.run([tool, *map(str, args)], input=stdin, capture_output=True, text=True, timeout=60)
    if code is not None and got.returncode != code:
        faults.append(f"{' '.join(map(str, args))}: exit {got.returncode}, want {code}\n{got.stderr[:300]}")
    return got


def check(holds, what):
    global count
    count += 1
    if not holds:
        faults.append(what)


def words_of(page):
    """What a reader sees, on one line."""
    body = re.sub(r"<style>.*?</style>", "", page, flags=re.S)
    return " ".join(html.unescape(re.sub(r"</?(span|bdi|strong)[^>]*>", "", body)).replace("\n", " ").split())


# Invariant: no caution, assumption, source, table or range of the JSON is missing on the page, whatever the survey.
def parity(survey):
    result = json.loads(run("assess", "--format", "json", survey).stdout)
    page = words_of(run("assess", "--format", "html", survey).stdout)
    name = survey.name
    for caution in result["cautions"]:
        check(caution["text"].rstrip(".") in page, f"{name}: the page lacks the caution {caution['code']}: {caution['text']}")
        for key in ("who", "clears"):
            text = caution.get(key)
            check(not text or text == "-" or text in page or "cleared_by" in caution, f"{name}: the page lacks {key} of {caution['code']}: {text}")
    for assumption in result["assumptions"]:
        check(assumption["what"].rstrip(".") in page, f"{name}: the page lacks the assumption: {assumption['what']}")
        check(assumption["why"].rstrip(".") in page, f"{name}: the page lacks the reason: {assumption['why']}")
    for source in result["sources"]:
        check(f"{source['title']} ({source['status']})" in page, f"{name}: the page lacks the source {source['title']}")
    for table in result["tables"]:
        check(f"{table['name']} {table['version']} {table['hash']}" in page, f"{name}: the page lacks the table {table['name']}")
    stops = [c for c in result["cautions"] if c["level"] == "stop"]
    check(bool(stops) == ("STOP no insulation work until these are cleared" in re.sub(r"<[^>]*>", " ", page).replace("  ", " ")),
          f"{name}: stop banner and cautions differ")
    if stops:
        check(page.find("STOP") < page.find("You have"), f"{name}: the banner does not stand above the numbers")
    # The text report's own numbers: every line of words and figures of it is on the page too.
    text = run("assess", "--no-color", survey).stdout
    flat = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", page))
    for number in set(re.findall(r"(?:R-|\$)\d[\d.,]*\d", text)):
        check(number in flat, f"{name}: the page lacks {number}, which the text has")


surveys = sorted((root / "examples").glob("*.json"))
for survey in surveys:
    parity(survey)

# Several surveys: one page cannot hold them; the message says what does.
several = run("assess", "--format", "html", surveys[0], surveys[1], code=2)
check("--html-folder" in several.stderr and not several.stdout, "assess --format html with two surveys: no clear refusal")
check("--html-folder" in run("goods", "--format", "html", surveys[0], surveys[1], code=2).stderr, "goods: no clear refusal")

# A folder of pages: one for each survey that was not refused, beside the same records as ever.
with tempfile.TemporaryDirectory() as place:
    place = pathlib.Path(place)
    base = json.loads((root / "examples/flush-batts.json").read_text())
    ids = ["same", "same", "../../etc/passwd", "a/b", ".hidden", "x" * 200, "<script>", "\u05d0\u05d1", ""]
    lines = "".join(json.dumps({**base, "id": i}) + "\n" for i in ids) + '{"format": "overjoist-survey"}\n'
    out = place / "out"
    got = run("batch", "--html-folder", out, "--jobs", 2, "-", stdin=lines, code=1)
    names = sorted(p.name for p in out.iterdir())
    check(len(names) == len(ids), f"a page for each survey: {names}")
    check(all(re.fullmatch(r"[A-Za-z0-9_][A-Za-z0-9._-]*-[a-f][0-9a-f]{11}-line-\d{6}\.html", n) for n in names), f"names that are not safe: {names}")
    check([n[-11:] for n in names if n.startswith("same-")] == ["000001.html", "000002.html"], f"two of the same id: {names}")
    check(sorted(p.name for p in place.iterdir()) == ["out"], "something was written outside the folder")
    check(all(p.read_text().endswith("</html>\n") for p in out.iterdir()), "a page is not whole")
    plain = run("batch", "--jobs", 1, "-", stdin=lines, code=1)
    check(plain.stdout == got.stdout, "the records differ from those of a batch without pages")
    one = place / "one.json"
    one.write_text(json.dumps({**base, "id": "same"}))
    check(next(out.glob("same-*-line-000001.html")).read_text() == run("assess", "--format", "html", one).stdout, "batch and assess write different pages")
    # A folder that cannot be made or written: exit 4, and no half page.
    blocked = place / "file"
    blocked.write_text("")
    check("could not be written" in run("batch", "--html-folder", blocked / "in", "-", stdin=lines, code=4).stderr, "no message for a bad folder")
    run("batch", "--html-folder", blocked, "-", stdin=lines, code=4)
    check("--rank" in run("batch", "--html-folder", out, "--rank", "bags", "-", stdin=lines, code=2).stderr, "--rank with pages: no clear refusal")

    # The empty survey: every key is known, each empty place is named, and once filled in it passes.
    form = json.loads(run("form").stdout)
    empty = place / "form.json"
    run("form", "--output", empty)
    refused = run("check", empty, code=3).stdout
    check(all('""' in line or "0 characters" in line for line in refused.splitlines() if line.startswith(str(empty))),
          f"the empty form has other faults than its empty places:\n{refused}")
    for pointer in ("/sections/0/readings/0", "/site/climate_zone", "/sections/0/length_ft", "/heating/hdd_f_day"):
        check(pointer in refused, f"the check of the empty form does not name {pointer}:\n{refused}")
    floor, hatch = form["sections"]
    form.update(id="f-1", label="house", surveyed={"by": "A. Reader", "date": "2026-05-01"})
    form["site"] = {"climate_zone": "5", "year_built": 1960, "storeys": 1}
    floor.update(length_ft="40", width_ft="25", ceiling="gypsum-1/2", joists={"size": "2x6", "spacing_in": 16},
                 layers=[{"material": "cellulose-loose"}], readings=["4", "4 1/2"], bypasses=[{"kind": "plumbing-stack", "where": "bath", "count": 1}])
    hatch.update(length_ft="2", width_ft="2", ceiling="plywood-1/2", insulation_r=0)
    form["hazards"] = [{"kind": "flue", "where": "middle"}]
    form["ventilation"] = {"low_nfa_in2": 200, "high_nfa_in2": 200, "eave_length_ft": 80, "rafter_spacing_in": 24}
    form["proposal"] = {"material": "cellulose-loose", "bag_net_lb": 25, "price_per_bag": 15, "currency": "$", "labour": {"price_per_ft2": 0.5}}
    form["heating"] = {"fuel": "natural-gas", "efficiency": 0.8, "price_per_unit": 1.2, "hdd_f_day": 6000, "base_f": 65}
    empty.write_text(json.dumps(form))
    run("check", empty)
    filled = run("assess", "--format", "html", empty).stdout
    check("surveyed by A. Reader, on 2026-05-01" in words_of(filled), "who and when do not stand on the page")

# Invariant: the field sheet offers every kind of hazard and leak of the tables, and no text field of it is lost.
sheet = words_of(run("form", "--format", "html").stdout)
for row in json.loads((root / "data/cautions.json").read_text())["rows"]:
    for kind in row.get("hazard_kinds", []):
        check(kind.replace("-", " ") in sheet, f"the field sheet lacks the hazard {kind}")
for row in json.loads((root / "data/bypasses.json").read_text())["rows"]:
    check(row["name"] in sheet, f"the field sheet lacks the leak {row['id']}")
order = [sheet.find(h) for h in ("1. At the desk", "2. Round the outside", "3. The rooms below", "4. At the hatch", "5. Each floor",
                                 "6. Readings", "7. Leaks", "8. Hazards", "9. Sketch", "10. Photos")]
check(order == sorted(order) and order[0] >= 0, f"the field sheet is not in walking order: {order}")



# Symptom: a batt called "nothing..." was laid as "nothing", an extra "[ ] x" became a box to tick; cause: page code read its own
# text back. Invariant: whatever the user's texts say, the elements of a page are the same.
def elements(survey, *command):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, "s.json")
        path.write_text(json.dumps(survey))
        return re.findall(r"</?[a-z][^>]*>", re.sub(r"<(title|meta)[^>]*>.*?\n", "", run(*command, path).stdout))


def renamed(value, words):
    """The survey with each text that a page shows as it stands replaced."""
    if isinstance(value, dict):
        shown = ("name", "what", "label", "where", "by", "note")
        return {k: words(v) if k in shown and isinstance(v, str) else renamed(v, words) for k, v in value.items()}
    return [renamed(v, words) for v in value] if isinstance(value, list) else value


house = json.loads((root / "tests/reproductions/batt-named-nothing.json").read_text())
house["sections"][0]["patches"] = [{"kind": "platform", "where": "bath", "area_ft2": 4}]
house["hazards"] = [{"kind": "flue", "where": "middle"}]
house["compare"] = [{"name": "another", "material": "rock-wool-loose"}]
numbered = iter(range(1000))
plain = renamed(house, lambda text: f"plain{next(numbered):03} text")
with tempfile.TemporaryDirectory() as folder:
    pathlib.Path(folder, "s.json").write_text(json.dumps(renamed(house, lambda text: f"nothing-itch {next(numbered)}")))
    laid = words_of(run("assess", "--format", "html", pathlib.Path(folder, "s.json")).stdout)
    check("lay nothing-itch" in laid, "a batt called nothing... is not laid")
for lead in ("[ ] ", "[x] ", "- ", "1. ", "  ", "nothing ", "STOP: ", "R-"):
    numbered = iter(range(1000))
    steered = renamed(house, lambda text: f"{lead}plain{next(numbered):03} text")
    for command in (["assess", "--format", "html"], ["order", "--format", "html"], ["goods", "--format", "html"]):
        check(elements(steered, *command) == elements(plain, *command), f"{command[0]}: a text that begins with {lead!r} steers the page")

print("\n".join(faults[:40]) if faults else f"{count} checks of pages passed")
sys.exit(1 if faults else 0)
