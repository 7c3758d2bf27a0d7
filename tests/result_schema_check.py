# SPDX-License-Identifier: MIT
"""Holds what the program writes to data/evaluation.schema.json and data/inspection.schema.json.
Usage: result_schema_check.py TOOL REPO_ROOT

Taken: every survey and record of examples/ and tests/ and of the blocks of tests/cli/*.case, in US
and SI units, by assess, batch and inspect; and the commands of the cases. Invariant:
- each record is valid;
- a record that is broken on purpose, at each place that a schema names, is refused;
- each key that a schema names is met in some record, with each of its words, types and nulls, and
  left out where it may be, or stands in NOT_MET: a schema that allows more than the program writes
  is found out. tests/results/ has surveys and jobs for what is met nowhere else.
"""
import concurrent.futures
import json
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

import jsonschema

EVALUATION, INSPECTION = "evaluation.schema.json", "inspection.schema.json"
RECORD, JOB = f"{EVALUATION}#/$defs/record", f"{INSPECTION}#/$defs/record"
BATCH, RANK = f"{EVALUATION}#/$defs/batch_record", f"{EVALUATION}#/$defs/ranked_record"

# "PLACE: SHAPE" as the messages of check_met have it: why no record of the run has it.
NOT_MET = {}


# ---- What the program is run over


class Case:
    """One case of a .case file, its files in a folder of its own."""

    def __init__(self, folder, root, part):
        self.folder, self.words, self.stdin = folder, [], ""
        folder.mkdir()
        for block in re.split(r"^--- ", part, flags=re.M)[1:]:
            kind, _, body = block.partition("\n")
            if kind == "command":
                self.words = shlex.split(body.strip().replace("{root}", str(root)))
            elif kind.startswith("file "):
                (folder / kind[5:]).write_text(body, encoding="utf-8")
            elif kind == "stdin":
                self.stdin = body
        if self.stdin:
            name = "stdin.jsonl" if self.words[:1] == ["batch"] else "stdin.json"
            (folder / name).write_text(self.stdin, encoding="utf-8")

    def as_json(self):
        """The command, its result as JSON on standard output; None where it has none."""
        others = {"--output", "--save", "--receipt", "--help", "--format"}
        if self.words[:1] not in (["assess"], ["quick"], ["inspect"]):
            return None
        if others.intersection(w.split("=")[0] for w in self.words):
            return None
        return self.words + ["--format", "json"]


def cases(root, folder):
    found = []
    for path in sorted((root / "tests/cli").glob("*.case")):
        for part in re.split(r"^=== ", path.read_text(encoding="utf-8"), flags=re.M)[1:]:
            found.append(Case(folder / str(len(found)), root, part))
    return found


def surveys(root, folder):
    """Every file that may be a survey, also such as must be refused."""
    found = [*root.glob("examples/**/*.json"), *root.glob("tests/surveys/*/*.json")]
    found += [*root.glob("tests/records/**/*.json"), *root.glob("tests/results/*.json")]
    return sorted(str(p) for p in [*found, *folder.rglob("*.json")])


def is_format(path, word):
    return f'"overjoist-{word}"'.encode() in path.read_bytes()


def pairs(root, folder):
    """Survey and record in turn: those of one folder, and tests/records/ with the survey there."""
    found = [(root / "tests/records/survey.json", p) for p in root.glob("tests/records/*/*.json")]
    places = [p.parent for top in ("examples", "tests")
              for p in (root / top).rglob("record.json")]
    for place in places + [p for p in folder.iterdir() if p.is_dir()]:
        files = list(place.glob("*.json"))
        records = [p for p in files if is_format(p, "record")]
        found += [(s, r) for s in files for r in records if is_format(s, "survey")]
    return [str(p) for pair in sorted(found) for p in pair]


