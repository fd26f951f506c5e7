"""Stress of every state that cycles pass, at the nodes of one variant: solved contact where it is there, else superposition.

Without a solved contact the bearing loads act as half-cosine pressures and an interference fit adds the steady stress of a
thick ring on top. That keeps the whole range of the load, where a tight fit would carry part of it as a change of its own
pressure: the safe side.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from analysis.bores.fit import assemble
from analysis.bores.ring import stress as ring_stress
from analysis.contracts.loads import LoadsFile
from analysis.fatigue.cycles import by_load_state, field_at_least
from analysis.fatigue.variants import Variant
from geometry.datums import bore as bore_of
from geometry.datums import centre
from geometry.meshfile import read_vtu
from params.schema.arm import Arm
from params.schema.bores import BoreName
from params.steps.arrays import Floats
from params.steps.contract import read_of_cases

SOLVED, ADDED = "contact solved on the mesh", "half-cosine pressure, ring stress of the fit on top"


def mesh_file(folder: Path) -> Path:
    """The mesh that the stresses stand on: that of the solved contact where it is there."""
    solved = folder / "bores" / "contact.msh"
    return solved if solved.exists() else folder / "arm.msh"


def histories(
    folder: Path, arm: Arm, variant: Variant, place: Path | None = None
) -> tuple[Floats, Floats, str]:
    """Points (n, 3) mm, stress (S, n, 6) MPa by state as `year` numbers them, and where the stresses come from: those of the solved
    contact in `place` (`folder`/bores by default) where it is there.

    loads.json says which cases were solved at their least as well.
    """
    solved = (place or folder / "bores") / f"stress-{variant.contact}.vtu"
    source = solved if solved.exists() else folder / "stress.vtu"
    loads = read_of_cases(folder / "loads.json", LoadsFile, arm.load_cases)
    cases, least = list(arm.load_cases), list(loads.least)
    names = [*(f"stress:{case}" for case in cases), *(field_at_least(case) for case in least)]
    points, fields = read_vtu(source, names)
    stress = by_load_state(
        arm,
        dict(zip(cases, fields[: len(cases)], strict=True)),
        dict(zip(least, fields[len(cases) :], strict=True)),
    )
    return (
        (points, stress, SOLVED)
        if source == solved
        else (points, stress + fitted(arm, variant, points), ADDED)
    )


def fitted(arm: Arm, variant: Variant, points: Floats, at: int = 1) -> Floats:
    """Steady stress (n, 6) of the interference fits, as in thick rings; `at` 0, 1, 2: at least, mean, most interference."""
    total = np.zeros((len(points), 6))
    for name, sizes in variant.sizes.items():
        if arm.bores is None:
            continue
        bore = bore_of(arm, name)
        assembly = assemble(arm.bores.fits[name], sizes, bore, variant.material)
        pressure, ring = float(assembly.pressure[at, -1]), assembly.rings[-1]
        if pressure <= 0.0:
            continue
        offset = points[:, :2] - centre(arm, name)
        r = np.hypot(*offset.T)
        within = (r < ring.outside / 2.0) & (np.abs(points[:, 2]) <= bore.width / 2.0 + 1e-6)
        there = ring_stress(ring, pressure, 0.0, np.maximum(r[within], ring.inside / 2.0))
        total[within] += in_plane(there.radial, there.hoop, offset[within] / r[within, None])
    return total


def bore_hoop(arm: Arm, variant: Variant, name: BoreName, outside: float) -> float:
    """Hoop stress at a bore's surface by its fit at mean interference, MPa, were its hub or boss so large outside (mm)."""
    if arm.bores is None:
        return 0.0
    bore = bore_of(arm, name).model_copy(update={"outside": outside})
    assembly = assemble(arm.bores.fits[name], variant.sizes[name], bore, variant.material)
    ring = assembly.rings[-1]
    return float(ring_stress(ring, assembly.pressure[1, -1], 0.0, ring.inside / 2.0).hoop)


def in_plane(radial: Floats, hoop: Floats, outward: Floats) -> Floats:
    """Stress (n, 6) in the arm's axes of radial and hoop stress (n,) about a centre; `outward` (n, 2) are unit vectors."""
    c, s = outward.T
    tensor = np.zeros((len(c), 6))
    tensor[:, 0] = radial * c * c + hoop * s * s
    tensor[:, 1] = radial * s * s + hoop * c * c
    tensor[:, 3] = (radial - hoop) * c * s
    return tensor


def interference(arm: Arm, variant: Variant) -> dict[BoreName, float]:
    """Most interference in mm at the arm's metal in each bore with a fit, of the bush where there is one; negative: play."""
    if arm.bores is None:
        return {}
    return {
        name: float(
            assemble(arm.bores.fits[name], sizes, bore_of(arm, name), variant.material).interference[2, -1]
        )
        for name, sizes in variant.sizes.items()
    }
