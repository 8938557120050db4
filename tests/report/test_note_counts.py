"""How many notes a run raises is the same in the terminal, in result.json, on the page and in the notes themselves."""

import io
import json
from dataclasses import replace

import pytest
from rich.console import Console

from checker.report.bcf import topics_in, write_bcf
from checker.report.html import report_html
from checker.report.json_file import result_json
from checker.report.terminal import print_summary
from checker.result.cautions import CAUTIONS
from tests.history.people import repacked, unpacked
from tests.report.results import guid, small_result


@pytest.mark.parametrize(("asked", "told"), [(0, "Issue notes: 2."), (3, "Issue notes: 2, and 3 with questions.")])
def test_the_numbers_agree(asked: int, told: str) -> None:
    result = replace(small_result(), cautions=CAUTIONS)
    one = replace(result.topics[0], rule="question.wall")
    result = replace(result, requests=tuple(replace(one, guid=guid(f"q{number}")) for number in range(asked)))
    stream = io.StringIO()
    print_summary(Console(file=stream, width=200, soft_wrap=True, highlight=False), result, "out")

    assert told in stream.getvalue()
    assert told in report_html(result).decode()
    counts = json.loads(result_json(result, 1, {}))["counts"]
    assert (counts["topics"], counts["requests"]) == (2, asked)
    assert topics_in(io.BytesIO(write_bcf(result))) == 2 + asked


def test_a_topic_whose_file_a_program_has_named_in_capitals_counts() -> None:
    files = unpacked(write_bcf(small_result()))

    assert topics_in(io.BytesIO(repacked({path.replace("/markup", "/Markup"): files[path] for path in files}))) == 2
