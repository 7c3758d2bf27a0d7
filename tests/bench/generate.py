# SPDX-License-Identifier: MIT
"""Makes surveys as JSON Lines, always the same for the same arguments: generate.py COUNT [SEED] [--bad-percent P] > FILE
1 to 4 sections, 8 to 30 readings each, about 1.7 kB a survey. Every house is invented."""
import json
import random
import sys

BAD = [
    lambda s: s["sections"][0].update(area_ft2=-5),
    lambda s: s["sections"][0].update(readings=["NaN"]),
    lambda s: s["sections"][0].update(readings=[]),
    lambda s: s["sections"][0].update(area_ft2=1e308),
    lambda s: s["sections"][0].update(area_ft2=0),
    lambda s: s["sections"][0].update(headroom_in=2, readings=[9]),
    lambda s: s["sections"][0]["layers"][0].update(material="celulose-loose"),
    lambda s: s["sections"][0].update(joists={"size": "2x6", "spacing_in": 1}),
    lambda s: s["sections"][0].update(area_ft2=True),
    lambda s: s["sections"][0].update(redings=[3]),
]
BROKEN = [lambda t: t[:-1] + ",}", lambda t: t.replace('"kind"', '"kind\\x"', 1), lambda t: t[: len(t) // 2], lambda t: t.replace('"version":1', '"version":1,"version":1'),
          lambda t: t.replace('"version":1', '"version":1e999'), lambda t: "[" * 10000, lambda t: "{}", lambda t: "null"]


def section(rng, number):
    kind = rng.random()
    mean = rng.uniform(2, 9)
    readings = [round(max(0.0, rng.gauss(mean, mean * 0.25)) * 4) / 4 for _ in range(rng.randint(8, 30))]
    size = rng.choice(["2x4", "2x6", "2x8", "2x10"])
    s = {"name": f"section {number + 1}", "kind": "flat", "area_ft2": rng.randint(150, 1400), "below": "heated",
         "ceiling": rng.choice(["gypsum-1/2", "gypsum-5/8"]), "joists": {"size": size, "spacing_in": rng.choice([16, 24])}}
    if kind < 0.6:
        s["layers"] = [{"material": rng.choice(["cellulose-loose", "glass-fiber-loose", "rock-wool-loose"]), "lies": "between", "facing": "none", "condition": "sound"}]
    elif kind < 0.85:
        s["layers"] = [{"material": "glass-fiber-batt", "label_r": 11, "label_thickness_in": 3.5, "lies": "between", "facing": "kraft", "facing_side": "ceiling"},
                       {"material": "cellulose-loose", "condition": "sound"}]
        readings = [r + 3.5 for r in readings]
    else:
        s["layers"] = [{"material": "unknown-loose", "condition": "voids", "void_share": 0.02}]
    s["readings"] = readings if rng.random() < 0.7 else [{"depth": r, "where": f"bay {i + 1}"} for i, r in enumerate(readings)]
    if rng.random() < 0.3:
        s["patches"] = [{"kind": "light-cover", "area_ft2": 4, "where": "kitchen"}]
    return s


def survey(rng, number):
    s = {"format": "overjoist-survey", "version": 1, "id": f"quillbrook-{number:07d}", "label": f"{rng.randint(1, 200)} Fellside Row, Quillbrook (invented)",
         "site": {"climate_zone": rng.choice(["4C", "5", "6B", "7"]), "elevation_ft": rng.randint(3000, 9000), "year_built": rng.randint(1900, 2015), "storeys": rng.randint(1, 3)},
         "sections": [section(rng, i) for i in range(rng.randint(1, 4))]}
    if rng.random() < 0.5:
        s["sections"].append({"name": "hatch", "kind": "hatch", "area_ft2": 5, "insulation_r": rng.choice([0, 5, 11]), "after_insulation_r": 49})
    s["hazards"] = [{"kind": k, "where": "north half"} for k in rng.sample(["non-ic-light", "chimney", "blocked-soffit", "knob-and-tube", "roof-leak"], rng.randint(0, 2))]
    s["proposal"] = {"material": rng.choice(["cellulose-loose", "glass-fiber-loose", "rock-wool-loose"]), "bag_net_lb": 25, "price_per_bag": 15.8, "waste_percent": 5,
                     "currency": "$", "labour": {"price_per_ft2": 0.55}, "extras": [{"what": "baffles and dams", "price": 140}]}
    s["notes"] = "Every price here is invented."
    return s


def main():
    words = sys.argv[1:]
    bad = 0.0
    if "--bad-percent" in words:
        at = words.index("--bad-percent")
        bad = float(words[at + 1]) / 100
        del words[at:at + 2]
    count, seed = int(words[0]), int(words[1]) if len(words) > 1 else 1
    rng = random.Random(seed)
    for number in range(count):
        s = survey(rng, number)
        broken = rng.random() < bad
        way = number % (len(BAD) + len(BROKEN))
        if broken and way < len(BAD):
            BAD[way](s)
        text = json.dumps(s, separators=(",", ":"))
        if broken and way >= len(BAD):
            text = BROKEN[way - len(BAD)](text)
        sys.stdout.write(text + "\n")


main()
