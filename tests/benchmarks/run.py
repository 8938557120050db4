"""Measures ``wayroom check`` against opening the file, whole process against whole process, alternating.

    python -m tests.benchmarks.run [--sizes 1000,10000,10000+60000] [--walls N] [--apart] [--repeat 5] [--profile]

A size is carriers, or carriers+walls. Prints a Markdown table: what README.md here says how to read.
"""

import argparse
import hashlib
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.benchmarks.measure import Measured, measure

ROOT = Path(__file__).parent.parent.parent
OPEN = "import sys, ifcopenshell; ifcopenshell.open(sys.argv[1])"
GENERATOR = ("building.py", "generate.py", "step.py", "walls.py")
#: Exit statuses of a check that did its work.
CHECKED = (0, 1, 3)
HEAD = (
    "| model | MB | open: s, cpu s, MB | check: s, cpu s, MB | check / open, wall | … cpu | … memory | pairs |\n"
    "| --- | --- | --- | --- | --- | --- | --- | --- |\n"
)


@dataclass(frozen=True, slots=True)
class Size:
    """What a model is to hold."""

    carriers: int
    walls: int
    apart: bool

    @property
    def label(self) -> str:
        """As in the table."""
        walls = f" + {self.walls:,} walls" if self.walls else ""
        return f"{self.carriers:,}{walls}{', zones apart' if self.apart else ''}"

    def model(self, folder: Path) -> Path:
        """The folder of the model; written once for each state of the generator."""
        sources = [Path(__file__).with_name(name) for name in GENERATOR]
        state = hashlib.sha256(b"".join(path.read_bytes() for path in sources)).hexdigest()
        place = folder / f"{self.carriers}-{self.walls}{'-apart' if self.apart else ''}-{state[:8]}"
        if not (place / "wayroom.toml").exists():  # which is written last
            arguments = ["--carriers", str(self.carriers), "--walls", str(self.walls), "--out", str(place)]
            _python("tests.benchmarks.generate", *arguments, *(["--apart"] if self.apart else []))
        return place


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Measures a check against opening the file.")
    parser.add_argument("--sizes", default="1000,10000", help="carriers, or carriers+walls, with commas between")
    parser.add_argument("--walls", type=int, default=0, help="walls beside each size that doesn't say how many")
    parser.add_argument("--apart", action="store_true", help="leave zones unjoined")
    parser.add_argument("--repeat", type=int, default=5, help="pairs of a check and an opening")
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "wayroom-benchmarks")
    parser.add_argument("--limit-s", type=float, default=360.0, help="a process is stopped after so long")
    parser.add_argument("--limit-gb", type=float, default=12.0, help="address space that a process may take")
    parser.add_argument("--profile", action="store_true", help="time the stages of a check, and its longest calls")
    given = parser.parse_args()
    sizes = []
    for text in given.sizes.split(","):
        carriers, _, walls = text.partition("+")
        sizes.append(Size(int(carriers), int(walls or given.walls), given.apart))
    sys.stdout.write(HEAD)
    for size in sizes:
        model = size.model(given.folder)
        sys.stdout.write(row(size, model, given.repeat, given.limit_s, given.limit_gb) + "\n")
        sys.stdout.flush()
    for size in sizes if given.profile else ():
        sys.stdout.write(f"\n{size.label}\n\n{stages(size.model(given.folder), given.folder)}\n")


def row(size: Size, model: Path, repeat: int, limit_s: float, limit_gb: float) -> str:
    """One line of the table: medians, and of ratios the median with the least and the most."""
    out = model.parent / f"{model.name}-out"
    check = [str(Path(sys.executable).parent / "wayroom"), "check", str(model), "--out", str(out), "--fresh"]
    open_ = [sys.executable, "-c", OPEN, str(model / "model.ifc")]
    measure(open_, accepted=(0,), limit_s=limit_s, limit_gb=limit_gb)  # not counted: it warms the file cache up
    megabytes = (model / "model.ifc").stat().st_size / 1e6
    opens, checks = [], []
    for _ in range(repeat):
        shutil.rmtree(out, ignore_errors=True)
        checks.append(measure(check, accepted=CHECKED, limit_s=limit_s, limit_gb=limit_gb))
        opens.append(measure(open_, accepted=(0,), limit_s=limit_s, limit_gb=limit_gb))
        failed = checks[-1].failed or opens[-1].failed
        if failed:
            return f"| {size.label} | {megabytes:.1f} | {_medians(opens)} | {_medians(checks)}: {failed} | | | | {len(opens)} |"
    pairs = list(zip(checks, opens, strict=True))
    ratios = (
        _spread([one.wall_s / other.wall_s for one, other in pairs]),
        _spread([one.cpu_s / other.cpu_s for one, other in pairs]),
        _spread([one.memory_mb / other.memory_mb for one, other in pairs]),
    )
    return f"| {size.label} | {megabytes:.1f} | {_medians(opens)} | {_medians(checks)} | {' | '.join(ratios)} | {len(pairs)} |"


def _medians(runs: list[Measured]) -> str:
    wall = statistics.median(run.wall_s for run in runs)
    cpu = statistics.median(run.cpu_s for run in runs)
    memory = statistics.median(run.memory_mb for run in runs)
    return f"{wall:.2f}, {cpu:.2f}, {memory:.0f}"


def _spread(ratios: list[float]) -> str:
    return f"{statistics.median(ratios):.2f} ({min(ratios):.2f}–{max(ratios):.2f})"


def stages(model: Path, folder: Path) -> str:
    """Where the time of one check goes: its stages, then, in a run of its own, its longest calls."""
    out = folder / f"{model.name}-out"
    plain = _python("tests.benchmarks.stages", str(model), "--out", str(out))
    return f"{plain}\n{_python('tests.benchmarks.stages', str(model), '--out', str(out), '--calls')}"


def _python(module: str, *arguments: str) -> str:
    """Runs one of our modules; gives what it wrote to standard error."""
    paths = os.pathsep.join(filter(None, (os.environ.get("PYTHONPATH"), str(ROOT))))
    command = [sys.executable, "-m", module, *arguments]
    done = subprocess.run(  # noqa: S603 - our own
        command, env={**os.environ, "PYTHONPATH": paths}, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True, check=False
    )  # fmt: skip
    if done.returncode:
        raise SystemExit(done.stderr)
    return done.stderr


if __name__ == "__main__":
    main()
