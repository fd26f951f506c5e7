"""Speed of the sweep: every clause of the demo arm's designs, eight load cases, one thread.

`python -m tests.benchmarks.sweep` prints designs a second by wall clock and by processor time, and the peak memory.
Common libraries are held to one thread; run it on a quiet machine.
"""

from __future__ import annotations

import os

os.environ["OPENBLAS_NUM_THREADS"] = os.environ["OMP_NUM_THREADS"] = os.environ["MKL_NUM_THREADS"] = "1"

import resource
import time

from analysis.hand.screen import Screener
from analysis.mechanics.sizes import Sizes
from analysis.sweep.grid import designs
from params.files.read import read_arm, read_material


def main(name: str = "linkspan-rocker", rounds: int = 3) -> None:
    arm = read_arm(f"params/arms/{name}.yaml")
    swept = designs(arm)
    sizes = Sizes.from_arm(arm, **swept)
    screener = Screener(arm, read_material(arm.material))
    print(
        f"{name}: {len(sizes)} designs, {len(arm.load_cases)} load cases, {screener.fraction.shape[1]} positions each"
    )
    for _ in range(rounds):
        wall, busy = time.perf_counter(), time.process_time()
        screener(sizes)
        wall, busy = time.perf_counter() - wall, time.process_time() - busy
        print(f"{len(sizes) / wall:8.0f} designs/s by the clock, {len(sizes) / busy:8.0f} by processor time")
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
