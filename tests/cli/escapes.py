# SPDX-License-Identifier: MIT
"""What steers a terminal, turns text round or cannot be seen reaches no output as it stands. Usage: escapes.py TOOL REPO_ROOT
Independent: Python's unicodedata and the list below say which characters those are.
Symptom: a survey's id cleared the screen and retitled the window from a CSV; a tag or zero-width character hid words in every
format. Cause: CSV escaped nothing, and the writers knew controls and some marks of direction only."""
import csv
import io
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unicodedata

tool, root = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()
faults, count = [], 0
here = pathlib.Path(tempfile.mkdtemp()).resolve()
HOSTILE = [chr(c) for c in [*range(0x20), *range(0x7F, 0xA0), 0xAD, 0x34F, 0x61C, 0x115F, 0x1160, 0x17B4, 0x180E, *range(0x200B, 0x2010), *range(0x2028, 0x202F),
                            *range(0x2060, 0x2065), *range(0x2066, 0x2070), 0x3164, 0xFE00, 0xFE0F, 0xFEFF, 0xFFA0, 0xFFF9, 0xFFFB, 0x1D173, 0xE0001, 0xE0020, 0xE0041, 0xE007F,
                            0xE0100, 0xE01EF]]
BANNED = set(HOSTILE) | {chr(c) for c in range(sys.maxunicode + 1) if unicodedata.category(chr(c)) in ("Cc", "Zl", "Zp")}
HARMLESS = "é – ½ Ω 家 \U0001F3E0 \u0628 \u05d0 e\u0301"  # letters of any script, marks that are drawn, symbols


def check(name, holds, detail=""):
    global count
    count += 1
    if not holds:
        faults.append(f"{name}: {detail}"[:500])


def run(*args, **more):
    return subprocess.run([tool, *args], capture_output=True, cwd=here, timeout=120, **more)


def clean(name, data, breaks="\n"):
    text = data.decode("utf-8")  # strict: nothing that is no UTF-8 gets out either
    found = sorted({f"U+{ord(c):04X}" for c in set(text) & (BANNED - set(breaks))})
    check(name, not found, found)


def texts(value, path=()):
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        if isinstance(inner, str):
            yield (*path, key)
        yield from texts(inner, (*path, key))


def put(document, path, change):
    for key in path[:-1]:
        document = document[key]
    document[path[-1]] = change(document[path[-1]])


def spoilt(document, word):
    """`document` with `word` in each text that may hold it, as the program's own check of one change at a time tells."""
    paths, lines = list(texts(document)), []
    for path in paths:
        one = json.loads(json.dumps(document))
        put(one, path, lambda text: text[:2] + word + text[2:])
        lines.append(json.dumps(one))
    got = run("batch", "--jobs", "2", "-", input="\n".join(lines).encode())
    open_to = [p for p, line in zip(paths, got.stdout.splitlines()) if json.loads(line)["status"] == "done"]
    for path in open_to:
        put(document, path, lambda text: text[:2] + word + text[2:])
    return document, len(open_to)


FORMATS = [["assess"], ["assess", "--units", "si"], ["assess", "--format", "json"], ["assess", "--format", "csv"], ["assess", "--format", "csv", "--rows", "section"],
           ["assess", "--format", "html"], ["order"], ["order", "--format", "html"], ["goods"], ["goods", "--format", "json"], ["goods", "--format", "csv"],
           ["goods", "--format", "html"], ["check"], ["batch"], ["batch", "--format", "csv"], ["batch", "--format", "csv", "--rows", "section"], ["batch", "--rank", "bags"]]
