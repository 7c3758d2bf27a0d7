# SPDX-License-Identifier: MIT
"""Seeds and dictionary of the fuzz targets: seeds.py ROOT OUT."""
import json
import pathlib
import re
import sys

root, out = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
surveys = sorted(root.glob("examples/**/*.json")) + sorted(root.glob("tests/surveys/*/*.json"))
for target in ("survey", "assess", "materials", "chart", "record", "rebate"):
    (out / target).mkdir(parents=True, exist_ok=True)
charts = 0
for number, path in enumerate(surveys):
    text = path.read_bytes()
    for target in ("survey", "assess"):
        (out / target / f"{number}.json").write_bytes(text)
    try:
        chart = json.loads(text)["proposal"]["product"]["chart"]
    except (ValueError, KeyError, TypeError):
        continue
    charts += 1
    (out / "chart" / f"{number}.json").write_text(json.dumps(chart))
for number, path in enumerate(sorted(root.glob("tests/records/*/*.json")) + sorted(root.glob("examples/inspect/*/record.json"))):
    (out / "record" / f"{number}.json").write_bytes(path.read_bytes())
for number, path in enumerate(sorted(root.glob("examples/*.rebate"))):
    (out / "rebate" / f"{number}.json").write_bytes(path.read_bytes())
assert charts, "no survey with a chart is among the seeds"
table = json.loads((root / "data/materials.json").read_text())
table["rows"] = table["rows"][:3]
(out / "materials" / "table.json").write_text(json.dumps(table))

# Keys and words of the schema, which a fuzzer would not guess.
words = set()
for schema in ("survey", "record"):
    words |= set(re.findall(r'"([A-Za-z0-9_./ -]{2,40})"', (root / f"data/{schema}.schema.json").read_text()))
words |= {row["id"] for row in json.loads((root / "data/materials.json").read_text())["rows"]}
(out / "words.dict").write_text("".join(f'"\\"{word}\\""\n' for word in sorted(words)))
