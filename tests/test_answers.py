"""What wasn't asked is said: by rules of which there is no limit, and by limits for which nothing was found."""

import pytest

from checker.checking import check_installation
from checker.errors import ProjectFileError
from checker.rule import Basis, Limit
from checker.rule.code import Code
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from tests.installations import carrier, circuit, installation, outlet

PLUGINS = load_plugins()
SEAL = {"fill.seal": {"space_factor": 0.3, "reason": "the product's approval"}}


def code_with(wanted: dict[str, dict[str, float | str]]) -> Code:
    return tightened(PLUGINS.codes["bs-7671"], wanted, "wayroom.toml", PLUGINS.rules)


def told(code: Code) -> list[str]:
    start, end = (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0)
    supply = circuit("P1", "DB", "S1", area_of=4.0)
    inst = installation(carrier("T1", start, end), outlet("DB", start), outlet("S1", end), supply)
    return [problem.where for problem in check_installation(inst, code, PLUGINS).problems]


def test_a_limit_of_the_projects_that_finds_nothing_to_ask_about_is_told() -> None:
    where = 'wayroom.toml, [limits."fill.seal"]'
    assert where in told(code_with(SEAL))
    assert where not in told(code_with({}))


def test_one_that_is_asked_about_something_is_not() -> None:
    own = code_with({"fill.compartment": {"space_factor": 0.3, "reason": "later cables"}})
    limit = getattr(own.limits["fill.compartment"], "space_factor")  # noqa: B009 - of a rule's own class
    assert isinstance(limit, Limit)
    assert limit.basis is Basis.PROJECT
    assert not any("fill.compartment" in where for where in told(own))


def test_a_window_whose_end_comes_before_its_beginning_is_refused() -> None:
    with pytest.raises(ProjectFileError, match=r"from_ratio 3\.5 is above to_ratio 3"):
        code_with({"fill.jam": {"from_ratio": 3.5, "to_ratio": 3.0, "reason": "the maker's"}})


def test_of_what_is_wanted_at_the_least_nothing_may_be_wanted() -> None:
    own = {"access.closed": {"space_factor": 0.4, "spare_share": 0.0, "reason": "nothing comes later"}}
    assert code_with(own).limits["access.closed"] != PLUGINS.codes["bs-7671"].limits["access.closed"]
    with pytest.raises(ProjectFileError, match="isn't a number above 0"):
        code_with({"access.closed": {"space_factor": 0.0, "reason": "nothing may lie there"}})