for number in range(0, len(HOSTILE), 24):
    word = "".join(HOSTILE[number:number + 24])
    for name in ("full-plan", "quote-check") if number == 0 else ("quote-check",):
        document, places = spoilt(json.loads((root / f"examples/{name}.json").read_text()), word)
        check(f"{name}: texts of one's own", places >= 5, places)
        document["x_" + word] = {word: [word]}
        (here / "s.json").write_bytes(json.dumps(document).encode())
        for args in FORMATS:
            got = run(*args, "s.json")
            where = f"{' '.join(args)} of {name} with {word!r}"
            check(f"{where}: done", got.returncode == 0, got.stderr[:200])
            clean(where, got.stdout, "\r\n" if "csv" in args else "\n")
            clean(f"{where}, standard error", got.stderr)
        there = json.loads(run("assess", "--format", "json", "s.json").stdout)
        check(f"{name}: JSON reads back as it was given", there["id"] == document["id"] and there["x_" + word] == {word: [word]}, there["id"])
        # What JSON holds raw, as a text editor writes it.
        (here / "s.json").write_bytes(json.dumps(document, ensure_ascii=False).encode())
        clean(f"raw {word!r}", run("assess", "--format", "json", "s.json").stdout)
        clean(f"raw {word!r}, batch", run("batch", "s.json").stdout)

