"""A verdict that rests on a guess says so wherever its reason is shown."""

import csv
import io
from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.model import Carrier, CarrierKind, Circuit, Condition, Confidence, Section
from checker.report.csv_files import routes_csv, segments_csv
from checker.report.html import report_html
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, installation, outlet

LOW = Confidence.LOW
GUESSED = replace(STEEL_50, source="width: name; height: name", confidence=LOW)
LOAD: dict[str, float | str] = {"design_current_a": 8.0, "device_rating_a": 10.0, "loaded_conductors": 2}


def checked(one: Carrier, *circuits: Circuit) -> Result:
    plugins = load_plugins()
    outlets = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (3000.0, 200.0, 0.0)))
    return check_installation(installation(one, *circuits, *outlets), plugins.codes["bs-7671"], plugins)


def trunking(section: Section = STEEL_50, **changes: object) -> Carrier:
    return replace(carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), section), **changes)  # type: ignore[arg-type]


def cables(count: int | None) -> Circuit:
    """So many of 10 mm: 78.54 mm² each. The inside is 48 · 48 = 2304 mm², of which 45 % is 1036.8 mm²: 13 go in, 14 don't."""
    return circuit("C1", "DB", "S1", count=count, electrical=LOAD)


def reasons(result: Result) -> list[str]:
    """Wherever a reader meets the reason of the fill."""
    (finding,) = [row for row in result.findings if row.rule == "fill.compartment"]
    (row,) = csv.DictReader(io.StringIO(segments_csv(result).decode("utf-8")))
    return [finding.reason, result.compartments[0].reason, row["reason"], report_html(result).decode("utf-8")]


@pytest.mark.parametrize(("count", "verdict"), [(13, "pass"), (14, "fail")])
def test_a_pass_or_fail_on_a_guessed_size_says_on_what_it_rests(count: int, verdict: str) -> None:
    result = checked(trunking(GUESSED), cables(count))

    assert result.compartments[0].verdict == verdict
    for text in reasons(result):
        assert "45 %, if its size is right (low confidence: width: name; height: name)" in text


@pytest.mark.parametrize(("count", "verdict"), [(13, "pass"), (14, "fail")])
def test_so_does_one_on_a_guessed_kind(count: int, verdict: str) -> None:
    result = checked(trunking(kind_confidence=LOW, kind_source="a word in its name"), cables(count))

    assert result.compartments[0].verdict == verdict
    for text in reasons(result):
        assert "45 %, if its kind is trunking (low confidence: a word in its name)" in text


def test_both_guesses_are_said_and_a_guess_of_unknown_source_too() -> None:
    result = checked(trunking(replace(GUESSED, source=""), kind_confidence=LOW), cables(1))

    assert (
        "if its kind is trunking (low confidence) and its size is right (low confidence)"
        in result.compartments[0].reason
    )


@pytest.mark.parametrize("sure", [Confidence.MEDIUM, Confidence.HIGH])
def test_a_sound_reading_says_nothing_of_it(sure: Confidence) -> None:
    result = checked(trunking(replace(GUESSED, confidence=sure), kind_confidence=sure), cables(13))

    assert all("confidence" not in row.reason for row in (*result.findings, *result.compartments, *result.ratings))


def test_what_is_unknown_stays_unknown_and_rests_on_nothing() -> None:
    result = checked(trunking(GUESSED), cables(None))

    assert result.compartments[0].verdict == "unknown"
    (finding,) = [row for row in result.findings if row.rule == "fill.compartment"]
    assert "confidence" not in finding.reason


@pytest.mark.parametrize(("device", "verdict"), [(10.0, "pass"), (40.0, "fail")])
def test_a_rating_names_the_guessed_lengths_on_its_way(device: float, verdict: str) -> None:
    # 2.5 mm² in PVC alone in a trunking, method B1, two loaded: 24 A (IEC 60364-5-52 Table B.52.2)
    wire = replace(cables(2), electrical=LOAD | {"device_rating_a": device})
    result = checked(trunking(kind_confidence=LOW), wire)

    (row,) = csv.DictReader(io.StringIO(routes_csv(result).decode("utf-8")))
    assert row["verdict"] == verdict
    assert row["reason"].endswith("; the kind or size of T1 on its way is of low confidence")


def test_a_rating_names_few_of_many_guessed_lengths() -> None:
    plugins = load_plugins()
    parts = [
        replace(carrier(f"T{n}", (1000.0 * n, 0.0, 0.0), (1000.0 * n + 1000.0, 0.0, 0.0), GUESSED)) for n in range(6)
    ]
    outlets = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (6000.0, 200.0, 0.0)))
    result = check_installation(installation(*parts, cables(2), *outlets), plugins.codes["bs-7671"], plugins)

    assert len(result.circuits[0].carriers) == 6
    assert result.ratings[0].reason.endswith(
        "; the kind or size of T0, T1, T2, T3 and 2 more lengths on its way is of low confidence"
    )


def test_the_row_of_a_carrier_says_how_sure_and_nothing_of_what_is_not_known() -> None:
    sure = trunking(
        GUESSED, kind_confidence=Confidence.MEDIUM, kind_source="its type's class", condition=Condition.EXISTING
    )
    (row,) = checked(sure, cables(1)).carriers
    (bare,) = checked(trunking(Section(), kind=CarrierKind.UNKNOWN), cables(1)).carriers

    assert (row.kind_source, row.kind_confidence, row.dimension_confidence, row.condition) == (
        "its type's class", "medium", "low", "existing",
    )  # fmt: skip
    assert (bare.kind_confidence, bare.dimension_confidence, bare.condition) == ("", "", "")
