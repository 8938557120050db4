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
from tests.report.results import carrier, compartment, finding

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


def test_nothing_is_said_of_levels_where_none_is_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[str] = []
    monkeypatch.setattr(Canvas, "text", lambda _self, _at, text, *_rest, **_more: told.append(text))
    for row, says in (
        (part(0.2), True),
        (part(None), False),
        (replace(part(0.2), inside_width_mm=None, inside_height_mm=None), False),
    ):
        told.clear()
        draw_section(Canvas(400, 560), AREA, ROW, [row], None)
        assert any("Level shows" in text for text in told) is says


def test_what_was_asked_is_written_larger_where_all_of_it_has_room(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[tuple[float, str, int]] = []
    monkeypatch.setattr(Canvas, "text", lambda _self, at, text, size, *_rest: told.append((at[1], text, size)))
    row = finding(ROW, part(0.6))
    sizes = []
    for reason in ("too full", "of many circuits " * 25):
        told.clear()
        draw_section(Canvas(400, 560), AREA, ROW, [part(0.6)], replace(row, reason=reason))
        lines = [(y, text, size) for y, text, size in told if text and text in reason.strip()]
        assert " ".join(text for _, text, _ in lines) == reason.strip()  # nothing of it is missing
        sizes.append({size for _, _, size in lines})
        assert max(y for y, _, _ in lines) < 560.0 - 32.0 - 19.0
    assert sizes == [{18}, {15}]


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
