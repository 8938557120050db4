"""No text of a drawing stands on another or beyond the sheet, whatever circuits are called, with 4 cables and with 200."""

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from checker.model import CarrierKind
from checker.rule import Outcome
from checker.section.drawing import sketch_of
from checker.section.leaders import Pointed, beside, column_height
from checker.section.letters import clean, plain, width_of, wrapped
from checker.section.parts import SectionView
from checker.section.shapes import Box
from checker.section.sketch import PAPER, Disc, Line, Sketch, Text, meet
from tests.section.drawn_views import SERVICES, bundle, lane, section, verdict

ODD = ["<&>", "مرحبا بالعالم", "😀😀😀", "W" * 40, "Ł1-ß", "L1\u0000\u202ex", "漢字", "a" * 3 + "\n" + "b", "i", "Ω²µ"]
MARKS = st.one_of(st.sampled_from(ODD), st.text(min_size=1, max_size=40))


def beyond_or_on_each_other(sketch: Sketch) -> list[str]:
    """What is wrong with a sheet's texts: empty for none."""
    texts = list(sketch.texts())
    wrong = [
        f"{text.text!r} stands beyond the sheet"
        for text in texts
        for left, top, right, bottom in [text.box]
        if left < 0.0 or top < 0.0 or right > sketch.width or bottom > sketch.height
    ]
    by_top = sorted(texts, key=lambda text: text.box[1])
    for index, one in enumerate(by_top):
        below = itertools.takewhile(lambda other, low=one.box[3]: other.box[1] < low, by_top[index + 1 :])
        wrong += [f"{one.text!r} stands on {two.text!r}" for two in below if meet(one.box, two.box)]
    return wrong


@st.composite
def views(draw: st.DrawFn) -> SectionView:
    kind = draw(st.sampled_from(["box", "box", "channel", "round"]))
    lanes = []
    for number in range(1, draw(st.integers(1, 1 if kind == "round" else 4)) + 1):
        bundles = [
            bundle(
                draw(MARKS), draw(st.integers(1, 9)), width_mm=draw(st.floats(1.0, 60.0)), service=draw(st.sampled_from(SERVICES)),
                cores=draw(st.sampled_from([None, 1, 2, 3, 4, 5, 8])), metal_mm2=draw(st.sampled_from([None, 0.2, 1.5, 10.0])),
                why=draw(st.sampled_from(["", "", "", "their size isn't known"])), is_possible=draw(st.sampled_from([False, False, True])),
            )
            for _ in range(draw(st.integers(0, 6)))
        ]  # fmt: skip
        value, limit = draw(st.one_of(st.none(), st.floats(0.0, 3.0))), draw(st.one_of(st.none(), st.floats(0.01, 1.0)))
        answer = verdict(draw(st.sampled_from(Outcome)), value, limit, draw(st.text(max_size=200)))
        lanes.append(lane(number, draw(st.floats(10.0, 600.0)), bundles, answer, kind=kind))
    carrier = {"box": CarrierKind.TRUNKING, "round": CarrierKind.CONDUIT}.get(kind, CarrierKind.TRAY)
    return section(lanes, carrier, f"Section of {draw(MARKS)}")


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(views())
def test_no_text_stands_on_another_or_beyond_the_sheet(view: SectionView) -> None:
    assert beyond_or_on_each_other(sketch_of(view)) == []


