"""A whole check of a trunking that passes a rated wall: the trunking is of 50 × 50 mm with walls of 1 mm, so 48 · 48 = 2304 mm² inside.

Fourteen cables of 9.0 mm take 14 · π/4 · 9² = 890.64 mm², which is 38.66 %: within the 45 % of the guidance for trunking.
"""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.errors import ProjectFileError
from checker.read.sources import find_sources
from checker.result.tables import FindingRow, Result
from tests.read.houses import House

SCHEDULE = "circuit,from,to,service,diameter_mm,count\nC1,DB,S1,power,9.0,14\n"
LIMIT = '[limits."fill.seal"]\nspace_factor = {}\nreason = "the approval of the seals"\n'
HEAD = '[project]\ncode = "{}"\n'


def checked(folder: Path, project: str, wall: House | None = None) -> Result:
    """A board, two lengths of trunking of which the first passes the wall, and an outlet; the wall may be in a file of its own."""
    model = House()
    section = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    one = model.carrier("T1", (-3000.0, 0.0, 2500.0), (1000.0, 0.0, 2500.0), section)
    two = model.carrier("T2", (1000.0, 0.0, 2500.0), (3000.0, 0.0, 2500.0), section)
    model.connect(one, two, (1000.0, 0.0, 2500.0))
    model.element("IfcElectricDistributionBoard", "DB", (-3000.0, 300.0, 2500.0))
    model.element("IfcOutlet", "S1", (3000.0, 200.0, 2500.0))
    if wall is None:
        model.wall("W1")
    paths = [model.write(folder / "services.ifc"), *([] if wall is None else [wall.write(folder / "building.ifc")])]
    (folder / "wayroom.toml").write_text(project, encoding="utf-8")
    (folder / "circuits.csv").write_text(SCHEDULE, encoding="utf-8")
    return check(Request(find_sources([*paths, folder / "wayroom.toml"], folder / "circuits.csv")))


def seals(result: Result) -> list[FindingRow]:
    return [finding for finding in result.findings if finding.rule == "fill.seal"]


@pytest.mark.parametrize("code", ["bs-7671", "iec-60364", "nfpa-70"])
@pytest.mark.parametrize(("limit", "verdict"), [(0.38, "fail"), (0.39, "pass")])
def test_a_trunking_at_a_rated_wall_keeps_to_the_project_s_limit(
    tmp_path: Path, code: str, limit: float, verdict: str
) -> None:
    result = checked(tmp_path, HEAD.format(code) + LIMIT.format(limit))
    (finding,) = seals(result)
    names = {row.key: row.place.tag for row in result.carriers}
    assert [names[key] for key in finding.carriers] == ["T1"]  # T2 ends before the wall
    assert (finding.verdict, finding.limit, finding.circuits, finding.at) == (
        verdict,
        limit,
        ("C1",),
        "T1 at wall W1 (EI 60)",
    )
    assert finding.value == pytest.approx(0.38656, abs=5e-6)
    assert "the approval of the seals" in finding.source


def test_without_a_limit_the_answer_is_unknown_and_says_where_to_give_it(tmp_path: Path) -> None:
    (finding,) = seals(checked(tmp_path, HEAD.format("bs-7671")))
    assert finding.verdict == "unknown"
    assert finding.limit is None
    assert finding.value == pytest.approx(0.38656, abs=5e-6)
    assert 'wayroom.toml, [limits."fill.seal"]' in finding.reason


def test_the_wall_may_be_in_the_architect_s_file(tmp_path: Path) -> None:
    building = House()
    for _ in range(9):  # other GlobalIds than the services have
        building.wall("unrated", None, at=(0.0, 50_000.0, 0.0))
    building.wall("W1")
    result = checked(tmp_path, HEAD.format("bs-7671") + LIMIT.format(0.3), building)
    assert [finding.verdict for finding in seals(result)] == ["fail"]
    (problem,) = [problem for problem in result.problems if "no fire rating" in problem.what]
    assert (problem.where, problem.what) == ("building.ifc", "9 walls carry no fire rating")


def test_a_limit_that_is_no_share_is_refused_and_a_looser_small_section_too(tmp_path: Path) -> None:
    for limit in ("space_factor = 60", "unsealed_mm2 = 900"):
        project = HEAD.format("iec-60364") + f'[limits."fill.seal"]\n{limit}\nreason = "so"\n'
        with pytest.raises(ProjectFileError):
            checked(tmp_path, project)
