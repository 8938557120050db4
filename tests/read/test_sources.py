"""What the command line names."""

import os
from pathlib import Path

import pytest

from checker.errors import InputError
from checker.read.sources import find_sources


@pytest.mark.parametrize("ending", ["ifc", "csv"])
def test_a_name_that_no_file_of_ours_could_hold_is_refused_by_name(tmp_path: Path, ending: str) -> None:
    odd, model = tmp_path / os.fsdecode(f"a\udcff.{ending}".encode("utf-8", "surrogateescape")), tmp_path / "m.ifc"
    try:
        odd.touch()
    except OSError:
        pytest.skip("this system has no such names")
    model.touch()
    with pytest.raises(InputError, match="its name has bytes that are no UTF-8"):
        find_sources([odd], None) if ending == "ifc" else find_sources([model], odd)
