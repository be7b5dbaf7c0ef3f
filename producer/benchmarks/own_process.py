"""A print run in a process of its own: how long the first one takes, and how much memory."""

import json
import os
import resource
import subprocess
import sys
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import cast

from labels.rendering.blocks import Setting
from producer.benchmarks.label_runs import Kind, Side, run_of
from producer.benchmarks.timing import spent_ms

_ROOT = Path(__file__).resolve().parents[2]
_KB_PER_MB = 1024


@dataclass(frozen=True)
class Spent:
    """What a run took when nothing was loaded before it. peak_mb is of the whole process."""

    ms: float
    peak_mb: float
    size_kb: float


def spent_in_own_process(side: Side, kind: Kind, *, count: int, setting: Setting) -> Spent:
    """Start Python anew, print one run, and say what it took; loading the libraries counts."""
    order = {"side": side, "kind": kind, "count": count, "setting": asdict(setting)}
    done = subprocess.run(
        [sys.executable, "-m", "producer.benchmarks.own_process", json.dumps(order)],
        cwd=_ROOT, env={**os.environ}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        raise RuntimeError(f"The print run in its own process failed:\n{done.stderr}")
    return Spent(**json.loads(done.stdout))


def _peak_mb() -> float:
    """The most memory this process has held at a time."""
    status = Path("/proc/self/status")
    if status.exists():  # getrusage would count the parent's memory too, from before the exec
        fields = dict(line.split(":", 1) for line in status.read_text().splitlines())
        return int(fields["VmHWM"].split()[0]) / _KB_PER_MB
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / _KB_PER_MB


def _spend(order: str) -> Spent:
    wanted = json.loads(order)
    setting = Setting(**wanted["setting"])
    made: list[bytes] = []
    work = run_of(
        cast("Side", wanted["side"]), cast("Kind", wanted["kind"]),
        count=wanted["count"], setting=setting,
    )  # fmt: skip
    time_ms = spent_ms(lambda: made.append(work()))
    return Spent(ms=time_ms, peak_mb=_peak_mb(), size_kb=len(made[0]) / 1024)


if __name__ == "__main__":
    sys.stdout.write(json.dumps(asdict(_spend(sys.argv[1]))))
