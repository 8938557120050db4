"""What an issue note says in words: its title, and its description in lines."""

from collections.abc import Container, Mapping, Sequence

from checker.model.texts import listed, natural, number
from checker.result.gravity import gravity
from checker.result.note_state import clean
from checker.result.notes import advices, found_and_wanted, vain
from checker.result.tables import CarrierRow, FindingRow

#: The description's last line: what merging finds our topics by.
IDS_LINE = "wayroom: "
#: So many findings of a rule are told with their reason, the worst first; the others are named.
MOST_LISTED = 40
MOST_NAMED = 4
#: No title is longer: other programs show one in a line of a list.
MOST_TITLE = 250
#: No viewer selects more; the list of a viewpoint ends there.
MOST_SELECTED = 1000
#: What figures are of, by measure.
MEASURES = {"area": " full", "term": " of the conduit's term", "width": " of the width"}


def title_of(
    group: Sequence[FindingRow], rows: Sequence[CarrierRow], circuits: Sequence[str], undivided: Container[str] = ()
) -> str:
    """Where it is, and what is wrong there at worst.

    Args:
        group: The topic's findings, the worst first.
        rows: Its carriers.
        circuits: The marks of its circuits.
        undivided: Keys of carriers with one compartment, whose number says nothing.
    """
    worst = group[0]
    where = listed(sorted({row.place.label for row in rows}, key=natural), MOST_NAMED)
    numbers = {finding.compartment for finding in group}
    is_one = worst.compartment is not None and len(numbers) == 1 and any(row.key not in undivided for row in rows)
    compartment = f", compartment {worst.compartment}" if is_one else ""
    what = _amount(worst)
    if worst.is_of_circuit:
        what = f"{_circuits(circuits)}, {what}"
    return short_title(f"{where} ({_sizes(rows)}){compartment}: {what}")


def short_title(text: str) -> str:
    """A title in one line, cut where it is very long."""
    line = " ".join(clean(text).split())
    return line if len(line) <= MOST_TITLE else f"{line[: MOST_TITLE - 1].rstrip()}…"


def _size(row: CarrierRow) -> str:
    return f"{row.kind} {row.size} mm" if row.size else row.kind


def _sizes(rows: Sequence[CarrierRow]) -> str:
    """The sizes of the carriers where they are few, else how many there are."""
    sizes = list(dict.fromkeys(_size(row) for row in rows))
    if len(sizes) <= 2:
        return ", ".join(sizes)
    kinds = sorted({row.kind for row in rows})
    return f"{', '.join(kinds)}; {len(sizes)} sizes"


def _amount(finding: FindingRow) -> str:
    found, wanted = found_and_wanted(finding)
    if finding.found or finding.wanted:
        return ", ".join(part for part in (found, wanted if finding.wanted else _limit(finding, wanted)) if part)
    if finding.value is None:
        return finding.reason
    if finding.is_current:
        if finding.limit is None or finding.value <= finding.limit:
            return finding.reason
        return f"{number(finding.value, 'A')} needed at worst, {number(finding.limit, 'A')} allowed"
    what = MEASURES.get(finding.measure, "")
    return f"{found}{what}, {_limit(finding, wanted)}" if wanted else finding.reason


def _limit(finding: FindingRow, wanted: str) -> str:
    return wanted if finding.is_floor or not wanted else f"limit {wanted}"


def _circuits(marks: Sequence[str]) -> str:
    named = listed(sorted(marks, key=natural), MOST_NAMED)
    return f"{'circuit' if len(marks) == 1 else 'circuits'} {named}"


def where_line(rows: Sequence[CarrierRow], grid: str, cut: str = "") -> str:
    """Storeys, zones, sizes, the nearest axes of the grid, and where the view is cut open.

    Args:
        rows: The carriers, the worst first.
        grid: The axes that the worst is nearest to; empty where none are.
        cut: What is said of a view that is cut open; empty where it isn't.
    """
    storeys = (
        ", ".join(sorted({row.place.storey for row in rows if row.place.storey}, key=natural)) or "no storey given"
    )
    zones = sorted({row.place.zone for row in rows if row.place.zone}, key=natural)
    sizes = _sizes(rows)
    parts = [f"Where: {storeys}.", f"{sizes[:1].upper()}{sizes[1:]}."]
    if zones:
        parts.insert(1, f"{'Zone' if len(zones) == 1 else 'Zones'} {listed(zones, MOST_NAMED)}.")
    if grid:
        parts.append(f"Nearest grid axes to {rows[0].place.label}: {grid}.")
    if cut:
        parts.append(cut)
    return " ".join(parts)


