"""Answers of ``checker.fit`` that a page brings along, so that it can see in each browser that it answers alike."""

from collections.abc import Iterator, Sequence
from typing import Any, TypeVar

from checker.errors import WayroomError
from checker.fit import Question, answer
from checker.fit.by_code import Judged
from checker.fit.geometry import proof_against
from checker.model import CarrierKind
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.size import KINDS

T = TypeVar("T")

COUNTS = (1, 2, 3, 12)


def known_answers(code: Code, plugins: Plugins) -> Iterator[dict[str, Any]]:
    """Some questions of each kind of carrier under a code, with their answers. The same catalogues give the same questions."""
    cables = _spread(list(plugins.cables), 5)
    for kind in KINDS:
        carriers = [key for key, carrier in plugins.carriers.items() if carrier.kind == kind]
        for number, carrier in enumerate(_spread(carriers, 3)):
            cable, other = cables[number % len(cables)], cables[(number + 2) % len(cables)]
            run = {"length_m": 5.0, "bends": 2.0} if kind is CarrierKind.CONDUIT else {}
            count = COUNTS[number % len(COUNTS)]
            asked: list[dict[str, Any]] = [
                {"carrier": carrier, "cables": [f"{cable}={count}", f"{other}=1"], **run},
                {"carrier": carrier, "cables": [f"{cable}=2"], "most": cable, "occupied": "10%", **run},
            ]
            for question in asked:
                yield {"asked": {"code": code.key, **question}, **_answered(code, plugins, question)}


def _answered(code: Code, plugins: Plugins, asked: dict[str, Any]) -> dict[str, Any]:
    try:
        found = answer(Question(code, **{**asked, "cables": tuple(asked["cables"])}), plugins)
    except WayroomError:
        return {"outcome": None, "fill": None, "limit": None, "most": None}
    # as the command does, which looks for drawings besides
    verdict = Judged(found.rule, found.verdict).unless(proof_against(found.subject)).fill
    return {"outcome": verdict.outcome.value, "fill": verdict.value, "limit": verdict.limit, "most": found.most}


def _spread(items: Sequence[T], number: int) -> list[T]:
    """Some of many, evenly spread from the first to the last."""
    if len(items) <= number:
        return list(items)
    return [items[round(place * (len(items) - 1) / (number - 1))] for place in range(number)]
