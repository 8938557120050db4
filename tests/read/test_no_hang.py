"""Loops, long chains and little text that unfolds into much: each ends with a result, and the work grows as the file does.

Work is counted in calls, so that it is the same on every machine. A run that makes far too many is broken off by the counter itself; the
timer that ends the whole test run is there only for what never comes back from the parser.
"""

import faulthandler
import sys
from collections.abc import Iterator
from pathlib import Path
from types import FrameType

import pytest

from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.result.tables import Result
from tests.spellings.hostile import Builder, write
from tests.spellings.hostile_data import DATA
from tests.spellings.hostile_places import PLACES
from tests.spellings.hostile_shapes import SHAPES

CASES = {**PLACES, **SHAPES, **DATA}
#: Twice as much trouble may be this much more work: twice, and something for what is sorted.
AS_THE_FILE = 2.6
#: Size at which growth is measured; of a crowd one beyond which nothing in it is looked at any more, of sets one at which it shows.
SIZE, SIZES = 120, {"all at one place": 600, "a set that all share": 400}
#: Sizes that would end a careless process.
LARGE = {
    "long chain": 8_000, "placement loop": 8_000, "a port with many links": 1_500, "deep booleans": 4_000,
    "a loop of many points": 30_000, "an outline of many points": 50_000, "deep maps": 2_000, "deep curves": 5_000,
    "the models unit is a loop": 10_000,
}  # fmt: skip
#: What has to be said: in which element, and a word of it.
SAID = {
    "placement loop": [("M0", "no usable placement")],
    "placements of themselves": [("M0", "no usable placement")],
    "maps of themselves": [("M0", "size isn't known")],
    "doubling maps": [("M0", "size isn't known")],
    "curves of themselves": [("M0", "size isn't known"), ("M1", "size isn't known"), ("M2", "size isn't known")],
    "units of themselves": [("M0", "height isn't known"), ("M1", "height isn't known")],
    "all at one place": [("F0", "at one spot")],
}
#: No model needs more calls than this for one of its entities, and this for what every run does.
CALLS_AN_ENTITY, CALLS_OF_A_RUN = 400, 100_000
#: The first run imports what it needs besides.
CALLS_OF_THE_FIRST_RUN = 30_000_000
SECONDS = 300


class TooMuchError(BaseException):
    """A run made more calls than it may. No reader catches it."""


class Counter:
    """Counts calls while it is entered."""

    def __init__(self, most: int) -> None:
        self.count = 0
        self._most = most

    def __enter__(self) -> "Counter":
        sys.setprofile(self._tell)
        return self

    def __exit__(self, *_: object) -> None:
        sys.setprofile(None)

    def _tell(self, _frame: FrameType, event: str, _argument: object) -> None:
        if event in {"call", "c_call"}:
            self.count += 1
            if self.count > self._most:
                sys.setprofile(None)
                raise TooMuchError(f"more than {self._most} calls")


@pytest.fixture(autouse=True)
def never_for_ever() -> Iterator[None]:
    faulthandler.dump_traceback_later(SECONDS, exit=True)
    yield
    faulthandler.cancel_dump_traceback_later()


def counted(folder: Path, build: Builder, size: int, most: int = CALLS_OF_A_RUN) -> tuple[int, int, Result]:
    """Calls that a run makes, entities of its model, and its result. ``most``: calls that it may make beside those for entities."""
    where, entities = write(folder, build, size)
    sources = find_sources([where], None)
    with Counter(most + CALLS_AN_ENTITY * entities) as counter:
        result = check(Request(sources))
    return counter.count, entities, result


def nothing(_model: object, _size: int) -> None:
    """No trouble."""


@pytest.fixture(scope="module", autouse=True)
def calls_of_a_run(tmp_path_factory: pytest.TempPathFactory) -> int:
    """What a run of the sound part alone takes, once everything is imported."""
    folder = tmp_path_factory.mktemp("sound")
    counted(folder / "first", nothing, 0, CALLS_OF_THE_FIRST_RUN)
    return counted(folder / "second", nothing, 0)[0]


@pytest.mark.parametrize("case", CASES)
def test_work_grows_as_the_file_does(tmp_path: Path, calls_of_a_run: int, case: str) -> None:
    size = SIZES.get(case, SIZE)
    once, entities, _ = counted(tmp_path / "once", CASES[case], size)
    twice, more_entities, result = counted(tmp_path / "twice", CASES[case], 2 * size)
    assert_sound(result, case)
    assert more_entities - entities >= size, "the second file isn't larger by as much as it should be"
    assert twice - calls_of_a_run < max(AS_THE_FILE * (once - calls_of_a_run), CALLS_AN_ENTITY)


@pytest.mark.parametrize("case", LARGE)
def test_a_large_one_ends_with_a_result(tmp_path: Path, case: str) -> None:
    _, _, result = counted(tmp_path / "large", CASES[case], LARGE[case])
    assert_sound(result, case)


def assert_sound(result: Result, case: str) -> None:
    """What isn't in trouble is read as ever, and what can't be read is said."""
    sound = next(row for row in result.carriers if row.place.tag == "T1")
    if case == "the models unit is a loop":  # metres are assumed: then it is four kilometres long, and that is said
        assert any("unit" in problem.what for problem in result.problems)
    else:
        assert sound.length_m == pytest.approx(4.0)
        assert (sound.width_mm, sound.height_mm) == (50.0, 50.0)
    assert [row.circuit for row in result.circuits] == ["K1"]
    for tag, word in SAID.get(case, ()):
        assert any(tag in problem.where and word in problem.what for problem in result.problems), (tag, word)
