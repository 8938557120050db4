"""What ``wayroom.toml`` says of issue notes: the project's own words, for whom they are, and by when an answer is due."""

import unicodedata
from typing import Annotated

from pydantic import AfterValidator, Field, model_validator

from checker.read.decisions import Day
from checker.read.mapping import Part
from checker.result.note_words import OTHER, PRIORITIES, NoteWords, Statuses


def _in_one_line(text: str) -> str:
    """A text that stands in one line of other programs as it is given, so that it is the same when it is read back."""
    if any(unicodedata.category(char) in {"Cc", "Cs", "Zl", "Zp"} or char in "\ufffe\uffff" for char in text):
        raise ValueError("it has control characters or line ends, which notes can't hold: leave them out")
    return text


def _seen(text: str) -> str:
    if not any(char.isprintable() and not char.isspace() for char in text):
        raise ValueError("nothing of it can be seen: write a word")
    return text


Text = Annotated[str, Field(max_length=200), AfterValidator(_in_one_line)]
Word = Annotated[
    str, Field(min_length=1, max_length=200, pattern=r"\S"), AfterValidator(_in_one_line), AfterValidator(_seen)
]


class StatusSpec(Part):
    """``[notes.status]``: what the project calls the status of a new topic, of one to look at again, and of one that is done with."""

    open: Word = "Open"
    review: Word = "Review"
    closed: Word = "Closed"

    @model_validator(mode="after")
    def _differ(self) -> "StatusSpec":
        words = {word.strip().lower() for word in (self.open, self.review, self.closed)}
        if len(words) < 3:
            raise ValueError("open, review and closed must be three different words")
        return self


class PrioritySpec(Part):
    """``[notes.priority]``: what the project calls our two priorities."""

    high: Word = "High"
    normal: Word = "Normal"


class NotesSpec(Part):
    """``[notes]``. ``types`` and ``assigned`` are by family of rules, id of a rule, or ``other``; ``due`` is a day.

    ``stages`` and ``people`` are those who may be chosen besides ``stage`` and whoever is ``assigned``. So many notes with ``questions`` to
    the design team are raised at the most; 0: none.
    """

    status: StatusSpec = StatusSpec()
    priority: PrioritySpec = PrioritySpec()
    types: dict[str, Word] = Field(default_factory=dict)
    labels: tuple[Word, ...] = ()
    stage: Text = ""
    stages: tuple[Word, ...] = ()
    assigned: dict[str, Word] = Field(default_factory=dict)
    people: tuple[Word, ...] = ()
    due: Day | None = None
    due_days: int | None = Field(default=None, ge=0, le=3650)
    questions: int = Field(default=10, ge=0, le=100)

    @model_validator(mode="after")
    def _one_way(self) -> "NotesSpec":
        if self.due is not None and self.due_days is not None:
            raise ValueError("give either due or due_days")
        return self

    def named(self) -> dict[str, list[str]]:
        """The keys of ``types`` and ``assigned`` that name rules or families of rules."""
        tables = {"types": self.types, "assigned": self.assigned}
        return {name: [key for key in table if key != OTHER] for name, table in tables.items()}

    @property
    def words(self) -> NoteWords:
        """The same for whoever writes notes."""
        own = dict(zip(PRIORITIES, (self.priority.high, self.priority.normal), strict=True))
        return NoteWords(
            statuses=Statuses(self.status.open.strip(), self.status.review.strip(), self.status.closed.strip()),
            types={key: word.strip() for key, word in self.types.items()},
            priorities={ours: word.strip() for ours, word in own.items() if word.strip() != ours},
            labels=tuple(dict.fromkeys(word.strip() for word in self.labels)),
            stage=self.stage.strip(),
            stages=tuple(dict.fromkeys(word.strip() for word in self.stages)),
            assigned={key: who.strip() for key, who in self.assigned.items()},
            people=tuple(dict.fromkeys(who.strip() for who in self.people)),
            due=self.due,
            due_days=self.due_days,
        )