class Run:
    """A command, and the place of the schema that its records are held to."""

    def __init__(self, place, words, case=None, stdin=""):
        self.place, self.words, self.case, self.records = place, words, case, []
        self.stdin = case.stdin if case else stdin

    def __str__(self):
        return " ".join(self.words)[:60]

    def go(self, tool):
        got = subprocess.run([tool, *self.words], input=self.stdin, capture_output=True,
                             cwd=self.case and self.case.folder, encoding="utf-8", timeout=120)
        if got.returncode in (0, 1, 3) and got.stdout:
            self.records = parsed(got.stdout)
        return self


def parsed(text):
    """One value, those of an array, or a value a line."""
    try:
        value = json.loads(text)
    except json.JSONDecodeError:
        return [json.loads(line) for line in text.splitlines()]
    return value if isinstance(value, list) else [value]


def runs(root, folder):
    """Every run; the files of the cases are made in `folder`."""
    told = [case for case in cases(root, folder) if case.as_json()]
    files, jobs = surveys(root, folder), pairs(root, folder)
    assess, inspect = ["assess", "--format", "json"], ["inspect", "--format"]
    lines, demo = [str(p) for p in folder.rglob("*.jsonl")], root / "examples/demo.json"
    stream = " ".join(demo.read_text(encoding="utf-8").split()) + "\n{}\n"  # done, and rejected
    for units in ("us", "si"):
        yield Run(BATCH, ["batch", "--units", units, *files, *lines])
        yield Run(RECORD, [*assess, "--units", units, *files])
        yield Run(JOB, [*inspect, "json", "--units", units, *jobs])
    yield Run(JOB, [*inspect, "jsonl", *jobs])
    yield Run(RECORD, [*assess, "--compare", "rock-wool-loose", *files])
    for method in ("planes", "mean", "two-column"):
        yield Run(RECORD, [*assess, "--framing-method", method, str(demo)])
    for key in ("ua-lost", "saving-per-cost"):
        yield Run(RANK, ["batch", "--rank", key, *files])
    yield Run(BATCH, ["batch", "-"], stdin=stream)
    yield Run(RANK, ["batch", "--rank", "bags", "-"], stdin=stream)
    for case in told:
        yield Run(JOB if case.words[0] == "inspect" else RECORD, case.as_json(), case)


# ---- Schemas


class Schemas:
    """Both schemas, a validator for each place that asks for one, and a walk along schema and
    record. A place is FILE#POINTER."""

    def __init__(self, root):
        self.files, self.validators, self.nodes, self.targets = {}, {}, {}, {}
        for name in (EVALUATION, INSPECTION):
            self.files[name] = json.loads((root / "data" / name).read_text(encoding="utf-8"))
            jsonschema.Draft202012Validator.check_schema(self.files[name])
        self.store = {schema["$id"]: schema for schema in self.files.values()}

    def validator(self, place):
        if place not in self.validators:
            schema = self.files[place.partition("#")[0]]
            resolver = jsonschema.RefResolver.from_schema(schema, store=self.store)
            made = jsonschema.Draft202012Validator(self.at(place), resolver=resolver)
            self.validators[place] = made
        return self.validators[place]

    def at(self, place):
        if place not in self.nodes:
            file, _, pointer = place.partition("#")
            node = self.files[file]
            for word in pointer.split("/")[1:]:
                node = node[int(word)] if isinstance(node, list) else node[word]
            self.nodes[place] = node
        return self.nodes[place]

    def target(self, place):
        """Where the rules of a place stand: as far as its $ref leads."""
        if place not in self.targets:
            end = place
            while "$ref" in self.at(end):
                file, _, pointer = self.at(end)["$ref"].partition("#")
                end = f"{file or end.partition('#')[0]}#{pointer}"
            self.targets[place] = end
        return self.targets[place]

    def branches(self, rules, value):
        """Places whose rules hold for the same value."""
        node = self.at(rules)
        if "if" in node:
            yield f"{rules}/{'then' if self.validator(rules + '/if').is_valid(value) else 'else'}"
        for i in range(len(node.get("anyOf", ()))):
            if self.validator(f"{rules}/anyOf/{i}").is_valid(value):
                yield f"{rules}/anyOf/{i}"

    def inner(self, rules, value):
        """(place, key or index) of each value inside."""
        node = self.at(rules)
        if isinstance(value, dict):
            for key in value:
                if key in node.get("properties", ()):
                    yield f"{rules}/properties/{key}", key
                elif isinstance(node.get("additionalProperties"), dict):
                    yield f"{rules}/additionalProperties", key
        elif isinstance(value, list):
            fixed = len(node.get("prefixItems", ()))
            for i in range(len(value)):
                if i < fixed or "items" in node:
                    yield f"{rules}/prefixItems/{i}" if i < fixed else f"{rules}/items", i

    def walk(self, place, value, see, path=()):
        """Calls see(place, value, path) for a value and for all that is in it."""
        see(place, value, path)
        rules = self.target(place)
        for branch in self.branches(rules, value):
            self.walk(branch, value, see, path)
        for inner, key in self.inner(rules, value):
            self.walk(inner, value[key], see, (*path, key))

    def keys(self, place, node):
        """Places of all keys that are named at `place`, whose node is given, or below it."""
        inner = node.items() if isinstance(node, dict) else enumerate(node)
        for key, below in inner:
            if place.endswith("/properties"):
                yield f"{place}/{key}"
            if key != "if" and isinstance(below, (dict, list)):
                yield from self.keys(f"{place}/{key}", below)


