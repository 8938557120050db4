import io
import math
import time
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops

from checker.report import scene
from checker.report.callouts import callouts
from checker.report.canvas import INK, Canvas, legible, plain, shortened, text_width, wrapped
from checker.report.gauge import Gauge, level
from checker.report.projection import NEAR_MM, View, before_eye
from checker.report.scene import FAILING
from checker.report.snapshot import Gallery
from checker.result.camera import corners
from checker.result.tables import Result, Topic
from tests.report.results import box_mm, carrier, compartment, finding, small_result, topic

#: Where the model and where the section is drawn, in pixels: left, top, right, bottom.
SCENE = (0, 66, 779, 640)
SECTION = (790, 120, 1200, 330)
FIGURES = (790, 330, 1200, 400)


def picture(result: Result, of: Topic | None = None) -> Image.Image:
    return Image.open(io.BytesIO(Gallery(result).snapshot(of or result.topics[0]))).convert("RGB")


def like(image: Image.Image, colour: tuple[int, int, int], tolerance: int = 60) -> int:
    """How many pixels are nearly of a colour."""
    flat = Image.new("RGB", image.size, colour)
    channels = ImageChops.difference(image, flat).split()
    worst = ImageChops.lighter(ImageChops.lighter(channels[0], channels[1]), channels[2])
    return sum(worst.histogram()[:tolerance])


def differs(one: Image.Image, two: Image.Image, box: tuple[int, int, int, int]) -> bool:
    return ImageChops.difference(one.crop(box), two.crop(box)).getbbox() is not None


def test_it_is_a_png_of_1200_by_675_pixels_with_nothing_but_pixels_in_it() -> None:
    result = small_result()

    image = Image.open(io.BytesIO(Gallery(result).snapshot(result.topics[0])))

    assert (image.format, image.size, image.info) == ("PNG", (1200, 675), {})


def test_the_same_topic_gives_the_same_bytes() -> None:
    result = small_result()

    assert Gallery(result).snapshot(result.topics[1]) == Gallery(result).snapshot(result.topics[1])


def test_the_carriers_of_the_topic_stand_out_and_others_do_not() -> None:
    result = small_result()
    bare = replace(result.topics[0], carriers=(result.carriers[4].key,))  # the same view, another carrier marked

    marked, other = picture(result).crop(SCENE), picture(result, bare).crop(SCENE)

    assert like(marked, FAILING) > 3 * like(other, FAILING)
    assert like(marked, INK) > 1000  # bold dark outlines and labels, to be seen in greyscale


def test_the_marked_carriers_are_where_the_camera_sees_them() -> None:
    result = small_result()
    camera = result.topics[0].camera
    assert camera is not None
    view = View(camera, 780, 611)
    image = picture(result)
    for row in result.carriers[:2]:
        ends = [view.pixel(view.seen(point)) for point in corners(*row.boxes)]
        x = sum(point[0] for point in ends) / 8
        y = sum(point[1] for point in ends) / 8
        around = image.crop((round(x) - 16, round(y) + 64 - 16, round(x) + 16, round(y) + 64 + 16))
        assert like(around, FAILING) > 50


def test_everything_the_camera_was_fitted_to_is_in_the_picture() -> None:
    for one in small_result().topics:
        rows = {row.key: row for row in small_result().carriers}
        assert one.camera is not None
        view = View(one.camera, 780, 611)
        for key in one.carriers:
            for point in corners(*rows[key].boxes):
                x, y = view.pixel(view.seen(point))
                assert 0 < x < 780
                assert 0 < y < 611


def test_what_is_around_is_drawn_and_what_is_far_away_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    result = small_result()
    near = replace(result, surroundings=())
    far = replace(
        result, surroundings=(box_mm((50_000.0, 80_000.0, -80_000.0), (30_000.0, 0.0, 0.0), 500.0, 40_000.0),)
    )

    assert differs(picture(result), picture(near), SCENE)
    assert not differs(picture(far), picture(near), SCENE)
    monkeypatch.setattr(scene, "REACH_MM", 500_000.0)
    assert differs(picture(far), picture(near), SCENE)  # it would be in view


