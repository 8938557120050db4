"""The table of questions: what to answer first, so that most of what is unknown gets known."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class QuestionRow:
    """One question, in its turn. Counts are of unknown findings.

    Attributes:
        rank: From 1; 0 for what no question is known to settle, which is the last row where there is any.
        question: In words; the same words in ``Verdict.needs``.
        where: Where it is answered: a column of the schedule, a key of wayroom.toml, the model; empty: not known.
        hint: How.
        settles: So many are settled by it once those before it are answered.
        together: So many are settled by it and all before it.
        touches: So many it would help to settle, alone or with others.
        rules: That gave them.
        circuits, carriers: So many are named by them.
        examples: What some of them are about, as people call it.
        keys: Of the carriers that they name, those of the first hundred, in the order of what people call them.
    """

    rank: int
    question: str
    where: str
    hint: str
    settles: int
    together: int
    touches: int
    rules: tuple[str, ...] = ()
    circuits: int = 0
    carriers: int = 0
    examples: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
