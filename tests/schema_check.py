# SPDX-License-Identifier: MIT
"""Holds data/survey.schema.json and data/record.schema.json to the files of tests/ and examples/. Usage: schema_check.py REPO_ROOT

good/ and examples/: valid. bad/: invalid, but for two sorts of fault that no schema can state: semantic-* (values that
contradict each other, a table, or the range of a quantity given as text) are valid by the schema; syntax-* are no
strict JSON at all. The program's own test holds the reader to the same files.
"""
import json
import math
import pathlib
import sys

import jsonschema


class NotStrict(ValueError):
    """Text that a lenient parser takes and the survey format does not."""


def unique(pairs):
    keys = [key for key, _ in pairs]
    if len(set(keys)) != len(keys):
        raise NotStrict("duplicate key")
    return dict(pairs)


def finite(text):
    if not math.isfinite(float(text)):
        raise NotStrict("number overflow")
    return float(text)


def no_constant(text):
    raise NotStrict(text)


def load(path):
    text = path.read_bytes().decode("utf-8")
    return json.loads(text, object_pairs_hook=unique, parse_float=finite, parse_constant=no_constant)


def first_fault(validator, path):
    """None if the file is valid, else words for the first fault."""
    try:
        survey = load(path)
    except ValueError as fault:  # also UnicodeDecodeError and JSONDecodeError
        return "syntax", str(fault)
    fault = jsonschema.exceptions.best_match(validator.iter_errors(survey))
    return fault and ("schema", fault.message)


def is_format(path, format):
    try:
        return load(path).get("format") == format
    except (ValueError, AttributeError):
        return False


def wanted_sort(path):
    if path.parent.name != "bad" or path.name.startswith("semantic-"):
        return None
    return "syntax" if path.name.startswith("syntax-") else "schema"


def hazard_kinds(root):
    rows = load(root / "data/cautions.json")["rows"]
    return [kind for row in rows for kind in row.get("hazard_kinds", [])]


def main(root):
    schema = load(root / "data/survey.schema.json")
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    problems = []
    if schema["$defs"]["hazard"]["properties"]["kind"]["enum"] != hazard_kinds(root):
        problems.append("data/survey.schema.json: hazard kinds differ from data/cautions.json")
    if schema["$defs"]["bypass"]["properties"]["kind"]["enum"] != [row["id"] for row in load(root / "data/bypasses.json")["rows"]]:
        problems.append("data/survey.schema.json: bypass kinds differ from data/bypasses.json")
    if schema["$defs"]["heating"]["properties"]["fuel"]["enum"] != [row["id"] for row in load(root / "data/fuels.json")["rows"]]:
        problems.append("data/survey.schema.json: fuels differ from data/fuels.json")
    records = jsonschema.Draft202012Validator(
        load(root / "data/record.schema.json"), resolver=jsonschema.RefResolver.from_schema(load(root / "data/record.schema.json"), store={schema["$id"]: schema}))
    examples = sorted(root.glob("examples/**/*.json"))
    held = [(p, validator) for p in sorted((root / "tests/surveys").glob("*/*.json")) + [root / "tests/records/survey.json"]]
    held += [(p, validator) for p in examples if is_format(p, "overjoist-survey")]
    held += [(p, records) for p in sorted((root / "tests/records").glob("*/*.json")) + [p for p in examples if is_format(p, "overjoist-record")]]
    for path, validator in held:
        fault = first_fault(validator, path)
        sort, words = fault or (None, "valid")
        if sort != wanted_sort(path):
            problems.append(f"{path.relative_to(root)}: wanted {wanted_sort(path) or 'valid'}, found {sort or 'valid'}: {words}")
    for problem in problems:
        print(problem, file=sys.stderr)
    print(f"{len(held)} files held to their schemas, {len(problems)} problems")
    return 1 if problems or not held else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1])))
