"""The page answers as ``checker.fit`` does: thousands of questions are put to both."""

import json
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from checker.calculator.page import calculator_html
from checker.errors import WayroomError
from checker.fit import Answer, Question, answer
from checker.fit.by_code import Judged
from checker.fit.geometry import proof_against
from checker.model import CarrierKind
from checker.rule.plugins import Plugins
from tests.browser.opened import Opened
from tests.calculator_questions import AT_LIMITS, Asked, plugins, questions

pytestmark = pytest.mark.browser

#: Asks all questions in the page; what is refused comes back as the option that is wrong.
ASK = """return JSON.stringify(JSON.parse(arguments[0]).map((asked) => {
  try { return Fit.answer(asked); } catch (error) { if (error instanceof Fit.Wrong) return { refused: error.where }; throw error; } }))"""
NEAR = 1e-12
EXACT = (
    "rule",
    "carrier",
    "most",
    "asked_most",
    "size_source",
    "wants_run",
    "outcome",
    "measure",
    "basis",
    "at_least",
    "left",
)
NUMBERS = ("fill", "limit", "internal_mm2", "occupied_mm2")
WORDS = ("reason", "source", "working")


def by_wayroom(asked: Asked, found: Plugins) -> dict[str, Any]:
    given = {key: value for key, value in asked.items() if key not in {"code", "kind", "cables"}}
    kind = CarrierKind(asked.get("kind", "trunking"))
    try:
        said = answer(Question(found.codes[asked["code"]], kind=kind, cables=tuple(asked["cables"]), **given), found)
    except WayroomError as error:
        return {"refused": error.where}
    # the command looks for a drawing as well, which takes long; what it proves by geometry is asked for here
    verdict = Judged(said.rule, said.verdict).unless(proof_against(said.subject)).fill
    return as_told(replace(said, verdict=verdict, left=said.left if verdict.outcome is said.verdict.outcome else ()))


def as_told(said: Answer) -> dict[str, Any]:
    verdict = said.verdict
    return {
        "rule": said.rule, "carrier": said.carrier, "most": said.most, "asked_most": said.asked_most, "size_source": said.size_source,
        "wants_run": said.wants_run, "outcome": verdict.outcome.value, "measure": verdict.measure, "basis": verdict.basis,
        "at_least": verdict.at_least, "left": [[left.cable, left.count] for left in said.left], "fill": verdict.value,
        "limit": verdict.limit, "internal_mm2": said.internal_mm2, "occupied_mm2": said.occupied_mm2, "reason": verdict.reason,
        "source": verdict.source, "working": list(verdict.working),
    }  # fmt: skip


def by_page(said: dict[str, Any], asked: Asked) -> dict[str, Any]:
    if "refused" in said:
        return said
    verdict = said["verdict"]
    return {
        "rule": said["rule"], "carrier": said["carrier"], "most": said["most"], "asked_most": bool(asked.get("most")),
        "size_source": said["sizeSource"], "wants_run": said["wantsRun"], "outcome": verdict["outcome"], "measure": verdict["measure"],
        "basis": verdict["basis"], "at_least": verdict["atLeast"], "left": [[left["cable"], left["count"]] for left in said["left"]],
        "fill": verdict["value"], "limit": verdict["limit"], "internal_mm2": said["internal"], "occupied_mm2": said["occupied"],
        "reason": verdict["reason"], "source": verdict["source"], "working": verdict["working"],
    }  # fmt: skip


def differences(ours: dict[str, Any], theirs: dict[str, Any]) -> list[str]:
    if "refused" in ours or "refused" in theirs:
        return [] if "refused" in ours and "refused" in theirs else ["refused"]
    found = [name for name in EXACT if ours[name] != theirs[name]]
    for name in NUMBERS:
        one, other = ours[name], theirs[name]
        if (one is None) != (other is None) or (one is not None and abs(one - other) > NEAR * abs(one)):
            found.append(name)
    # where there is no limit it says otherwise where one's own is given
    words = [name for name in WORDS if name != "reason" or "one of your own" not in ours["reason"]]
    return found + [name for name in words if ours[name] != theirs[name]]


@pytest.fixture
def found() -> Plugins:
    return plugins()


def page_of(found: Plugins, folder: Path) -> str:
    path = folder / "page.html"
    path.write_bytes(calculator_html(list(found.codes.values()), found))
    return path.as_uri()


def test_thousands_of_questions_have_the_same_answers_in_the_page(
    opened: Opened, found: Plugins, tmp_path: Path
) -> None:
    opened.driver.get(page_of(found, tmp_path))
    asked = questions(found)

    said = json.loads(opened.run(ASK, json.dumps(asked)))

    wrong, told = [], Counter()
    for question, page in zip(asked, said, strict=True):
        ours, theirs = by_wayroom(question, found), by_page(page, question)
        told[ours.get("outcome", "refused"), ours.get("rule", "")] += 1
        told["can't go in", ""] += "can't go in" in ours.get("reason", "")
        if names := differences(ours, theirs):
            wrong.append((names, question, {name: (ours.get(name), theirs.get(name)) for name in names}))
    assert not wrong, f"{len(wrong)} of {len(asked)}: {wrong[:5]}"
    assert len(asked) > 5000
    # each rule has said everything that it can say
    for rule in ("fill.compartment", "fill.conduit", "fill.count", "fill.layer", "fill.area", "fill.tray"):
        assert min(told[outcome, rule] for outcome in ("pass", "fail", "unknown")) >= 5, (rule, told)
    assert told["refused", ""] > 50
    assert told["can't go in", ""] > 20


def test_what_is_exactly_at_its_limit_passes_in_the_page_and_a_little_more_fails(
    opened: Opened, found: Plugins, tmp_path: Path
) -> None:
    opened.driver.get(page_of(found, tmp_path))
    exact = [{"code": code, **asked} for code, asked in AT_LIMITS]
    more = [{**asked, "cables": [*asked["cables"], "0.5mm=1"]} for asked in exact]

    said, said_more = (json.loads(opened.run(ASK, json.dumps(asked))) for asked in (exact, more))

    assert [answer["verdict"]["outcome"] for answer in said] == ["pass"] * len(exact)
    # but one more beside one, or beside two, is allowed by another share: 40 % of 1000 mm² for three, 31 % for two
    assert [answer["verdict"]["outcome"] for answer in said_more] == [
        "fail",
        "fail",
        "fail",
        "pass",
        "fail",
        "fail",
        "fail",
    ]