def types(node):
    told = node.get("type", [])
    return [told] if isinstance(told, str) else told


def may_be_null(node):
    return "null" in types(node) or {"null"} & {t for n in node.get("anyOf", ()) for t in types(n)}


def shape(node, value):
    """What of a value is told one by one: its word, else its type."""
    if "enum" in node or value is None:
        return json.dumps(value)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return "integer" if "integer" in types(node) else "number"
    return {bool: "boolean", str: "string", list: "array", dict: "object"}[type(value)]


def optional(node):
    return set(node.get("properties", ())) - set(node.get("required", ()))


def shapes(schemas, place):
    """All shapes that the schema allows under the key at `place`."""
    node = schemas.at(schemas.target(place))
    told = [json.dumps(word) for word in node.get("enum", ())] + types(node)
    for i in range(len(node.get("anyOf", ()))):
        told += types(schemas.at(schemas.target(f"{schemas.target(place)}/anyOf/{i}")))
    if "const" in node:
        told.append(shape({}, node["const"]))
    owner, key = place.rsplit("/properties/", 1)
    return told + ["left out"] * (key in optional(schemas.at(owner)))


# ---- Checks


def check_runs(done, problems):
    """Each check below has something to check."""
    for run in done:
        if not run.records and not run.case:
            problems.append(f"{run}: wrote nothing")
    for place in (RECORD, BATCH, RANK, JOB):
        status = {record.get("status") for run in done if run.place == place
                  for record in run.records}
        if status != {"done", "rejected"}:
            problems.append(f"{place}: records are {sorted(map(str, status))}")
    if sum(bool(run.records) for run in done if run.case) < 30:
        problems.append("fewer than 30 commands of the cases wrote a record")


def check_valid(schemas, run, problems):
    validator = schemas.validator(run.place)
    for record in run.records:
        fault = jsonschema.exceptions.best_match(validator.iter_errors(record))
        if fault:
            where = "/".join(map(str, fault.absolute_path))
            told = f"{run}: {record.get('id')}: /{where}: {fault.message[:300]}"
            problems.append(told)


class Met:
    """The smallest record of each place and shape: (size, the run's place, record, path)."""

    def __init__(self, schemas):
        self.schemas, self.found = schemas, {}

    def add(self, run, record):
        size = len(json.dumps(record))

        def keep(place, how, path):
            if size < self.found.get((place, how), (size + 1,))[0]:
                self.found[place, how] = (size, run.place, record, path)

        def see(place, value, path):
            rules = self.schemas.target(place)
            node = self.schemas.at(rules)
            keep(place, shape(node, value), path)
            if isinstance(value, dict):
                for key in optional(node) - set(value):
                    keep(f"{rules}/properties/{key}", "left out", path)

        self.schemas.walk(run.place, record, see)