every = "".join(HOSTILE)
job = {n: json.loads((root / f"examples/inspect/pass/{n}.json").read_text()) for n in ("survey", "record")}
for part in [every[i:i + 20] for i in range(0, len(every), 20)]:
    # What is refused says why, in clean words.
    for number, text in enumerate((json.dumps({part: 1}), json.dumps({"format": part, "version": part}), '{"format": "' + part, json.dumps({"format": "overjoist-survey", "version": 1, "sections": [{"name": part, "kind": part}]}),
                 json.dumps({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a", "kind": "flat", "layers": [{"material": part}], "readings": [part], part: part}]}))):
        (here / f"bad{number}.json").write_bytes(text.encode())
    for args in (a for a in FORMATS if "html" not in a and "order" not in a):
        got = run(*args, *(f"bad{number}.json" for number in range(5)))
        check(f"{args} refuses", got.returncode in (1, 3), got.returncode)
        clean(f"{args} refusing {part!r}", got.stdout, "\r\n" if "csv" in args else "\n")
        clean(f"{args} refusing {part!r}, standard error", got.stderr)
    # A record, its receipt; a table and a rebate of one's own; words of flags; names that come in by options.
    for n in job:
        (here / f"{n}.json").write_bytes(json.dumps({**job[n], "notes": part, "x_" + part: part}).encode())
    for args in ([], ["--format", "json"], ["--format", "jsonl"], ["--format", "csv"], ["--receipt"], ["--receipt", "--format", "html"]):
        got = run("inspect", *args, "survey.json", "record.json")
        check(f"inspect {args}", got.returncode == 0, got.stderr)
        clean(f"inspect {args} {part!r}", got.stdout, "\r\n" if "csv" in args else "\n")
    row = {"id": "moor-wool", "name": part + "wool", "form": "loose", "r_per_inch_low": 3.0, "r_per_inch": 3.2, "r_per_inch_high": 3.4, "note": part}
    (here / "m.json").write_bytes(json.dumps({"table": "materials", "rows": [row]}).encode())
    for args in (["materials"], ["materials", "--format", "json"], ["quick", "--area", "9", "--depth", "4", "--material", "moor-wool"],
                 ["quick", "--area", "9", "--depth", "4", "--material", "moor-wool", "--format", "html"]):
        got = run(*args, "--materials", "m.json")
        clean(f"{args} with {part!r}", got.stdout)
        clean(f"{args} with {part!r}, standard error", got.stderr)
    said = part.replace("\0", "")
    for args in ([said], ["assess", "--" + said, "x"], ["assess", "--units", said, "x"], ["quick", "--area", said, "--depth", said], ["assess", said], ["assess", "--output", said + "/no/such", "s.json"],
                 ["batch", said], ["batch", "--to", said + "/no/such", "s.json"], ["check", said], ["inspect", said, said], ["materials", "--materials", said], ["assess", "--rebate", said, "s.json"],
                 ["quick", "--area", "9", "--depth", "4", "--currency", said[:12], "--bag-price", "3", "--labour-per-ft2", "1"]):
        got = run(*args)
        clean(f"{args[:2]} {said!r}", got.stdout)
        clean(f"{args[:2]} {said!r}, standard error", got.stderr)

# File names, seen in records, messages and lists.
name = "a\x1b[2J\x07\x7f\u0085\u202e\u200b\U000e0041"
for folder in ("jobs", "out", "pages"):
    (here / (folder + name)).mkdir()
shutil.copy(here / "s.json", here / ("jobs" + name) / (name + ".json"))
(here / ("jobs" + name) / ("bad" + name + ".json")).write_bytes(b"{}")
(here / ("jobs" + name) / ("no utf-8 " + name + "\udcff.json")).write_bytes(b"{}")
for args in (["batch"], ["batch", "--format", "csv"], ["batch", "--rank", "bags"], ["batch", "--to", "out" + name], ["batch", "--html-folder", "pages" + name], ["inspect"], ["inspect", "--format", "csv"],
             ["inspect", "--format", "jsonl"]):
    got = run(*args, "jobs" + name)
    clean(f"{args[:2]} of a folder", got.stdout, "\r\n" if "csv" in args else "\n")
    clean(f"{args[:2]} of a folder, standard error", got.stderr)
got = run("batch", "--to", "out" + name, "--html-folder", "pages" + name, "s.json")
check("results that were not written are named", b"of earlier runs" in got.stderr, got.stderr)
clean("results that were not written", got.stderr)
for folder in ("out", "pages"):
    check(f"names in {folder} are plain", all(set(p.name) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-") for p in (here / (folder + name)).iterdir()))
got = run("form", "--output", "form" + name)
clean("what was written", got.stderr)
got = run("form", "--output", "form" + name)
check("form refuses", got.returncode == 2)
clean("what is there already", got.stderr)

# Letters, marks that are drawn and symbols of any script stay as they are.
(here / "s.json").write_bytes(json.dumps({**document, "id": "h", "label": HARMLESS}).encode())
for args in (["assess", "--format", "json"], ["assess", "--format", "csv"], ["assess"]):
    check(f"{args}: other letters stay", HARMLESS.encode() in run(*args, "s.json").stdout)

# ---- CSV: what a spreadsheet would obey
# Symptom: blanks before a =, or its full-width form, passed the guard. Cause: only the first byte was looked at.
BLANKS = ["", " ", "   ", "\t", "\n", "\r", "\x0b", "\x0c", "\x85", "\xa0", "\u1680", *map(chr, range(0x2000, 0x200B)), "\u2028", "\u2029", "\u202f", "\u205f", "\u3000", "\u200b", "\ufeff", "\u2060", " \u3000\t ",
          # Symptom: a braille blank before a = passed. Cause: it is no blank by its category, though nothing of it is seen.
          "\u2800", "\u2800 \u2800", "\u3164", "\uffa0", "\u115f", "\u17b5", "\u180e", "\u034f", "\ufe0f", "\U0001d159", "\U00016fe4", "\U00013441",
          "\U000e0020"]
cells = [blank + sign + 'cmd,"x"' for blank in BLANKS for sign in "=+-@＝＋－＠"]
plain = ["house", " house", "\u2800house", "a=b", "3-4", "\xa0x", ""]
lines = "\n".join(json.dumps({**document, "id": cell, "label": cell}) for cell in cells + plain).encode()
guarded, raw = (list(csv.DictReader(io.StringIO(run("batch", "--format", "csv", *more, "-", input=lines).stdout.decode(), newline=""))) for more in ([], ["--raw-text"]))
check("a row each", len(guarded) == len(raw) == len(cells + plain), (len(guarded), len(raw)))
for cell, row, as_is in zip(cells + plain, guarded, raw):
    for field in ("label", "id"):
        held = row[field] == cell if cell in plain else row[field].startswith("'") and row[field].endswith(cell[-8:])
        check(f"CSV guard on {cell!r}", held, row[field])
        check(f"CSV as it stands: {cell!r}", as_is[field] == cell, as_is[field])

shutil.rmtree(here)
print("\n".join(faults[:40]) if faults else f"{count} checks of escapes hold")
sys.exit(1 if faults else 0)
