"""Which solver, and whether there is memory for it: from figures measured on levers of second-order tetrahedra."""

from __future__ import annotations

import os

import numpy as np

from analysis.elastic.mesh import Mesh

# Unknowns against peak bytes of the whole process, measured (see tests/benchmarks); between them straight in the logarithms.
UNKNOWNS = np.array([40e3, 155e3, 223e3, 479e3, 945e3, 1.27e6])
PEAK = {
    "direct": np.array([0.5e9, 1.2e9, 1.6e9, 3.9e9, 9.4e9, 14e9]),
    "cg": np.array([0.4e9, 0.7e9, 0.8e9, 1.4e9, 2.6e9, 3.5e9]),
}
SMALL = 60_000  # unknowns below which the direct solver is as fast
MANY = 4  # below this many cases a direct solve pays up to twice that
STRETCHED = 3.0  # height of an element against its longest edge beyond which conjugate gradients slow down
THIN_SHARE = 0.25  # share of such elements that makes a mesh thin
THIN_LIMIT = 300_000  # unknowns up to which a thin mesh goes to the direct solver at once


def choose(mesh: Mesh, cases: int, method: str, free_bytes: int | None) -> tuple[str, str]:
    """(method, refusal): the method to use, and the reason where the memory it needs is not free."""
    unknowns = 3 * len(mesh.points)
    if method not in ("auto", "direct", "cg"):
        raise ValueError(f"method: {method!r} is unknown; use auto, direct or cg")
    if method == "auto":
        small = SMALL * (2 if cases < MANY else 1)
        direct = unknowns <= small or (unknowns <= THIN_LIMIT and thin_share(mesh) > THIN_SHARE)
        method = "direct" if direct and fits(unknowns, "direct", free_bytes) else "cg"
    if fits(unknowns, method, free_bytes):
        return method, ""
    free = available() if free_bytes is None else free_bytes
    return method, (
        f"{unknowns:,} unknowns by {method} need about {need(unknowns, method) / 1e9:.1f} GB, {free / 1e9:.1f} GB are free; "
        "use larger elements or a machine with more memory"
    )


def need(unknowns: int, method: str) -> float:
    """Estimated peak memory, bytes."""
    size = np.log(np.maximum(unknowns, UNKNOWNS[0]))
    peak, places = np.log(PEAK[method]), np.log(UNKNOWNS)
    slope = (peak[-1] - peak[-2]) / (places[-1] - places[-2])
    beyond = max(0.0, float(size - places[-1])) * slope
    return float(np.exp(np.interp(size, places, peak) + beyond))


def fits(unknowns: int, method: str, free_bytes: int | None) -> bool:
    return need(unknowns, method) <= (available() if free_bytes is None else free_bytes)


def available() -> int:
    """Free memory, bytes, as the system reports it."""
    try:
        with open("/proc/meminfo", encoding="ascii") as lines:
            return next(int(line.split()[1]) * 1024 for line in lines if line.startswith("MemAvailable"))
    except (OSError, StopIteration):
        return os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")


def thin_share(mesh: Mesh) -> float:
    """Share of elements more than STRETCHED times as long as their least height."""
    corners = mesh.points[mesh.tets[:, :4]]
    a, b, c = (corners[:, k] - corners[:, 0] for k in (1, 2, 3))
    six_volumes = np.abs(np.einsum("ij,ij->i", np.cross(a, b), c))
    sides = [np.cross(a, b), np.cross(b, c), np.cross(c, a), np.cross(b - a, c - a)]
    largest = np.max([np.linalg.norm(side, axis=1) for side in sides], axis=0)
    longest = np.max([np.linalg.norm(e, axis=1) for e in (a, b, c, b - a, c - b, c - a)], axis=0)
    # height = 6 V / (2 area); a regular element has a height of 0.82 of its edge
    return float(np.mean(longest * largest > STRETCHED * 1.22 * six_volumes))
