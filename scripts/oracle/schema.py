"""Holds documents against a JSON Schema with a general validator (jsonschema).

Reads one JSON object {schema, documents: {name: document}} from standard input,
checks the schema against the meta-schema of draft 2020-12, and prints for every
document that the schema refuses a line: name, a tab, where and why.
"""

import json
import sys

from jsonschema import Draft202012Validator

given = json.load(sys.stdin)
Draft202012Validator.check_schema(given["schema"])
validator = Draft202012Validator(given["schema"])
for name, document in sorted(given["documents"].items()):
    faults = sorted(validator.iter_errors(document), key=lambda e: e.json_path)
    if faults:
        print(name, f"{faults[0].json_path}: {faults[0].message[:200]}", sep="\t")
