"""The compiler is a help only: never loaded before something is packed, and never seen in an answer."""

import hashlib
import subprocess
import sys
from pathlib import Path

import pytest

from checker.section import compiled
from checker.section.laying import as_laid
from checker.section.packing import Effort, pack, smallest
from checker.section.prepared import Prepared, prepare
from checker.section.searching import Budget, search
from checker.section.shapes import Body, Box, Polygon, Round, circle

HERE = Path(__file__).parents[2]
MIXED = [circle(d) for d in (12.0, 9.5, 7.1, 12.0, 6.3, 5.0, 9.5, 8.0)] + [Body(13, 5), Body(6, 11)]
L_SHAPE = Polygon(((0, 0), (40, 0), (40, 20), (20, 20), (20, 40), (0, 40)))
ASKED = [
    prepare(Round(40), [circle(10)] * 9),
    prepare(Box(35, 35), MIXED),
    prepare(Round(40), MIXED),
    prepare(L_SHAPE, MIXED),
    prepare(Polygon(((0, 0), (60, 0), (30, 50))), MIXED),
]


def _answers() -> str:
    """Everything that is asked in one process, as text with all digits."""
    laid = as_laid(Box(60, 60), MIXED, seed=3, trials=3)
    packings = [pack(inside, MIXED, effort=Effort.USUAL) for inside in (Box(31, 31), Round(36), L_SHAPE)]
    return repr((packings, smallest(Round, [circle(5)] * 6, effort=Effort.USUAL), laid))


@pytest.mark.parametrize("asked", ASKED, ids=["ring", "box", "round", "l-shape", "triangle"])
def test_compiled_and_plain_find_the_same_bit_for_bit(asked: Prepared) -> None:
    pytest.importorskip("numba")
    fast, plain = compiled.kernels(), compiled.plain()
    assert fast is not plain
    budget = Budget(starts=4, kept=1, hops=6, patience=6)
    one, other = (search(asked, kernels, 1e-7, 10.0, budget) for kernels in (fast, plain))
    assert one.scale == other.scale
    assert [float(figure) for figure in one.z] == list(other.z)
    assert one.upright == other.upright


def _python(code: str) -> str:
    done = subprocess.run(  # noqa: S603 - our own code
        [sys.executable, "-W", "error", "-c", code], cwd=HERE, capture_output=True, text=True, check=True, timeout=250
    )
    assert done.stderr == ""
    return done.stdout.strip()


_DIGEST = "import hashlib; from tests.section.test_packing_compiled import _answers; print(hashlib.sha256(_answers().encode()).hexdigest())"


def test_without_the_compiler_a_process_answers_the_same() -> None:
    blocked = _python(f"import sys; sys.modules['numba'] = None; sys.path.insert(0, '.'); {_DIGEST}")
    assert blocked == hashlib.sha256(_answers().encode()).hexdigest()


def test_nothing_is_loaded_before_something_is_packed() -> None:
    loaded = _python(
        "import sys; import checker.section.packing, checker.section.laying;"
        "print([name for name in ('numba', 'llvmlite', 'numpy', 'scipy') if name in sys.modules])"
    )
    assert loaded == "[]"


def test_where_nothing_can_be_kept_it_works_silently(tmp_path: Path) -> None:
    pytest.importorskip("numba")
    nowhere = tmp_path / "a file"
    nowhere.write_text("", encoding="utf-8")
    code = (
        f"import os; os.environ['NUMBA_CACHE_DIR'] = {str(nowhere / 'in it')!r}\n"
        "from checker.section import compiled\n"
        "print(compiled.kernels().gap(3.0, 4.0, 0.0, 0.0))"
    )
    assert _python(code) == "5.0"


def test_compiler_that_fails_to_load_is_done_without(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "numba", None)
    compiled.kernels.cache_clear()
    try:
        assert compiled.kernels() is compiled.plain()
    finally:
        compiled.kernels.cache_clear()
