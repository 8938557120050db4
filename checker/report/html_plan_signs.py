"""What the signs on plans mean, in words beside each, and the patterns that carriers are filled with."""

from checker.report.html_markup import Html, join, tag
from checker.report.plan_marks import (
    ENTRY,
    EQUIPMENT,
    JOINS,
    KINDS,
    OPEN_END,
    OTHER_JOIN,
    VERDICTS,
    fill_of,
    kind_of,
    patterns,
    verdict_of,
)
from checker.report.plan_sheets import Sheets
from checker.result.tables import CarrierRow


def kind_word(kind: str) -> str:
    """A kind as it is counted."""
    return "of unknown kind" if kind == "unknown" else kind


def definitions() -> Html:
    """The patterns that carriers are filled with."""
    made = (
        tag(
            "pattern", tag("path", d=data), id=f"fill-{kind}", class_=f"fill-{kind}", width=size, height=size,
            patternUnits="userSpaceOnUse",
        )
        for kind, (size, data) in patterns().items()
    )  # fmt: skip
    return tag("svg", tag("defs", *made), width=0, height=0, class_="defs", aria_hidden="true")


def legend(made: Sheets, *, has_circuits: bool) -> Html:
    """What each sign means, of those that are on some plan; and how a chosen way is shown, where there are circuits to choose from."""
    carriers: list[CarrierRow] = [one.row for plan in made.plans for one in plan.carriers]
    kinds = {kind_of(row.kind) for row in carriers}
    verdicts = {verdict_of(row.worst_verdict) for row in carriers}
    bar = "M-11-4h22v8h-22z"
    entries = [
        (tag("g", tag("path", d=bar, class_="pass"), class_=kind, fill=fill_of(kind)), f"{kind_word(kind)}: {words}")
        for kind, words in KINDS.items()
        if kind in kinds
    ]
    if any(piece.is_upright for plan in made.plans for one in plan.carriers for piece in one.pieces):
        entries.append(
            (tag("g", tag("path", d="M-5-5h10v10h-10zl10 10m0-10l-10 10", class_="pass"), class_="trunking"), "upright")
        )
    entries += [
        (tag("g", tag("path", d=bar, class_=word), class_="trunking"), f"{_VERDICT_WORDS.get(word, word)}: {words}")
        for word, words in VERDICTS.items()
        if word in verdicts
    ]
    ways = {way for plan in made.plans for way in plan.joins}
    for way in [way for way in JOINS if way in ways] + sorted(ways - set(JOINS)):
        shape, filled = JOINS.get(way, OTHER_JOIN)
        entries.append(
            (tag("g", tag("path", d=f"M0 0{shape}", class_=None if filled else "open"), class_="joins"), f"join: {way}")
        )
    ends = {bool(row.comes_in) for plan in made.plans for row, _ in plan.open_ends}
    if True in ends:
        sign = tag("g", tag("path", d=f"M0 0{ENTRY}", class_="entry"), class_="ends")
        entries.append((sign, "open end where circuits come in"))
    if False in ends:
        entries.append((tag("g", tag("path", d=f"M0 0{OPEN_END}"), class_="ends"), "open end: nothing is joined to it"))
    if any(plan.breaks for plan in made.plans):
        entries.append(
            (tag("g", tag("path", d="M-12 0h24"), class_="breaks"), "break: a circuit needs a join there; gap in mm")
        )
    if any(plan.equipment for plan in made.plans):
        sign = tag("g", tag("path", d=f"M0 0{EQUIPMENT}"), class_="equipment")
        entries.append((sign, "equipment that circuits begin or end at"))
    listed = [_entry(*entry) for entry in entries]
    if has_circuits:
        if any(row.comes_in for plan in made.plans for row, _ in plan.equipment):
            drop = tag("g", tag("path", d="M-12 0h24", class_="on"), class_="drops")
            listed.append(_entry(drop, "drop of the circuit chosen above, as the crow flies", with_script=True))
        band = tag("g", tag("path", d="M-12 0h24"), class_="around"), tag("text", "1", x=0, y=0, class_="step")
        listed.append(
            _entry(join(band), "the way chosen above: a wide band, its carriers numbered in order", with_script=True)
        )
    return tag("ul", *listed, class_="legend", aria_label="What the signs mean")


_VERDICT_WORDS = {"unknown": "unknown or not judged"}


def _entry(drawing: Html, words: str, *, with_script: bool = False) -> Html:
    return tag(
        "li",
        tag("svg", drawing, viewBox="-14 -9 28 18", class_="sign", aria_hidden="true"),
        words,
        class_="with-script" if with_script else None,
    )
