"""Asks each rule its cases, as the distribution's author would: prints how many held, and ends with an error where one doesn't.

python ask.py FOLDER
"""

import sys
from pathlib import Path

from checker.testing import not_shown, read_cases, run_case

held = 0
for path in sorted(Path(sys.argv[1]).glob("*.toml")):
    cases = list(read_cases(path))
    for case in cases:
        run_case(case)
    missing = not_shown(cases)
    if missing:
        sys.exit(f"{path.stem}: no case shows: {', '.join(missing)}")
    held += len(cases)
print(f"{held} cases hold")  # noqa: T201 - it is a script