def check_met(schemas, met, problems):
    """Every key, word and type of the schemas is met, or listed. Returns how many are, and all."""
    wanted = {f"{place}: {how}" for name, schema in schemas.files.items()
              for place in schemas.keys(f"{name}#", schema) for how in shapes(schemas, place)}
    have = {f"{place}: {how}" for place, how in met.found}
    lacks = wanted - have - set(NOT_MET)
    problems += [f"no record has {name}" for name in sorted(lacks)]
    problems += [f"NOT_MET lists {name}, which a record has" for name in set(NOT_MET) & have]
    problems += [f"NOT_MET lists {name}, which is in no schema" for name in set(NOT_MET) - wanted]
    return len(wanted & have), len(wanted)


def wrong_values(node, value):
    """(what is wrong, a value that must not stand there)."""
    allowed = types(node)
    if {"enum", "const", "pattern"} & set(node):
        yield "an unknown word", "No such word!"
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        if "string" not in allowed:
            yield "a number as text", str(value)
        if "minimum" in node:
            yield "a negative number", -1
    elif not {"number", "integer"} & set(allowed):
        yield "a number in its place", -1
    if not may_be_null(node) and None not in node.get("enum", ()):
        yield "null", None


class Breaker:
    """Breaks records and mends them again; counts what was done, and says what was not refused."""

    def __init__(self, schemas, problems):
        self.schemas, self.problems = schemas, problems
        self.counts = dict.fromkeys(("a key removed", "an unknown key", "an unknown word", "null",
                                     "a number as text", "a negative number",
                                     "a number in its place"), 0)

    def hold(self, what, run_place, record, path):
        self.counts[what] += 1
        if self.schemas.validator(run_place).is_valid(record):
            self.problems.append(f"{run_place}: /{'/'.join(map(str, path))}: {what} is taken")

    def keys(self, node, run_place, record, path):
        value = inside(record, path)
        value["colour"] = 1
        self.hold("an unknown key", run_place, record, path)
        del value["colour"]
        for key in node.get("required", ()):
            was = value.pop(key)
            self.hold("a key removed", run_place, record, (*path, key))
            value[key] = was

    def value(self, node, run_place, record, path):
        owner, value = inside(record, path[:-1]), inside(record, path)
        for what, wrong in wrong_values(node, value):
            owner[path[-1]] = wrong
            self.hold(what, run_place, record, path)
        owner[path[-1]] = value


def inside(record, path):
    for key in path:
        record = record[key]
    return record


def check_refused(schemas, met, problems):
    """Returns how often each way of breaking a record was tried."""
    breaker, smallest = Breaker(schemas, problems), {}
    for (place, how), at in sorted(met.found.items(), key=lambda item: item[1][0]):
        if how not in ("null", "left out"):
            smallest.setdefault(place, at)
    for place, (_, run_place, record, path) in smallest.items():
        node = schemas.at(schemas.target(place))
        if "anyOf" in node:
            continue
        if isinstance(inside(record, path), dict):
            breaker.keys(node, run_place, record, path)
        if path and "/anyOf/" not in place:
            breaker.value(node, run_place, record, path)
    problems += [f"nothing was broken by {what}" for what, n in breaker.counts.items() if n < 50]
    return breaker.counts


def main(tool, root):
    schemas, problems = Schemas(root), []
    with tempfile.TemporaryDirectory() as folder:
        todo = list(runs(root, pathlib.Path(folder)))
        with concurrent.futures.ThreadPoolExecutor(2) as pool:
            done = list(pool.map(lambda run: run.go(tool), todo))
    check_runs(done, problems)
    met = Met(schemas)
    for run in done:
        check_valid(schemas, run, problems)
        for record in run.records:
            met.add(run, record)
    have, wanted = check_met(schemas, met, problems)
    broken = check_refused(schemas, met, problems)
    for problem in problems[:40]:
        print(problem, file=sys.stderr)
    print(f"{sum(len(run.records) for run in done)} records of {len(done)} runs are valid, "
          f"{sum(broken.values())} broken ones refused, {have} of {wanted} words and types of keys "
          f"met: {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()))
