"""What stands on the sheet, before it is written in any format: the list, the arithmetic step by step, the limit, the verdict."""

from dataclasses import dataclass

from checker.fit import Answer
from checker.fit_text import (
    BOTH,
    CAUTION,
    GEOMETRY_ONLY,
    LEAST,
    MOST,
    covered,
    decides,
    end_words,
    left_words,
    limit_words,
    planning,
    size_words,
)
from checker.model import CarrierKind, Run
from checker.rule import Outcome
from checker.rule.code import Code
from checker.sheet.blanks import Line, plain
from checker.sheet.steps import Row, known_figures, row, shown_end, spare_steps, steps_of

VERDICTS = {
    Outcome.PASS: "Within the limit",
    Outcome.FAIL: "Not within the limit",
    Outcome.UNKNOWN: "It can't be said",
    Outcome.WAIVED: "Waived",
}
#: The answers that one can tick where they are to be worked out.
BOXES = tuple(VERDICTS[outcome] for outcome in (Outcome.PASS, Outcome.FAIL, Outcome.UNKNOWN))
METHODS = {
    "area": "By area: what the cables take of the inside, against the share of it that they may take.",
    "term": "By factors: tables give each cable and each conduit a figure, its term. Terms stand for how cables go in as they are drawn,"
    " and are no areas. The cables' sum may come to no more than the conduit's.",
    "width": "By width: what the cables take side by side, against the inside width.",
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """A worked answer.

    Attributes:
        title: What is asked.
        facts: What is given, each with its label.
        method: How it is worked out, in words.
        rows: The cables.
        steps: From the sum to the fill, each with its label.
        limit: The limit with its basis and clause.
        verdict: In a few words.
        reason: The verdict's reason.
        notes: What else is to be said of the answer; it may give the answer away.
        cautions: What is covered, what isn't, and who decides.
        is_blank: Whether the figures to be worked out are left blank, and verdict, reason and notes are left out.
    """

    title: str
    facts: tuple[tuple[str, str], ...]
    method: str
    rows: tuple[Row, ...]
    steps: tuple[tuple[str, Line], ...]
    limit: str
    verdict: str
    reason: str
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    is_blank: bool = False

    @property
    def drawing_mm(self) -> float:
        """How high the drawing may be, so that all of a usual list has room on one page of A4."""
        more = max(len(self.rows) - 3, 0) + len(self.notes)
        return max(98.0 - 5.5 * more - (14.0 if self.is_blank else 0.0) - len(self.reason) / 30.0, 40.0)


def sheet_of(answer: Answer, code: Code, *, blanks: bool = False) -> Sheet:
    """The sheet of an answer.

    Args:
        answer: The answer.
        code: The code that was asked.
        blanks: Whether the figures to be worked out are to be left blank.
    """
    verdict, subject = answer.verdict, answer.subject
    lines = list(shown_end(answer).working)
    known = known_figures(answer)
    rows = tuple(row(cable, lines, known) for cable in subject.cables)
    words = limit_words(verdict)
    limit = f"{words} ({verdict.basis}): {verdict.source}" if words else f"none by {code.key}"
    return Sheet(
        title=f"Does it fit? {answer.carrier[:1].upper()}{answer.carrier[1:]}",
        facts=_facts(answer, code),
        method=METHODS.get(verdict.measure, "") if verdict.working else "",
        rows=rows,
        steps=(*steps_of(answer, lines, known), *spare_steps(answer)),
        limit=limit,
        verdict=f"{VERDICTS[answer.outcome]} ({answer.outcome.value})",
        reason=answer.decisive.reason,
        notes=_notes(answer, code),
        cautions=(covered(verdict), *_ranges(answer), *planning(subject.cables), CAUTION),
        is_blank=blanks,
    )


def _ranges(answer: Answer) -> list[str]:
    if answer.against is None:
        return []
    end = decides(answer.verdict, answer.against)
    if end == BOTH:
        told = f"The arithmetic is {end_words(answer.subject, LEAST)}; {end_words(answer.subject, MOST)} the answer may be another one."
    else:
        told = f"The arithmetic is {end_words(answer.subject, end)}, which decides."
    return [told]


def _facts(answer: Answer, code: Code) -> tuple[tuple[str, str], ...]:
    facts = [("Code of practice", f"{code.title}, {code.edition} ({code.key})"), ("Carrier", answer.carrier)]
    facts.append(("Its size is from", size_words(answer)))
    run = answer.subject.run
    if answer.subject.carrier.kind is CarrierKind.CONDUIT:
        facts.append(("Its run", _run(run)))
    return tuple(facts)


def _run(run: Run | None) -> str:
    if run is None or run.length_m is None:
        return "its length isn't given"
    bends = "bends not given" if run.bends_deg is None else f"{run.bends_deg:g}° of bends"
    return f"{run.length_m:g} m between enclosures, {bends}"


def _notes(answer: Answer, code: Code) -> tuple[str, ...]:
    notes = []
    if answer.against is not None:
        is_of_most = decides(answer.verdict, answer.against) == MOST
        other, end = (answer.verdict, LEAST) if is_of_most else (answer.against, MOST)
        words = end_words(answer.subject, end)
        notes += [f"{words[:1].upper()}{words[1:]}: {line}." for line in other.working[-1:]]
    if answer.asked_most:
        most = "can't be said" if answer.most is None else str(answer.most)
        notes.append(f"How many of the last kind go in besides, by {code.key}: {most}.")
        if answer.geometry_only_count is not None:
            notes.append(f"A place was found for {answer.geometry_only_count} in a drawing: {GEOMETRY_ONLY}.")
    return (*notes, *left_words(answer, code))


def as_plain_text(sheet: Sheet) -> str:
    """All that a sheet says, with its figures, for tests and for who can't see it."""
    rows = [f"{row.cable} {row.number} {row.size} {plain(row.adds)}" for row in sheet.rows]
    steps = [f"{label} {plain(line)}".strip() for label, line in sheet.steps]
    facts = [f"{label}: {text}" for label, text in sheet.facts]
    told = [sheet.verdict, sheet.reason, *sheet.notes]
    return "\n".join([sheet.title, *facts, sheet.method, *rows, *steps, sheet.limit, *told, *sheet.cautions])
