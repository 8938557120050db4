"""Questions to the design team as topics: what must be answered before something can be judged, that of one kind in one note."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from checker.model import Place
from checker.model.setting import Setting
from checker.model.texts import listed, natural
from checker.result.camera import cube, fit_camera
from checker.result.guids import stable_guid
from checker.result.question_tables import QuestionRow
from checker.result.tables import Box, Result, Topic
from checker.result.topic_text import IDS_LINE, MOST_NAMED
from checker.result.topics import NORMAL
from checker.result.whereabouts import clip_m
from checker.rule.needs import WAY
from checker.rule.question_kinds import QUESTION, QuestionKind, kind_of
from checker.units import metres

LABEL = "Question"
#: So many questions of one kind a note has, those that settle most.
MOST_ASKED = 100
#: So many have a line of their own; the others are named.
MOST_TOLD = 15


@dataclass(frozen=True, slots=True)
class RequestGroup:
    """Questions of one kind, or all that is asked of one thing, those that settle most first.

    ``kind`` is of the first. ``ids`` are of the questions, as those of findings are, by which a topic keeps its identity. ``more`` are so
    many that are left to questions.csv.
    """

    kind: QuestionKind
    rows: tuple[QuestionRow, ...]
    ids: tuple[str, ...]
    more: int = 0

    @property
    def settles(self) -> int:
        """So many unknown findings its questions settle, each once those before it are answered."""
        return sum(row.settles for row in self.rows)

    @property
    def is_of_one_thing(self) -> bool:
        """Whether it asks several things of one."""
        return len({kind_of(row.question)[0] for row in self.rows}) > 1


def question_id(project_key: str, question: str) -> str:
    """The id of a question: the same as long as it is asked in the same words."""
    return stable_guid(QUESTION, project_key, question)


def request_groups(result: Result, most: int) -> list[RequestGroup]:
    """The questions of a result as a person would ask them: those of one kind together; what is the only one of its kind by its thing.

    Args:
        result: Its questions.
        most: So many groups at the most, those that settle most.
    """
    of_kind: dict[QuestionKind, list[QuestionRow]] = defaultdict(list)
    for row in result.questions:
        if row.rank:
            of_kind[kind_of(row.question)[0]].append(row)
    by: dict[object, list[QuestionRow]] = defaultdict(list)
    for kind, rows in of_kind.items():
        by[(kind.noun, kind_of(rows[0].question)[1]) if len(rows) == 1 and kind.noun else kind].extend(rows)
    groups = []
    for rows in by.values():
        first = sorted(rows, key=lambda row: (-row.settles, row.rank))[:MOST_ASKED]
        ids = tuple(question_id(result.project_key, row.question) for row in first)
        groups.append(RequestGroup(kind_of(first[0].question)[0], tuple(first), ids, len(rows) - len(first)))
    groups.sort(key=lambda group: (-group.settles, min(row.rank for row in group.rows)))
    return groups[:most]


@dataclass(slots=True)
class _Selected:
    """What a question's note selects and is looked at for: carriers, equipment, and boxes around them."""

    carriers: dict[str, None] = field(default_factory=dict)
    equipment: dict[str, Place] = field(default_factory=dict)
    boxes: list[Box] = field(default_factory=list)


def request_topics(
    result: Result, groups: Sequence[RequestGroup], guids: Sequence[str], setting: Setting | None = None
) -> tuple[Topic, ...]:
    """The topics of groups of questions.

    Args:
        result: What they are about.
        groups: The questions.
        guids: The identity of each topic.
        setting: The floors of the building.
    """
    asked = sum(1 for row in result.questions if row.rank)
    left = asked - sum(len(group.rows) + group.more for group in groups)
    reasons = {row.circuit: row.reason for row in result.circuits if row.reason and not row.is_routed}
    topics = []
    for place, (group, guid) in enumerate(zip(groups, guids, strict=True), start=1):
        selected = _selected(result, group)
        marks = [kind_of(row.question)[1] for row in group.rows] if group.kind.noun == "circuit" else []
        lines = [
            f"{_capital(_headline(group))}?",
            f"{_hanging(group)} can't be judged before that is answered. This is a question, not a failure.",
            *_where(result, selected),
            "",
            *(_line(row, reasons) for row in group.rows[:MOST_TOLD]),
            *_others(group),
            *_breaks(result, marks if group.kind.what == WAY else ()),
        ]
        if place == len(groups) and left:
            lines += [
                "",
                f"{left} more question{'s are' if left > 1 else ' is'} not raised as notes: see questions.csv.",
            ]
        lines += ["", *result.cautions[-1:], "", IDS_LINE + " ".join(sorted(group.ids))]
        topics.append(
            Topic(
                guid=guid,
                title=f"Question: {_headline(group, MOST_NAMED)}",
                description="\n".join(lines),
                rule=group.kind.key,
                priority=NORMAL,
                labels=(LABEL,),
                members=tuple(sorted(group.ids)),
                carriers=tuple(selected.carriers),
                cables=tuple(selected.equipment.values()),
                circuits=tuple(sorted(marks)),
                worst="",
                camera=fit_camera(selected.boxes) if selected.boxes else None,
                clip_m=clip_m(setting or Setting(), selected.boxes),
            )
        )
    return tuple(topics)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _headline(group: RequestGroup, most: int = MOST_NAMED) -> str:
    if group.is_of_one_thing:
        asked = sorted({kind_of(row.question)[0].what for row in group.rows})
        return f"{listed(asked, most)} of {group.kind.noun} {kind_of(group.rows[0].question)[1]}"
    names = sorted((kind_of(row.question)[1] for row in group.rows), key=natural)
    number = len(names) + group.more
    told = listed(names, most) if not group.more else f"{', '.join(names[:most])} and {number - most} more"
    return group.kind.words(told, are_many=number > 1)


