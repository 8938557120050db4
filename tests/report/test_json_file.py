import json
from dataclasses import replace

import jsonschema

from checker.model import Problem, ProblemKind
from checker.report.json_file import result_json, result_schema
from tests.report.results import small_result


def test_problems_and_demolished_carriers_are_in_the_file_and_in_its_schema() -> None:
    result = small_result()
    gone = replace(result.carriers[0].place, tag="X-1", zone="Wing B")
    found = (Problem("T-1", "its size is from its name", "so it may be wrong", "give it", ProblemKind.INFERENCE, 4),)

    document = json.loads(result_json(replace(result, problems=found, demolished=(gone,)), 1, {}))

    schema = result_schema()
    jsonschema.validate(document, schema)
    assert [(one["kind"], one["elements"]) for one in document["result"]["problems"]] == [("inference", 4)]
    assert [(one["tag"], one["zone"]) for one in document["result"]["demolished"]] == [("X-1", "Wing B")]
    counts = document["counts"]
    assert (counts["carriers_read"], counts["carriers_demolished"]) == (5, 1)
    assert (counts["problems"], counts["problems_gap"], counts["problems_inference"]) == (1, 0, 1)
    assert schema["$defs"]["ProblemKind"]["enum"] == list(ProblemKind)
    assert {"carriers_demolished", "problems_assumption"} <= set(schema["$defs"]["Counts"]["properties"])
