#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/session.schema.json and the program hold the same sessions for sessions. Each case stands with what both must say
of it, which follows from docs/session-file.md.

  session_schema.py SCHEMA SLEWBENCH DEMO-DATA SAMPLE-WRITER
"""
import copy
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

try:
    import jsonschema
except ImportError as missing:
    print("skipped:", missing)
    sys.exit(77)

SCHEMA = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))
PROGRAM, DEMO, WRITER = (pathlib.Path(path).resolve() for path in sys.argv[2:5])
DEMO_SESSION = DEMO / "demo.slewbench"


def demo():
    """The demo session with whole paths, so that it can be opened from anywhere."""
    session = json.loads(DEMO_SESSION.read_text(encoding="utf-8"))
    for configuration in session["configurations"]:
        for trial in configuration["trials"]:
            trial["file"] = str(DEMO / trial["file"])
    return session


# What is changed in the demo session, by the path to a member. The last of a path is set, or taken away by REMOVED.
REMOVED = object()

ACCEPTED = {
    "as it is": [],
    "choices left out": [(["choices"], REMOVED), (["chart"], REMOVED)],
    "no reference": [(["reference"], None), (["other"], None)],
    "trial left out": [(["configurations", 0, "trials", 0, "included"], False),
                       (["configurations", 0, "trials", 0, "exclusion_reason"], "loose")],
    "stretch of a log": [(["configurations", 0, "trials", 0, "from_s"], 0.01),
                         (["configurations", 0, "trials", 0, "step"], 1),
                         (["configurations", 0, "trials", 0, "steps"], 2)],
    "spread of a measure": [(["chart"], {"view": "spread", "measures": ["dead_time"], "in_order": True})],
    "open view": [(["chart"], {"view_from_s": None, "view_to_s": 0.2})],
    "layout": [(["layouts"], [{"delimiter": "comma", "columns": [{"name": "time_s", "role": "time"}]}])],
    "later members": [(["weather"], {"dry": True}), (["configurations", 0, "rig"], "A"),
                      (["configurations", 0, "trials", 0, "camera"], 1)],
    "audits and a claim": [(["audits"], ["torque slope"]),
                           (["claims"], [{"configuration": 0, "measure": "peak_torque", "relation": "at least",
                                          "value": 1.5}])],
}

REFUSED = {
    "no format": [(["slewbench_session"], REMOVED)],
    "format as a text": [(["slewbench_session"], "1")],
    "later format": [(["slewbench_session"], 2)],
    "no configurations": [(["configurations"], REMOVED)],
    "configurations no list": [(["configurations"], {})],
    "configuration no object": [(["configurations", 0], 3)],
    "no name": [(["configurations", 0, "name"], REMOVED)],
    "no trials": [(["configurations", 0, "trials"], REMOVED)],
    "trial without a file": [(["configurations", 0, "trials", 0, "file"], REMOVED)],
    "reference below 0": [(["reference"], -1)],
    "choice out of range": [(["choices", "band_k"], 99)],
    "choice as a text": [(["choices", "margin_ratio"], "0.05")],
    "margin of an unknown measure": [(["choices", "margins"], {"beauty": {"ratio": 0.1}})],
    "margin without a size": [(["choices", "margins"], {"peak_torque": {}})],
    "margin of 0": [(["choices", "margins"], {"peak_torque": {"absolute": 0}})],
    "margins no object": [(["choices", "margins"], [])],
    "unknown band": [(["choices", "band"], "wide")],
    "unknown span": [(["choices", "span"], "all")],
    "unknown unit of slopes": [(["choices", "slope_unit"], "N/m")],
    "unknown unit of velocities": [(["choices", "velocity_unit"], "Hz")],
    "unknown order of rows": [(["table"], {"rows": "by beauty"})],
    "unknown order of columns": [(["table"], {"columns": "sideways"})],
    "no panel": [(["chart", "panels"], [])],
    "unknown view": [(["chart", "view"], "beauty")],
    "no measure": [(["chart", "measures"], [])],
    "unknown measure": [(["chart", "measures"], ["beauty"])],
    "layout of a wrong value": [(["layouts"], [{"delimiter": "comet"}])],
    "column without a role": [(["layouts"], [{"columns": [{"name": "t"}]}])],
    "own layout of a wrong value": [(["configurations", 0, "trials", 0, "layout"], {"header_line": -1})],
    "claim of an unknown relation": [(["claims"], [{"measure": "peak_torque", "relation": "more", "value": 1}])],
}


def changed(changes):
    session = demo()
    session.setdefault("choices", {})
    session.setdefault("chart", {})
    for path, value in changes:
        place = session
        for step in path[:-1]:
            place = place[step]
        if value is REMOVED:
            del place[path[-1]]
        else:
            place[path[-1]] = copy.deepcopy(value)
    return session


def is_valid(session):
    return jsonschema.Draft202012Validator(SCHEMA).is_valid(session)


def opens(session):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "case.slewbench"
        path.write_text(json.dumps(session), encoding="utf-8")
        done = subprocess.run([PROGRAM, "measure", path], capture_output=True, text=True, timeout=120)
    return "case.slewbench:" not in done.stderr


def unlisted(value, schema, where="session"):
    """Members of a session that the schema does not have."""
    schema = SCHEMA["$defs"][schema["$ref"].rsplit("/", 1)[1]] if "$ref" in schema else schema
    if isinstance(value, list):
        return [name for item in value for name in unlisted(item, schema.get("items", {}), where + "[]")]
    if not isinstance(value, dict):
        return []
    found = []
    for name, member in value.items():
        if name in schema.get("properties", {}):
            found += unlisted(member, schema["properties"][name], f"{where}.{name}")
        else:
            found.append(f"{where}.{name}")
    return found


class SchemaTest(unittest.TestCase):
    def test_schema_is_a_schema(self):
        jsonschema.Draft202012Validator.check_schema(SCHEMA)

    def test_demo_session_is_valid_and_every_member_is_listed(self):
        session = json.loads(DEMO_SESSION.read_text(encoding="utf-8"))
        jsonschema.validate(session, SCHEMA, jsonschema.Draft202012Validator)
        self.assertEqual(unlisted(session, SCHEMA), [])

    def test_session_with_everything_in_it_is_valid_and_every_member_is_listed(self):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "all.slewbench"
            subprocess.run([WRITER, path], check=True, timeout=60)
            session = json.loads(path.read_text(encoding="utf-8"))
        jsonschema.validate(session, SCHEMA, jsonschema.Draft202012Validator)
        self.assertEqual(unlisted(session, SCHEMA), [])

    def test_both_accept(self):
        for name, changes in ACCEPTED.items():
            with self.subTest(name):
                self.assertTrue(is_valid(changed(changes)), "schema")
                self.assertTrue(opens(changed(changes)), "program")

    def test_both_refuse(self):
        for name, changes in REFUSED.items():
            with self.subTest(name):
                self.assertFalse(is_valid(changed(changes)), "schema")
                self.assertFalse(opens(changed(changes)), "program")


if __name__ == "__main__":
    del sys.argv[1:5]
    unittest.main(verbosity=1)