def finding_lines(
    group: Sequence[FindingRow],
    carriers: Mapping[str, CarrierRow],
    titles: Mapping[str, str],
    undivided: Container[str] = (),
) -> list[str]:
    """The rule's limit and every finding in a line; of other rules that fail for the same cause after those of the first one.

    Args:
        group: The topic's findings, the worst first.
        carriers: All carriers by key.
        titles: Of rules, by id.
        undivided: Keys of carriers with one compartment, whose number says nothing.
    """
    lines: list[str] = []
    for rule in dict.fromkeys(finding.rule for finding in group):
        own = sorted((finding for finding in group if finding.rule == rule), key=lambda row: _turn(row, carriers))
        if lines:
            lines += ["", f"For that cause also: {titles.get(rule, rule)} ({rule})."]
        lines += [f"Limit: {own[0].source} ({own[0].basis}).", ""]
        lines += [_line(finding, carriers, undivided) for finding in own[:MOST_LISTED]]
        if len(own) > MOST_LISTED:
            others = dict.fromkeys(
                carriers[key].place.label for finding in own[MOST_LISTED:] for key in finding.carriers
            )
            lines.append(f"- and {', '.join(others)}")
    return lines


def _turn(finding: FindingRow, carriers: Mapping[str, CarrierRow]) -> tuple[object, ...]:
    """The gravest first, and those that are as grave as each other as people count them."""
    labels = [natural(carriers[key].place.label) for key in finding.carriers]
    return (*gravity(finding)[:3], labels, [natural(mark) for mark in finding.circuits], finding.id)


def _line(finding: FindingRow, carriers: Mapping[str, CarrierRow], undivided: Container[str]) -> str:
    places = [carriers[key].place for key in finding.carriers]
    labels = ", ".join(f"{place.label}{f' in {place.space}' if place.space else ''}" for place in places)
    if finding.at:
        space = f" in {places[0].space}" if len(places) == 1 and places[0].space else ""
        labels = f"{finding.at}{space}" if len(places) == 1 else f"{finding.at} ({labels})"
    has_number = finding.compartment is not None and any(key not in undivided for key in finding.carriers)
    compartment = f", compartment {finding.compartment}" if has_number and not finding.at else ""
    whose = f", circuit {', '.join(finding.circuits)}" if finding.is_of_circuit else ""
    also = listed([carriers[key].place.label for key in finding.along if key in carriers], MOST_LISTED)
    return f"- {labels}{compartment}{whose}: {finding.reason}{f'; too little in {also} as well' if also else ''}"


def remedy_lines(group: Sequence[FindingRow], carriers: Mapping[str, CarrierRow]) -> list[str]:
    """What was tried and would help; of the findings for which nothing does, what was tried in vain.

    Args:
        group: The topic's findings, the worst first.
        carriers: All carriers by key.
    """
    labels = {key: carriers[key].place.label for finding in group for key in finding.carriers}
    tried = vain(group, labels)
    return [*(f"Advice: {text}" for text in advices(group)), *([f"No advice: {tried}."] if tried else [])]


def selection_line(number_of: int, cables: int = 0) -> list[str]:
    """What is said of a topic whose elements are more than a view selects.

    Args:
        number_of: Its lengths.
        cables: Those of the model, selected after the lengths.
    """
    lines = []
    if number_of > MOST_SELECTED:
        lines.append(
            f"All {number_of} lengths are listed here; the view selects the first {MOST_SELECTED}, the worst first."
        )
    room = max(MOST_SELECTED - number_of, 0)
    if cables > room:
        lines.append(f"Of the {cables} cables the view selects {f'the first {room}' if room else 'none'}.")
    return lines
