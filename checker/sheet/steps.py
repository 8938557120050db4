"""The arithmetic of a rule as rows and steps: its own lines, with how areas come about written out, and what of them is given."""

import re
from dataclasses import dataclass

from checker.fit import Answer
from checker.fit_text import MOST, decides
from checker.model import LoadedCompartment, PlacedCable, cable_area_mm2
from checker.rule import Outcome, Verdict
from checker.section.parts import OPEN
from checker.sheet.blanks import FIGURE, Line, Piece, factors, given, worked
from checker.units import circle_area_mm2, stadium_area_mm2

#: What the lines of a rule's arithmetic are called, by how they begin.
STEPS = {
    "together": "The sum", "inside": "The inside", "fill": "Fill", "used": "Used", "the conduit's term": "The conduit's factor",
    "sizes are ranges": "Sizes between",
}  # fmt: skip
AREA_LINE = re.compile(r"([0-9]+) × ([0-9.]+) mm² = (.*)")
INSIDE_LINE = re.compile(r"inside ([0-9.]+) mm²")
FACTOR_LINE = re.compile(r"([0-9]+) × term ([0-9]+(?:\.[0-9]+)?)")
PRINTED = " (printed by the code)"


@dataclass(frozen=True, slots=True)
class Row:
    """A kind of cable: what it is called, how many, its outside, and what it adds to the sum."""

    cable: str
    number: str
    size: str
    adds: Line


def shown_end(answer: Answer) -> Verdict:
    """The answer whose arithmetic is shown: at the end that decides of what isn't certain, else at the least that it can be."""
    is_of_most = answer.against is not None and decides(answer.verdict, answer.against) == MOST
    return answer.against if is_of_most and answer.against is not None else answer.verdict


def known_figures(answer: Answer) -> set[str]:
    """The figures that are given, as rules write them."""
    section = answer.subject.carrier.section
    sizes = [section.width_mm, section.height_mm, section.wall_mm, section.bore_mm, section.usable_depth_mm, 4.0, 2.0]
    known = {f"{size:g}" for size in sizes if size is not None}
    for cable in answer.subject.cables:
        known.add(str(cable.count))
        for one in (cable, cable.at_least()):
            known |= {f"{size:g}" for size in (one.diameter_mm, one.width_mm, one.height_mm) if size is not None}
        if cable.area_mm2 is not None and _is_printed(cable):
            known |= {f"{cable.area_mm2:.1f}", f"{cable.area_mm2:.2f}"}
    if answer.verdict.limit is not None:
        known.add(f"{100 * answer.verdict.limit:g}")
    return known


def _is_printed(cable: PlacedCable) -> bool:
    """Whether a cable's area is a figure of a code or of the question, and doesn't follow from its size."""
    return cable.area_mm2 != cable_area_mm2(cable.diameter_mm, cable.width_mm, cable.height_mm)


def row(cable: PlacedCable, lines: list[str], known: set[str]) -> Row:
    """A row of the list; the line of the rule's arithmetic that is about it is taken out of the lines."""
    name = cable.key or cable.circuit
    size = cable.range_words
    if not size and cable.diameter_mm is not None:
        size = f"Ø {cable.diameter_mm:g} mm"
    elif not size and cable.width_mm is not None:
        size = f"{cable.width_mm:g} × {cable.height_mm or 0.0:g} mm"
    line = next((line for line in lines if line.startswith(f"{name}: ")), None)
    if line is None:
        return Row(name, str(cable.count), size, given("–"))
    lines.remove(line)
    adds = line.removeprefix(f"{name}: ")
    factor = FACTOR_LINE.fullmatch(adds)
    if factor is not None:
        adds = f"{factor[1]} × term {factor[2]} = {int(factor[1]) * float(factor[2]):g}"
    area = AREA_LINE.fullmatch(adds)
    if area is not None and not _is_printed(cable):
        formula = _formula(cable, area[2]) or _formula(cable.at_least(), area[2])
        adds = f"{area[1]} × {formula or f'{area[2]} mm²'} = {area[3]}"
    return Row(name, str(cable.count), size, worked(adds, known | set(factors(adds))))


