"""The words that a project uses in its issue notes, and what it says of each new one: for whom, by when."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta

from checker.result.archive import NO_TIME, utc, xml_time
from checker.result.note_state import clean
from checker.result.tables import Topic

#: Instead of a family of rules: all that have no entry of their own.
OTHER = "other"
_TYPE_OF_FAMILY = {
    "fill": "Capacity", "segregation": "Segregation", "grouping": "Rating", "rating": "Rating", "question": "Request",
}  # fmt: skip
_OTHER_TYPE = "Issue"
#: Priorities as we call them; see ``checker.result.topics``.
PRIORITIES = ("High", "Normal")


@dataclass(frozen=True, slots=True)
class Statuses:
    """What a topic's status is called: of a new one, where people shall look at what is mended, where they are done with it."""

    open: str = "Open"
    review: str = "Review"
    closed: str = "Closed"

    def __iter__(self) -> Iterator[str]:
        return iter((self.open, self.review, self.closed))


@dataclass(frozen=True, slots=True)
class NoteWords:
    """What ``[notes]`` of the project file says; what it leaves out is as we call it, or isn't written.

    ``types`` and ``assigned`` are by id of a rule, else by its family, else ``other``; ``priorities`` by our own word. ``stages`` and
    ``people`` are more words that may be chosen. A topic is due on the day ``due``, or ``due_days`` after the time of the run.
    """

    statuses: Statuses = Statuses()
    types: Mapping[str, str] = field(default_factory=dict)
    priorities: Mapping[str, str] = field(default_factory=dict)
    labels: tuple[str, ...] = ()
    stage: str = ""
    stages: tuple[str, ...] = ()
    assigned: Mapping[str, str] = field(default_factory=dict)
    people: tuple[str, ...] = ()
    due: date | None = None
    due_days: int | None = None

    def type_of(self, rule: str) -> str:
        """The type of a topic by what judged it."""
        known = self._types()
        return known.get(rule) or known.get(rule.split(".", 1)[0]) or known[OTHER]

    def all_types(self) -> list[str]:
        """Every type that a topic may have."""
        return sorted(set(self._types().values()))

    def _types(self) -> dict[str, str]:
        return {OTHER: _OTHER_TYPE} | _TYPE_OF_FAMILY | dict(self.types)

    def priority(self, ours: str) -> str:
        """A priority as the project calls it."""
        return self.priorities.get(ours, ours)

    def assigned_to(self, rule: str) -> str:
        """Who is to answer; empty: nobody is named."""
        return self.assigned.get(rule) or self.assigned.get(rule.split(".", 1)[0]) or self.assigned.get(OTHER, "")

    def fields(self, topic: Topic, created: str) -> dict[str, list[str]]:
        """What a new topic says besides its title, text and status, by tag; a list is empty where it says nothing.

        Args:
            topic: The topic.
            created: Time of the run, ISO 8601; empty where there is none.
        """
        said = {
            "TopicType": (self.type_of(topic.rule),),
            "Priority": (self.priority(topic.priority),),
            "Labels": (*topic.labels, *self.labels),
            "DueDate": (self.due_time(created) or "",),
            "AssignedTo": (self.assigned_to(topic.rule),),
            "Stage": (self.stage,),
        }
        return {
            tag: [one for text in dict.fromkeys(texts) if (one := clean(text).strip())] for tag, texts in said.items()
        }

    def due_time(self, created: str) -> str | None:
        """When an answer is due, as XML wants it: the end of that day. None: nothing is said, or no time is known to count days from.

        Args:
            created: Time of the run, ISO 8601; empty where there is none.
        """
        day = self.due
        if day is None and self.due_days is not None:
            begin = utc(created)
            if begin is None or begin <= NO_TIME:
                return None
            try:
                day = begin.date() + timedelta(days=self.due_days)
            except OverflowError:
                return None
        return None if day is None else xml_time(datetime.combine(day, time(23, 59, 59), UTC).isoformat())