@pytest.mark.parametrize("mark", ["L1", "W" * 40, "مرحبا", "😀 <&>"])
@pytest.mark.parametrize("count", [4, 24, 25, 200])
@pytest.mark.parametrize("width_mm", [20.0, 50.0, 600.0])
def test_texts_keep_apart_with_4_and_with_200_cables(mark: str, count: int, width_mm: float) -> None:
    bundles = [bundle(f"{mark}{number}", count // 4, service=SERVICES[number]) for number in range(4)]
    sketch = sketch_of(section([lane(1, width_mm, bundles)]))
    assert beyond_or_on_each_other(sketch) == []


def test_two_texts_that_meet_are_told() -> None:
    sketch = sketch_of(section([lane(1, 50.0, [bundle("L1", 4)])]))
    twice = Sketch(sketch.width, sketch.height, (*sketch.marks, *sketch.texts()), "twice")
    assert len(beyond_or_on_each_other(twice)) >= len(list(sketch.texts()))


def test_every_bundle_is_named_in_the_legend_whatever_it_is_called() -> None:
    marks = [f"{'long name ' * 4}{number}" for number in range(30)]
    bundles = [bundle(mark, 7, service=SERVICES[number % 8]) for number, mark in enumerate(marks)]
    # 210 cables: they are keyed by numbers, and long names go on in a next line
    words = " ".join(text.text for text in sketch_of(section([lane(1, 300.0, bundles)])).texts())
    assert all(mark in words for mark in marks)


def test_what_may_lie_there_and_what_has_no_size_is_listed_not_left_out() -> None:
    bundles = [bundle("P1"), bundle("P7", is_possible=True), bundle("P9", why="their size isn't known")]
    words = [text.text for text in sketch_of(section([lane(1, 50.0, bundles)])).texts()]
    assert any(word.startswith("P7,") and "may lie here, not drawn" in word for word in words)
    assert any(word.startswith("P9,") and "not drawn: their size isn't known" in word for word in words)


@pytest.mark.parametrize("text", ["h07v-u-2.5, 3.9 mm²", "Ø 20 × 3 – Σ", "WWW", "fi ffl AVAVAV", "µ√", *ODD])
def test_a_text_in_a_picture_is_never_wider_than_its_box(text: str) -> None:
    # the picture's own measure, at the size in which it is drawn
    size = 13
    measured = ImageFont.load_default(size * 4).getlength(plain(clean(text))) / 4.0
    assert measured <= width_of(clean(text), size)


@settings(deadline=None)
@example("W" * 60)
@given(st.text(max_size=120))
def test_wrapping_leaves_nothing_out_and_no_line_is_too_wide(text: str) -> None:
    lines = wrapped(clean(text), 13.0, 100.0)
    assert "".join("".join(lines).split()) == "".join(clean(text).split())
    assert all(width_of(line, 13.0) <= 100.0 for line in lines)


def test_marks_beside_a_small_drawing_stand_over_more_height_than_it_has() -> None:
    # four rows of 0.5 mm at no more than 24 pixels a mm are 48 high; 12 marks at each side need 12 · 19 = 228
    bundles = [bundle(f"CIRCUIT-{number}", 1, width_mm=0.5, service=SERVICES[number % 8]) for number in range(24)]
    sketch = sketch_of(section([lane(1, 3.0, bundles)]))
    assert sum(text.text.startswith("CIRCUIT-") and "," not in text.text for text in sketch.texts()) == 24
    assert beyond_or_on_each_other(sketch) == []


@given(st.lists(st.floats(0.0, 300.0), min_size=1, max_size=24))
def test_marks_beside_a_drawing_keep_a_row_apart_within_their_column(wanted: list[float]) -> None:
    top, bottom = 50.0, 50.0 + max(column_height(len(wanted)), 100.0)
    pointed = [Pointed(f"C{number}", 400.0 + number, level) for number, level in enumerate(wanted)]
    texts = [mark for mark in beside(pointed, 300.0, 500.0, top, bottom) if isinstance(mark, Text)]
    assert len(texts) == len(wanted)
    for side in ("start", "end"):
        boxes = sorted(text.box for text in texts if text.anchor == side)
        boxes.sort(key=lambda box: box[1])
        assert all(one[3] <= two[1] for one, two in itertools.pairwise(boxes))
        assert all(top - 1e-6 <= box[1] and box[3] <= bottom + 1e-6 for box in boxes)


def crossings(sketch: Sketch, cables: int) -> int:
    """How often a line to a cable passes through another cable of a sheet."""
    discs = [mark for mark in sketch.marks if isinstance(mark, Disc) and mark.style.fill != PAPER and mark.radius > 4.0]
    lines = [mark.points for mark in sketch.marks if isinstance(mark, Line) and mark.style.width_px == 0.9]
    assert len(lines) == cables
    found = 0
    for points in lines:
        for one, other in itertools.pairwise(points):
            steps = [
                (one[0] + (other[0] - one[0]) * k / 400, one[1] + (other[1] - one[1]) * k / 400) for k in range(401)
            ]
            for disc in discs:
                far = math.dist(points[0], (disc.x, disc.y))
                # its own cable is the one that it begins in
                if far > disc.radius and any(math.dist(step, (disc.x, disc.y)) < disc.radius - 1.0 for step in steps):
                    found += 1
    return found


@pytest.mark.parametrize(("width_mm", "count"), [(100.0, 16), (60.0, 10), (100.0, 5)])
def test_lines_to_a_low_row_of_cables_cross_no_other_cable(width_mm: float, count: int) -> None:
    bundles = [bundle(f"UP-{number:02}", width_mm=4.0, service=SERVICES[number % 8]) for number in range(count)]
    low = lane(1, width_mm, bundles)
    high = replace(low, inside=Box(width_mm, width_mm))
    for one in (high, replace(low, inside=Box(width_mm, width_mm / 2.0))):
        sketch = sketch_of(section([one]))
        assert beyond_or_on_each_other(sketch) == []
        assert crossings(sketch, count) == 0


def test_letters_that_the_font_lacks_are_given_the_room_of_the_widest() -> None:
    # signs of pictures are up to 1.3 times as wide as their size in fonts that have them
    assert width_of("😀" * 5, 10.0) >= 65.0