def _others(group: RequestGroup) -> list[str]:
    """Those that have no line of their own."""
    names = [kind_of(row.question)[1] for row in group.rows[MOST_TOLD:]]
    more = f"{group.more} more of this kind, in questions.csv" if group.more else ""
    told = ", ".join(names) + (" and " if names and more else "") + more
    return [f"- and {told}"] if told else []


def _hanging(group: RequestGroup) -> str:
    touches = sum(row.touches for row in group.rows)
    if len(group.rows) > 1:
        return "What hangs on these"
    return "1 finding" if touches == 1 else f"{touches} findings"


def _line(row: QuestionRow, reasons: Mapping[str, str]) -> str:
    kind, name = kind_of(row.question)
    answer = ": ".join(part for part in (row.where, row.hint) if part) or "where it is answered isn't known"
    hangs = "1 unknown finding hangs on it" if row.touches == 1 else f"{row.touches} unknown findings hang on it"
    alone = (
        ""
        if row.settles >= row.touches
        else ", not all on it alone"
        if row.settles
        else ", and on other answers besides"
    )
    about = f", such as {', '.join(row.examples)}" if row.examples else ""
    why = reasons.get(name, "") if kind.noun == "circuit" and kind.what == WAY else ""
    return f"- {row.question}{f' ({why})' if why else ''}. Answer: {answer}. {hangs}{alone}{about}."


def _where(result: Result, selected: _Selected) -> list[str]:
    places = [row.place for row in result.carriers if row.key in selected.carriers]
    places += selected.equipment.values()
    storeys = sorted({place.storey for place in places if place.storey}, key=natural)
    return [f"Where: {', '.join(storeys)}."] if storeys else []


def _breaks(result: Result, marks: Iterable[str]) -> list[str]:
    """Where the network breaks for circuits without a way."""
    labels = {row.key: row.place.label for row in result.carriers}
    found = [row for row in result.breaks if not set(row.circuits).isdisjoint(marks)]
    return [
        f"- {labels.get(row.one, row.one)} and {labels.get(row.other, row.other)} come within {metres(row.gap_mm):.2f} m of each other and"
        f" don't meet; {len(row.circuits)} circuit{'s' if len(row.circuits) > 1 else ''} would pass there"
        for row in found
    ]


def _selected(result: Result, group: RequestGroup) -> _Selected:
    """The carriers that hang on it; of circuits also their ends, and of their ways, which aren't known, where the network breaks."""
    found = _Selected()
    rows = {row.key: row for row in result.carriers}
    keys = [key for row in group.rows for key in row.keys]
    if group.kind.noun == "circuit":
        marks = {kind_of(row.question)[1] for row in group.rows}
        if group.kind.what == WAY:
            keys = [key for row in result.breaks if not marks.isdisjoint(row.circuits) for key in (row.one, row.other)]
        elif not keys:
            keys = [key for row in result.circuits if row.circuit in marks for key in row.carriers]
        for item in result.equipment:
            if not marks.isdisjoint(item.circuits) and item.key not in rows:
                found.equipment[item.key] = Place(item.key, "", tag=item.label, storey=item.storey)
                if item.point_mm is not None:
                    found.boxes.append(cube(item.point_mm))
    found.carriers.update((key, None) for key in keys if key in rows)
    found.boxes += [box for key in found.carriers for box in rows[key].boxes]
    return found
