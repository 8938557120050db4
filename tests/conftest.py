from pathlib import Path

import pytest
from hypothesis import settings

from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.result.tables import Result

# how long an example takes says nothing on a shared machine; benchmarks look at time
settings.register_profile("wayroom", deadline=None)
settings.load_profile("wayroom")

ROOT = Path(__file__).parent.parent
SHARED = ROOT.parent / "shared"


@pytest.fixture(scope="session")
def vet_practice() -> Path:
    return ROOT / "sample_models" / "vet_practice"


@pytest.fixture(scope="session")
def vet_result(vet_practice: Path) -> Result:
    return check(Request(find_sources([vet_practice], None)))


@pytest.fixture(scope="session")
def shared() -> Path:
    if not SHARED.is_dir():
        pytest.skip("the folder of shared material isn't beside the project")
    return SHARED
