"""Files that other people's programs wrote go through, and each carrier segment in them is accounted for.

What is in each file was read off the file itself (its carrier segments, by hand), not taken from the program.
"""

import csv
import json
from pathlib import Path

import pytest

from checker import cli

# file → GlobalIds of its carrier segments
SEGMENTS: dict[str, set[str]] = {
    "435--cableCarrier--abort--augmented.ifc": {"2cJ4RN_51ETxwcjneFEaXt"},
    "All_Categories_02.ifc": set(),  # cable tray and conduit fittings only
    "Duplex_Electrical_20121207.ifc": set(),  # outlets, switches and boards only
    "UT_PCC_2.ifc": set(),  # cables of a railway, no carriers; IFC4X3_RC3
    "WirePolycurve.ifc": {"02k4zojRP6Ug20ZAhglE8l"},
    "gherkin_fail-ifc102-ifc4x3_deprecated_enum_value_IfcCableCarrierFitting_enum_type_value_CROSS.ifc": set(),  # one fitting
    "gherkin_fail-sys001-scenario02-sink_source_sink.ifc": set(),  # one cable
    "gherkin_pass-sys001-sink_source.ifc": set(),  # one cable
}

pytestmark = pytest.mark.corpus


def test_every_file_there_is_looked_at(shared: Path) -> None:
    assert {path.name for path in (shared / "real_models").glob("*.ifc")} == SEGMENTS.keys()


@pytest.mark.parametrize("name", SEGMENTS)
def test_each_segment_is_a_row_and_is_unknown_with_a_reason(
    shared: Path, tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        cli.main(["check", str(shared / "real_models" / name), "--code", "bs-7671", "--out", str(tmp_path)])
    assert ended.value.code == 3  # no schedule, so nothing can pass or fail
    assert "Traceback" not in "".join(capsys.readouterr())
    with (tmp_path / "segments.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert {row["segment"] for row in rows} == SEGMENTS[name]
    assert all(row["verdict"] == "unknown" and row["reason"] for row in rows)
    counts = json.loads((tmp_path / "result.json").read_text(encoding="utf-8"))["counts"]
    assert counts["carriers_checked"] + counts["carriers_unknown"] == counts["carriers_read"] == len(SEGMENTS[name])
