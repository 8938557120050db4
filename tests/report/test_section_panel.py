"""What the section beside a snapshot says of compartments in which circuits could lie."""

import io
from dataclasses import replace

import pytest
from PIL import Image, ImageChops

from checker.model import CarrierKind
from checker.report.canvas import Canvas, plain
from checker.report.gauge import could_lie
from checker.report.section_panel import _way, draw_section, drawable, figures
from checker.result.tables import CompartmentRow
from checker.section.parts import Bundle, LaneView, SectionView
from checker.section.shapes import Box, circle
from tests.report.results import carrier, compartment

ROW = carrier(1, None)
AREA = (0.0, 0.0, 400.0, 560.0)


def part(fill: float | None, **changes: object) -> CompartmentRow:
    return replace(compartment(ROW, 1, (97.6, 47.6), fill), **{"circuits": (), **changes})


def image(row: CompartmentRow) -> Image.Image:
    canvas = Canvas(400, 560)
    draw_section(canvas, AREA, ROW, [row], None)
    return Image.open(io.BytesIO(canvas.png())).convert("RGB")


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (part(0.0, circuits_possible=("C1", "C2", "C3", "C4", "C5")), "not known: 5 circuits could lie here"),
        (part(None, circuits_possible=("C1",)), "not known: 1 circuit could lie here"),
        (part(None, circuits=("C1",), circuits_possible=("C1", "C2")), "not known: 1 more circuit could lie here"),
        (part(0.12, circuits=("C1",), circuits_possible=("C2",), at_least=True), "fill at least 12 % / limit 45 %"),
        (part(0.12, circuits=("C1",), circuits_possible=("C2",)), "fill 12 % / limit 45 %"),
        (part(0.0), "fill 0 % / limit 45 %"),
        (part(None), "fill not known / limit 45 %"),
        (part(0.0, circuits=("C1",), circuits_possible=("C1",)), "fill 0 % / limit 45 %"),
    ],
)
def test_a_compartment_in_which_circuits_could_lie_is_not_said_to_be_empty(row: CompartmentRow, told: str) -> None:
    assert figures(row) == told
    assert bool(could_lie(row)) == told.endswith("could lie here")


def test_the_picture_shows_no_level_where_circuits_could_lie() -> None:
    empty, open_ = image(part(0.0)), image(part(0.0, circuits_possible=("C1",)))
    unknown = image(part(None, circuits_possible=("C1",), verdict="pass"))

    assert ImageChops.difference(empty, open_).getbbox() is not None
    assert ImageChops.difference(unknown, open_).getbbox() is None  # it is drawn as what isn't known


def test_a_root_is_written_in_letters_that_the_font_has() -> None:
    assert plain(drawable("1/√6")) == "1/sqrt 6"


def test_below_the_picture_it_says_first_that_some_cables_arent_drawn() -> None:
    sized = Bundle("P1", None, "11mm", 1, circle(11.0))
    shown = LaneView(1, Box(50.0, 50.0), bundles=(sized,), way="Drawn as best found.")
    for other in (
        Bundle("P2", None, "", 1, None, why="their size isn't known"),
        Bundle("P3", None, "11mm", 1, circle(11.0), is_possible=True),
    ):
        lane = replace(shown, bundles=(sized, other))
        view = SectionView("Section of T1", "", CarrierKind.TRUNKING, (lane,))
        assert _way(view, 1) == "Some that lie or may lie here aren't drawn. Drawn as best found."
    assert _way(SectionView("Section of T1", "", CarrierKind.TRUNKING, (shown,)), 1) == "Drawn as best found."
    assert _way(None, 1) == "No cables are drawn."
