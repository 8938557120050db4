"""One ``wayroom check`` with its stages timed: ``python -m tests.benchmarks.stages WHERE --out FOLDER [--calls]``.

``--calls`` lists the functions of the checker and of the rules that take longest instead, with all that they call; that
makes everything slower, so the two are separate runs.
"""

import argparse
import cProfile
import itertools
import pstats
import sys
import time
from pathlib import Path

MOST_CALLS = 40
OURS = ("checker", "rules")


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Times the stages of a check.")
    parser.add_argument("where", type=Path)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--calls", action="store_true", help="list the calls that take longest")
    given = parser.parse_args()
    stamps = [("loading the command", *_now())]
    from checker.progress import Progress
    from checker.run import RunOptions, run

    def stamp(_: Progress, text: str) -> None:
        stamps.append((text, *_now()))

    Progress.stage = stamp  # what a run gets when it isn't on a terminal is a plain Progress
    options = RunOptions((given.where,), None, None, given.out, None, fresh=True, bcf="2.1", now=None)
    stamps.append(("rules, codes, tables, project file", *_now()))
    profiler = cProfile.Profile()
    if given.calls:
        profiler.enable()
    run(options, as_json=True)
    profiler.disable()
    stamps.append(("", *_now()))
    if given.calls:
        sys.stderr.write(calls(profiler))
        return
    lines = ["| stage | s | cpu s | share of cpu |", "| --- | --- | --- | --- |"]
    total = stamps[-1][2] - stamps[0][2]
    for (text, wall, cpu), (_, wall_end, cpu_end) in itertools.pairwise(stamps):
        lines.append(
            f"| {text} | {wall_end - wall:.2f} | {cpu_end - cpu:.2f} | {100 * (cpu_end - cpu) / total:.0f} % |"
        )
    sys.stderr.write("\n".join(lines) + "\n")


def _now() -> tuple[float, float]:
    return time.perf_counter(), time.process_time()


def calls(profiler: cProfile.Profile) -> str:
    """A table of our functions, the longest with all that they call first."""
    lines = ["| function | calls | with what it calls, s | own, s |", "| --- | --- | --- | --- |"]
    rows = []
    for (path, line, name), (_, count, own, cumulative, _) in pstats.Stats(profiler).stats.items():  # type: ignore[attr-defined]
        parts = Path(path).parts
        folder = next((part for part in parts if part in OURS), None)
        if folder is not None and "site-packages" not in parts:
            place = "/".join(parts[parts.index(folder) :])
            rows.append((cumulative, own, count, f"{place}:{line} {name}"))
    for cumulative, own, count, place in sorted(rows, reverse=True)[:MOST_CALLS]:
        lines.append(f"| {place} | {count} | {cumulative:.2f} | {own:.2f} |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    main()
