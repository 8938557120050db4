"""Runs a process and measures it: wall time, processor time, peak memory."""

import os
import resource
import subprocess
import sys
import threading
import time
from collections.abc import Collection, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Measured:
    """One process. ``cpu_s``: user and system time; ``memory_mb``: the most that was resident; ``failed``: why it doesn't count."""

    wall_s: float
    cpu_s: float
    memory_mb: float
    failed: str = ""


def measure(command: Sequence[str], *, accepted: Collection[int], limit_s: float, limit_gb: float) -> Measured:
    """Runs a command to its end, or to a limit of time or of address space.

    The kernel counts this process's own peak into a child's, since a child begins as its copy: so nothing large is
    imported here.

    Args:
        command: The program and its arguments.
        accepted: Exit statuses that mean that it did its work.
        limit_s: Seconds after which it is stopped.
        limit_gb: Address space that it may take.
    """
    began = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)  # noqa: S603 - our own
    most = int(limit_gb * 1e9)
    resource.prlimit(process.pid, resource.RLIMIT_AS, (most, most))
    stopped = threading.Event()

    def stop() -> None:
        stopped.set()
        process.kill()

    timer = threading.Timer(limit_s, stop)
    timer.start()
    errors = process.stderr.read().decode(errors="replace") if process.stderr is not None else ""
    _, status, usage = os.wait4(process.pid, 0)
    wall = time.perf_counter() - began
    timer.cancel()
    process.returncode = os.waitstatus_to_exitcode(status)
    failed = ""
    if stopped.is_set():
        failed = f"stopped after {limit_s:g} s"
    elif process.returncode not in accepted:
        last = errors.strip().rpartition("\n")[2]
        failed = f"ended with {process.returncode}: {last or 'no message'}"
    unit = 1e6 if sys.platform == "darwin" else 1e3  # bytes there, kilobytes elsewhere
    return Measured(wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / unit, failed)