def _formula(cable: PlacedCable, area: str) -> str:
    """How an area of one cable comes about, as the rule wrote it; empty: not by its size alone."""
    digits = len(area.partition(".")[2])
    for size in (cable.diameter_mm, cable.width_mm):
        if size is not None and f"{circle_area_mm2(size):.{digits}f}" == area:
            return f"π/4 · {size:g}²"
    wide, high = cable.width_mm, cable.height_mm
    if wide is not None and high is not None and f"{stadium_area_mm2(wide, high):.{digits}f}" == area:
        return f"(π/4 · {high:g}² + ({wide:g} − {high:g}) · {high:g})"
    return ""


def steps_of(answer: Answer, lines: list[str], known: set[str]) -> list[tuple[str, Line]]:
    """What is left of the rule's arithmetic, each line with its label, and how the inside comes about."""
    steps: list[tuple[str, Line]] = []
    has_allowed = any("of which" in line for line in lines)
    for line in lines:
        begin = next((begin for begin in STEPS if line.startswith(begin)), "")
        if begin == "inside":
            steps.append((STEPS[begin], _inside(answer.subject, line, known)))
            if answer.verdict.measure == "area" and not has_allowed:
                steps += _allowed(answer.verdict.limit, line)
        elif begin == "the conduit's term":
            steps.append((STEPS[begin], given(line.removeprefix("the conduit's term for a "))))
        elif begin:
            least = (
                ", at least"
                if shown_end(answer) is answer.verdict and answer.verdict.at_least and begin in {"fill", "used"}
                else ""
            )
            steps.append((f"{STEPS[begin]}{least}", worked(line.removeprefix(begin).removeprefix(":").strip())))
        else:
            # a line of the rule's own words: what it works out has decimals, as sizes of conductors, 4/0, have none
            whole = {figure for figure in FIGURE.findall(line) if "." not in figure}
            steps.append(("Held against", worked(line, whole)))
    return steps


def _allowed(limit: float | None, line: str) -> list[tuple[str, Line]]:
    """The limit's share of the inside that the rule's line has."""
    inside = INSIDE_LINE.match(line)
    if limit is None or inside is None:
        return []
    share = f"{100 * limit:.4g}"
    return [("Allowed", worked(f"{share} % of {inside[1]} = {limit * float(inside[1]):.1f} mm²", {share}))]


def _inside(subject: LoadedCompartment, line: str, known: set[str]) -> Line:
    """How the inside comes about, as far as it follows from sizes; else as the rule has it."""
    section, area = subject.carrier.section, subject.area_mm2 or 0.0
    rest = line.partition(" mm²")[2]
    formula = ""
    if subject.size_doubt:
        formula = ""
    elif section.inside_area_mm2 is not None:
        return (Piece(f"{area:.1f} mm²{PRINTED}"), *worked(rest, known))
    elif section.bore_mm is not None:
        formula = f"π/4 · {section.bore_mm:g}²"
    elif section.width_mm is not None and section.height_mm is not None and section.wall_mm is not None:
        is_open = subject.carrier.kind in OPEN
        depth = section.usable_depth_mm if is_open else section.height_mm
        wall = f" − 2 · {section.wall_mm:g}" if section.wall_mm else ""
        down = "" if is_open else wall
        across, high = f"{section.width_mm:g}{wall}", f"{depth or 0.0:g}{down}"
        formula = " · ".join(f"({side})" if "−" in side else side for side in (across, high))
    if not formula:
        return worked(line.removeprefix("inside").strip(), known if " = " in line else ())
    return (*worked(f"{formula} = {area:.1f} mm²", known), *worked(rest, known))


def spare_steps(answer: Answer) -> list[tuple[str, Line]]:
    """The fill with the spare on top."""
    spare = answer.spare
    # what passes does so at the most, what fails at the least
    is_of_most = spare is not None and spare.outcome is Outcome.PASS and answer.against is not None
    fill = answer.against.value if is_of_most and answer.against is not None else answer.verdict.value
    if spare is None or spare.value is None or not fill:
        return []
    share = f"{spare.value / fill:.4g}"
    return [("With the spare", worked(f"{share} · {fill:.4f} = {spare.value:.4f}", {share}))]