def test_a_box_around_the_camera_does_not_hide_the_topic() -> None:
    result = small_result()
    room = box_mm((-50_000.0, -50_000.0, -50_000.0), (100_000.0, 0.0, 0.0), 100_000.0, 100_000.0)

    assert like(picture(replace(result, surroundings=(room,))).crop(SCENE), FAILING) == pytest.approx(
        like(picture(result).crop(SCENE), FAILING), rel=0.1
    )


def test_without_a_shape_the_left_says_so_and_the_right_is_there() -> None:
    row = carrier(1, None)
    part = compartment(row, 1, (97.6, 47.6), 0.6)
    issue = topic([row], [finding(row, part)])
    result = replace(small_result(), carriers=(row,), compartments=(part,), findings=(finding(row, part),))

    image = picture(result, issue)

    assert like(image.crop(SCENE), FAILING) == 0
    assert like(image.crop(SECTION), INK) > 500


def test_the_gauge_follows_the_fill_and_the_limit() -> None:
    row = carrier(1, None)
    images = []
    for fill, limit in ((0.5, 0.45), (0.6, 0.45), (0.6, 0.3), (None, 0.45)):
        part = compartment(row, 1, (97.6, 47.6), fill, limit)
        found = finding(row, part)
        result = replace(small_result(), carriers=(row,), compartments=(part,), findings=(found,))
        images.append(picture(result, topic([row], [found])))

    assert differs(images[0], images[1], SECTION)
    assert differs(images[1], images[2], SECTION)
    assert differs(images[0], images[1], FIGURES)  # the numbers
    over = [like(image.crop(SECTION), (200, 60, 24)) for image in images]
    assert over[0] < over[1] < over[2]  # what is over the limit is crossed in red
    assert over[3] == 0  # nothing is drawn where nothing is known


def test_a_gauge_of_width_fills_sideways() -> None:
    row = carrier(1, None, "tray", (300.0, 60.0))
    upright = compartment(row, 1, (300.0, 60.0), 0.5, None)
    sideways = replace(upright, measure="width")

    parts = [Gauge(part, (100.0, 50.0, 300.0, 90.0), is_round=False).between(0.0, 0.5) for part in (upright, sideways)]

    assert parts == [(100.0, 70.0, 300.0, 90.0), (100.0, 50.0, 200.0, 90.0)]


def test_a_gauge_that_is_more_than_full_shows_its_limit_within() -> None:
    part = compartment(carrier(1, None), 1, (100.0, 50.0), 1.25, 1.0)

    gauge = Gauge(part, (0.0, 0.0, 100.0, 50.0), is_round=False)

    assert (gauge.at(1.25), gauge.at(1.0)) == (0.0, pytest.approx(10.0))  # 1 / 1.25 of the height is left below


def test_many_compartments_an_unknown_size_and_no_carrier_are_drawn_too() -> None:
    row = replace(carrier(1, None), width_mm=None, height_mm=None)
    many = [compartment(row, number, (30.0, 50.0), 0.05 * number) for number in range(1, 13)]
    unsized = [replace(compartment(row, 1, (1.0, 1.0), 0.5), inside_width_mm=None, inside_height_mm=None)]
    found = finding(row, many[11])
    images = []
    for parts in (many, unsized, []):
        result = replace(small_result(), carriers=(row,), compartments=tuple(parts), findings=(found,))
        images.append(picture(result, topic([row], [found])))
    images.append(picture(replace(small_result(), carriers=(), findings=()), topic([row], [found])))

    assert all(differs(one, two, (790, 66, 1200, 675)) for one, two in pairwise(images))


