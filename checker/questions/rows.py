"""The table of questions: ranked, with where each is answered, and accounting for every unknown finding."""

from collections import Counter, defaultdict
from collections.abc import Iterable

from checker.model.texts import natural
from checker.questions.ranking import ranked
from checker.questions.unknowns import Unknown
from checker.result.question_tables import QuestionRow
from checker.rule.needs import NOT_KNOWN, answered_in

#: So many subjects are named beside a question.
EXAMPLES = 4
#: So many carriers are kept, which a note about the question selects.
MOST_KEYS = 100


def question_rows(unknowns: Iterable[Unknown]) -> tuple[QuestionRow, ...]:
    """One row for each question that is needed to settle all that can be settled, and a last one for what no question is known of.

    Args:
        unknowns: Every unknown finding with what would settle it.
    """
    groups: Counter[frozenset[str]] = Counter()
    touched: dict[str, list[Unknown]] = defaultdict(list)
    lost: list[Unknown] = []
    for unknown in unknowns:
        if unknown.needs is None:
            lost.append(unknown)
            continue
        groups[unknown.needs] += 1
        for need in unknown.needs:
            touched[need].append(unknown)
    turns = ranked(groups)
    rows = [
        _row(rank, turn.need, *answered_in(turn.need), turn.settles, turn.together, touched[turn.need])
        for rank, turn in enumerate(turns, start=1)
    ]
    if lost:
        together = turns[-1].together if turns else 0
        rows.append(_row(0, NOT_KNOWN, "", "their reasons say why", 0, together, lost))
    return tuple(rows)


def _row(
    rank: int, need: str, where: str, hint: str, settles: int, together: int, touched: list[Unknown]
) -> QuestionRow:
    labels = sorted({unknown.label for unknown in touched}, key=lambda label: (natural(label), label))
    return QuestionRow(
        rank=rank,
        question=need,
        where=where,
        hint=hint,
        settles=settles,
        together=together,
        touches=len(touched),
        rules=tuple(sorted({unknown.rule for unknown in touched})),
        circuits=len({mark for unknown in touched for mark in unknown.circuits}),
        carriers=len({key for unknown in touched for key in unknown.carriers}),
        examples=tuple(labels[:EXAMPLES]),
        keys=_keys(touched),
    )


def _keys(touched: list[Unknown]) -> tuple[str, ...]:
    """The carriers that unknown findings name, in the order of what the findings are called."""
    ordered = sorted(touched, key=lambda unknown: (natural(unknown.label), unknown.label, unknown.carriers))
    found: dict[str, None] = {}
    for unknown in ordered:
        found.update(dict.fromkeys(unknown.carriers))
        if len(found) >= MOST_KEYS:
            break
    return tuple(found)[:MOST_KEYS]
