"""Drawings as SVG and PNG: well formed, told in words, the same bytes each time, and the same picture in both."""

import io
from dataclasses import replace

import pytest
from lxml import etree
from PIL import Image

from checker.model import CarrierKind, Service
from checker.rule import Outcome
from checker.section.drawing import sketch_of
from checker.section.letters import clean
from checker.section.notes import notes, told
from checker.section.png import png
from checker.section.shapes import Round
from checker.section.sketch import Disc, Hatching, Line, Sketch, Stadium, Style, Text
from checker.section.svg import svg
from tests.section.drawn_views import SERVICES, bundle, lane, section, verdict

SVG = "{http://www.w3.org/2000/svg}"


def everything() -> Sketch:
    bundles = [bundle(f"C{number}", 2, service=service, cores=number + 1) for number, service in enumerate(SERVICES)]
    flat = bundle("F", 2, width_mm=9.6, height_mm=5.4, cores=2, metal_mm2=1.5, service=Service.DATA)
    return sketch_of(section([lane(1, 60.0, bundles), lane(2, 40.0, [flat], verdict(Outcome.FAIL, 1.4, 0.45, "over"))]))


def test_the_svg_is_well_formed_and_told_in_words() -> None:
    sketch = everything()
    root = etree.fromstring(svg(sketch).encode())
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert [child.tag for child in root[:2]] == [f"{SVG}title", f"{SVG}desc"]
    assert root[0].text == "Section of FT-01"
    assert "C0, 2 × h07v-u-2.5, 5 mm" in root[1].text
    assert "140 % of the area inside is used, the limit is 45 %" in root[1].text


def test_the_svg_holds_nothing_but_shapes_and_texts() -> None:
    tags = {element.tag.removeprefix(SVG) for element in etree.fromstring(svg(everything()).encode()).iter()}
    assert tags == {"svg", "title", "desc", "rect", "circle", "polygon", "polyline", "path", "text"}


def test_numbers_of_the_svg_have_two_digits_after_the_point_at_most() -> None:
    for element in etree.fromstring(svg(everything()).encode()).iter():
        for name in {"x", "y", "cx", "cy", "r", "width", "height", "stroke-width"} & set(element.attrib):
            assert len(element.get(name).partition(".")[2]) <= 2


@pytest.mark.parametrize(
    "mark", ["<b>&amp;</b>", "]]>", 'a"b', "\u0000\u0008\u000b", "\ud800", "\uffff", "a\u202eb", " a  b "]
)
def test_signs_that_xml_cant_hold_are_dealt_with(mark: str) -> None:
    root = etree.fromstring(
        svg(sketch_of(section([lane(1, 50.0, [bundle(mark)])], title=f"Section of {mark}"))).encode()
    )
    assert root[0].text == clean(f"Section of {mark}")
    png(sketch_of(section([lane(1, 50.0, [bundle(mark)])])))


def test_a_text_is_one_line_without_what_cant_be_seen() -> None:
    assert clean(" a \n\t b\u202e\u200bc\u0000 ") == "a bc\ufffd"


def test_marks_from_right_to_left_dont_turn_what_stands_after_them() -> None:
    # after the mark an unseen sign of left-to-right, so that the count stays where it is
    root = etree.fromstring(svg(sketch_of(section([lane(1, 50.0, [bundle("مرحبا", 4)])]))).encode())
    assert "مرحبا\u200e, 4 × h07v-u-2.5\u200e, 5 mm\u200e, service not known" in [element.text for element in root]


def test_the_same_drawing_is_the_same_bytes() -> None:
    assert svg(everything()) == svg(everything())
    assert png(everything()) == png(everything())


def test_the_png_has_two_pixels_for_each_of_the_sheet() -> None:
    sketch = everything()
    assert Image.open(io.BytesIO(png(sketch))).size == (2 * round(sketch.width), 2 * round(sketch.height))


def test_the_png_shows_shapes_where_the_sketch_has_them() -> None:
    red, blue = (220, 0, 0), (0, 0, 220)
    marks = (
        Disc(30.0, 30.0, 10.0, Style(red)), Stadium(100.0, 30.0, 40.0, 20.0, Style(blue)),
        Line(((10.0, 80.0), (110.0, 80.0)), Style(None, red, 4.0)), Hatching(blue, 2.0, (((10.0, 60.0), (110.0, 60.0)),)),
        Disc(150.0, 70.0, 12.0, Style(None, blue, 2.0, 4.0)), Text(20.0, 95.0, "MMMM", 12.0, red),
    )  # fmt: skip
    image = Image.open(io.BytesIO(png(Sketch(180.0, 100.0, marks, "t")))).convert("RGB")

    def near(x: float, y: float, colour: tuple[int, int, int]) -> bool:
        return all(abs(one - two) < 16 for one, two in zip(image.getpixel((2 * x, 2 * y)), colour, strict=True))

    white = (255, 255, 255)
    assert near(30, 30, red)
    assert near(30, 39, red)  # 9 of 10 from the middle
    assert near(30, 42, white)
    assert near(82, 30, blue)  # the stadium from 80 to 120
    assert near(81, 22, white)  # outside its round end
    assert near(60, 80, red)
    assert near(60, 60, blue)
    assert near(150, 70, white)  # a dashed circle is empty


def test_cables_are_to_scale_with_their_bore() -> None:
    # a bore of 60 mm with cables of 5 mm, each with 2.5 mm² of metal, which is 1.784 mm thick
    sketch = sketch_of(section([lane(1, 60.0, [bundle("L", 4)], kind="round")], CarrierKind.CONDUIT))
    discs = [mark for mark in sketch.marks if isinstance(mark, Disc)]
    bore = discs[0].radius
    radii = sorted(round(disc.radius / bore * 30.0, 3) for disc in discs)
    assert radii.count(2.5) == 4
    assert radii.count(0.892) == 4


def test_what_the_drawing_shows_is_told_compartment_by_compartment() -> None:
    view = section([lane(1, 50.0, [bundle("A", 3)]), lane(2, 50.0, [])])
    assert told(view) == (
        "steel trunking. Compartment 1: A, 3 × h07v-u-2.5, 5 mm. "
        "The fill of compartment 1 passes: 30 % of the area inside is used, the limit is 45 %. Compartment 2: no cables. "
        "The fill of compartment 2 passes: 30 % of the area inside is used, the limit is 45 %."
    )


def test_where_it_is_not_known_what_lies_there_it_is_not_said_that_nothing_does() -> None:
    open_fill = verdict(Outcome.UNKNOWN, 0.0, 0.45, "no circuits are known")
    view = section([lane(1, 50.0, [], open_fill), lane(2, 50.0, [])])
    assert "Compartment 1: no cables known." in told(view)
    assert "Compartment 1: no cables are known to lie here." in notes(view)
    assert "Compartment 2: no cables lie here." in notes(view)


def test_compartments_that_are_drawn_alike_are_named_together() -> None:
    view = section([lane(1, 50.0, [bundle("A", 3)]), lane(2, 50.0, [bundle("B", 3)]), lane(3, 50.0, [])])
    shown = notes(replace(view, lanes=(*view.lanes[:2], replace(view.lanes[2], way=""))))
    assert "Compartments 1, 2: Drawn as best found." in shown


def test_a_conduit_isnt_drawn_with_corners() -> None:
    view = section([lane(1, 40.0, [bundle("A", 2)], kind="round")], CarrierKind.CONDUIT)
    assert isinstance(view.lanes[0].inside, Round)
    assert any(isinstance(mark, Disc) and mark.radius > 100.0 for mark in sketch_of(view).marks)
