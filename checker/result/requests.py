"""Questions to the design team as topics: what must be answered before something can be judged, that of one kind in one note."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from checker.model import Place
from checker.model.setting import Setting
from checker.model.texts import listed, natural
from checker.result.camera import cube, extent_mm, fit_camera
from checker.result.meetings import fittings_missed, meeting_line, meetings
from checker.result.note_state import disarmed
from checker.result.question_tables import QuestionRow
from checker.result.request_groups import RequestGroup, asked_rows
from checker.result.tables import Box, Result, Topic
from checker.result.topic_text import IDS_LINE, MOST_NAMED, MOST_SELECTED, short_title
from checker.result.topics import NORMAL
from checker.result.whereabouts import grid_words, view_cut
from checker.rule.needs import WAY
from checker.rule.question_kinds import kind_of
from checker.units import metres

LABEL = "Question"
#: So many have a line of their own; the others are named.
MOST_TOLD = 15


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
    asked = len(asked_rows(result))
    left = asked - sum(len(group.rows) + group.more for group in groups if not group.is_of_meetings)
    reasons = {row.circuit: row.reason for row in result.circuits if row.reason and not row.is_routed}
    lie = {one.name: one.said for one in meetings(result)}
    topics = []
    for place, (group, guid) in enumerate(zip(groups, guids, strict=True), start=1):
        selected = _selected(result, group)
        clip, cut = view_cut(setting or Setting(), selected.boxes)
        marks = [kind_of(row.question)[1] for row in group.rows] if group.kind.noun == "circuit" else []
        if group.is_of_meetings:
            marks = list(dict.fromkeys(mark for row in group.rows for mark in row.examples))
        lines = [
            f"{_capital(_headline(group))}?",
            f"{_hanging(group)} This is a question, not a failure.",
            *_where(result, selected, setting or Setting(), cut),
            *_cut_short(selected),
            "",
            *(
                meeting_line(row, lie.get(kind_of(row.question)[1], ""))
                if group.is_of_meetings
                else _line(row, reasons)
                for row in group.rows[:MOST_TOLD]
            ),
            *_others(group),
            *_breaks(result, marks if group.kind.what == WAY else ()),
        ]
        if place == len(groups) and left:
            lines += [
                "",
                f"{left} more question{'s are' if left > 1 else ' is'} not raised as notes: see questions.csv and routes.csv.",
            ]
        lines += ["", *result.cautions[-1:], ""]
        last = IDS_LINE + " ".join(sorted(group.ids))
        topics.append(
            Topic(
                guid=guid,
                title=short_title(f"Question: {_headline(group, MOST_NAMED)}"),
                description="\n".join([disarmed("\n".join(lines)), last]),
                rule=group.kind.key,
                priority=NORMAL,
                labels=(LABEL,),
                members=tuple(sorted(group.ids)),
                carriers=tuple(selected.carriers),
                cables=tuple(selected.equipment.values()),
                circuits=tuple(sorted(marks)),
                worst="",
                camera=fit_camera(selected.boxes) if selected.boxes else None,
                clip_m=clip,
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
    table = "problems.csv" if group.is_of_meetings else "questions.csv"
    more = f"{group.more} more of this kind, in {table}" if group.more else ""
    told = ", ".join(names) + (" and " if names and more else "") + more
    return [f"- and {told}"] if told else []


def _hanging(group: RequestGroup) -> str:
    if group.is_of_meetings:
        return "No circuit is led across these gaps." if len(group.rows) > 1 else "No circuit is led across that gap."
    if len(group.rows) > 1:
        return "What hangs on these can't be judged before they are answered."
    touches = group.rows[0].touches
    if not touches:
        return "In which carriers it lies isn't known before that is answered."
    return f"{'1 finding' if touches == 1 else f'{touches} findings'} can't be judged before that is answered."


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
    such_as = ", such as" if len(row.examples) < row.touches else ":"
    about = f"{such_as} {', '.join(row.examples)}" if row.examples else ""
    if not row.touches:
        hangs, alone = "In which carriers it lies isn't known, and no finding is known to hang on that", ""
    why = reasons.get(name, "") if kind.noun == "circuit" and kind.what == WAY else ""
    return f"- {row.question}{f' ({why})' if why else ''}. Answer: {answer}. {hangs}{alone}{about}."


def _where(result: Result, selected: _Selected, setting: Setting, cut: str) -> list[str]:
    """Storeys, the axes of the grid that the first of them is nearest to, and where the view is cut open."""
    rows = {row.key: row for row in result.carriers if row.key in selected.carriers}
    places = [*(row.place for row in rows.values()), *selected.equipment.values()]
    storeys = sorted({place.storey for place in places if place.storey}, key=natural)
    parts = [f"Where: {', '.join(storeys)}."] if storeys else []
    first = next((rows[key] for key in selected.carriers if rows[key].boxes), None)
    if first is not None and (grid := grid_words(setting, extent_mm(first.boxes[:1])[0], first.place.storey)):
        parts.append(f"{'' if parts else 'Where: '}Nearest grid axes to {first.place.label}: {grid}.")
    if cut:
        parts.append(f"{'' if parts else 'Where: '}{cut}")
    return [" ".join(parts)] if parts else []


def _cut_short(selected: _Selected) -> list[str]:
    number = len(selected.carriers) + len(selected.equipment)
    return [f"The view selects the first {MOST_SELECTED} of {number} elements."] if number > MOST_SELECTED else []


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
    if group.is_of_meetings:
        for place, box in fittings_missed(result, keys):
            found.equipment[place.global_id] = place
            found.boxes.append(box)
    found.carriers.update((key, None) for key in keys if key in rows)
    found.boxes += [box for key in found.carriers for box in rows[key].boxes]
    return found