@given(st.floats(0.0, 1.0))
def test_a_circle_is_filled_to_the_level_below_which_its_share_lies(share: float) -> None:
    height = level(share, is_round=True)

    # area of the segment below a level, integrated over strips of a circle with diameter 1
    steps = 2000
    below = sum(2.0 * math.sqrt(max(0.25 - (0.5 - (k + 0.5) / steps) ** 2, 0.0)) for k in range(round(height * steps)))
    assert below / steps / (math.pi / 4.0) == pytest.approx(share, abs=2e-3)


def test_levels_of_a_rectangle_are_the_shares_and_stay_in_it() -> None:
    assert level(0.3, is_round=False) == 0.3
    assert level(1.7, is_round=False) == 1.0
    assert level(0.5, is_round=True) == pytest.approx(0.5)


def test_a_polygon_is_cut_at_the_near_plane() -> None:
    near, far = NEAR_MM - 10.0, NEAR_MM + 10.0
    square = [(-10.0, 0.0, near), (10.0, 0.0, near), (10.0, 0.0, far), (-10.0, 0.0, far)]

    cut = before_eye(square)

    assert sorted(cut) == [(-10.0, 0.0, NEAR_MM), (-10.0, 0.0, far), (10.0, 0.0, NEAR_MM), (10.0, 0.0, far)]
    assert before_eye([(x, y, -1.0) for x, y, _ in square]) == []


def test_a_box_shows_at_most_three_of_its_sides() -> None:
    row = small_result().carriers[0]
    camera = small_result().topics[0].camera
    assert camera is not None

    assert len(list(View(camera, 780, 611).sides(*row.boxes))) == 3


def test_labels_are_at_most_six_and_only_where_there_is_room() -> None:
    points = [(100.0 + 3.0 * number, 200.0) for number in range(9)]
    labels = [(f"T-{number:03}", point) for number, point in enumerate(points)]

    assert callouts(Canvas(780, 600), labels, points, (0.0, 0.0, 780.0, 600.0)) == 6
    assert callouts(Canvas(780, 600), labels, points, (0.0, 0.0, 40.0, 600.0)) == 0


def test_texts_are_shortened_to_a_width_and_wrapped_to_lines() -> None:
    text = "one two three four five six seven eight nine ten"

    assert shortened(text, 15, 1000.0) == text
    assert text_width(shortened(text, 15, 100.0), 15) <= 100.0
    assert shortened(text, 15, 100.0).endswith("…")
    lines = wrapped(text, 15, 90.0, 3)
    assert len(lines) == 3
    assert lines[2].endswith("…")
    assert all(text_width(line, 15) <= 90.0 for line in lines)
    assert " ".join(wrapped(text, 15, 120.0, 9)) == text


def test_a_figure_and_its_unit_stay_on_one_line() -> None:
    text = "3205.9 mm2 of 9700 mm2 is (33.1 %), over 32 %"
    widths = range(100, 400, 7)
    assert all(" ".join(wrapped(text, 15, float(width), 20)) == text for width in widths)
    starts = {line.split()[0] for width in widths for line in wrapped(text, 15, float(width), 20)}
    assert not starts & {"mm2", "%", "%),"}


def test_a_name_of_any_length_is_shortened_at_once() -> None:
    before = time.process_time()
    short = shortened("i" * 200_000, 15, 300.0)
    assert time.process_time() - before < 0.5  # letter by letter it would take minutes
    assert 290.0 < text_width(short, 15) <= 300.0
    assert shortened("WWWW", 15, 1.0) == "…"


def test_letters_that_the_font_lacks_are_written_otherwise() -> None:
    assert plain("Ø25 × 3 – größer → é\n²") == "dia. 25 x 3 - grosser -> e 2"
    assert plain("日本") == "??"
    assert legible("日本 T-1", "otherwise") == "日本 T-1"
    assert legible("日本語", "otherwise") == "otherwise"
