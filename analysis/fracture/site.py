"""Where a found crack began: the stress of every state there, and along its path, under what is assumed of the past.

To the states that the duty's cycles pass one is added, that of the arm without load, its fit alone. So loads that are larger or
smaller, and cycles that unload further, are combinations of states, at the surface for fatigue and along the path for growth
alike: an interference fit that stays closed is linear in the load. A residual stress stands on every plane in full; it is a
steady stress, and what would go beyond yield strength with the cycle's own is not there any more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.fatigue.curve_at import Law, surface_law
from analysis.fatigue.duty import NONE, Cycles, Ints
from analysis.fatigue.in_surface import tangent
from analysis.fatigue.plane import half_sphere
from analysis.fatigue.reading import read_nodes
from analysis.fatigue.regions import surfaces
from analysis.fatigue.stresses import fitted, histories, interference
from analysis.fatigue.variants import Variant
from analysis.fracture import found as words
from analysis.fracture.driven import Driven, passed
from analysis.fracture.flaws import Place
from analysis.fracture.found_table import found_place
from analysis.fracture.loads import Loads
from geometry.datums import centre
from geometry.meshfile import read_vtu
from params.schema.arm import Arm
from params.schema.bores import Bores
from params.schema.cracks import Cracks, Environment, FoundCrack

Floats = NDArray[np.float64]
APART = 0.25  # of the pivot's bore: how far from the worst place of life.csv the worst node is looked for
TURNS = 180  # planes through a bore's surface
PLANES = 2000  # on the half sphere elsewhere, about 3 degrees apart


@dataclass(frozen=True)
class Assumed:
    """What is assumed of the past; as the file says it, but for what is changed."""

    residual: float  # MPa
    environment: Environment
    cycles: float = 1.0  # times those of the duty
    load: float = 1.0  # times those of the duty
    unloading: float = 0.0  # share of its load that each cycle puts down beyond what the duty says
    fretting: int = 1  # factor at least, as used, at most: 0, 1, 2


@dataclass(frozen=True)
class Site:
    """Stresses (k, B, 6) MPa at the nodes where it may have begun, by state with the unloaded one last, planes (k, P, 3) that
    count there, states (E, B) that each kind of cycle passes, and the place of the crack, whose basis has one more, the
    residual stress."""

    arm: Arm
    bores: Bores
    cracks: Cracks
    crack: FoundCrack
    variant: Variant
    stress: Floats
    planes: Floats
    passed: tuple[Floats, ...]
    per_year: Floats
    place: Place
    driven: Driven
    tight: tuple[str, ...]

    @property
    def sizes(self) -> Floats:
        """The found crack as sizes of its body, (P,) mm."""
        return words.sizes_of(self.crack.shape, self.crack.length, self.crack.depth)

    def law(self, assumed: Assumed) -> Law:
        """Curve and mean-stress rule where it began."""
        wet = replace(self.variant, environment=assumed.environment, wet=frozenset({self.crack.region}))
        return surface_law(self.bores, wet, self.crack.region, self.tight, assumed.fretting)

    def states(self, assumed: Assumed, load: float) -> list[Floats]:
        """States (E, B) that each kind of cycle passes under loads so many times the duty's."""
        alone = np.eye(self.stress.shape[1])[-1]
        result = []
        for states in self.passed:
            loaded = load * states + (1.0 - load) * alone
            less = (1.0 - assumed.unloading) * loaded[0] + assumed.unloading * alone
            result.append(np.vstack([loaded, less]) if assumed.unloading else loaded)
        return result


def site_of(folder: Path, held: Loads, cracks: Cracks, crack: FoundCrack, solved: Path | None = None) -> Site:
    """The place of a found crack on the mesh of `held`, whose fields `solved` holds, `folder`/bores by default."""
    arm, bores = held.arm, held.arm.bores
    assert bores is not None  # the step ends before without
    alone = unloaded(folder, arm, held.variant, held.mesh.points, solved)
    kept, cycles = used_states(held.cycles)
    more = replace(held, stress=np.concatenate([held.stress[:, kept], alone[:, None]], axis=1), cycles=cycles)
    place, drive, _ = found_place(more, crack)
    tight = tuple(name for name, most in interference(arm, held.variant).items() if most > 0.0)
    stress, planes = at_surface(more, crack, tight)
    count = more.stress.shape[1]
    states = tuple(passed(cycles, count))
    return Site(
        arm,
        bores,
        cracks,
        crack,
        held.variant,
        stress,
        planes,
        states,
        held.cycles.per_year,
        place,
        drive,
        tight,
    )


def used_states(cycles: Cycles) -> tuple[Ints, Cycles]:
    """Numbers of the states that cycles pass, in order, and the same cycles with the states numbered anew among these."""
    named = np.concatenate([cycles.start, cycles.end, cycles.also.ravel()])
    kept = np.unique(named[named != NONE])
    anew = np.full(int(kept.max()) + 1, NONE)
    anew[kept] = np.arange(len(kept))
    also = np.where(cycles.also == NONE, NONE, anew[cycles.also])
    return kept, replace(cycles, start=anew[cycles.start], end=anew[cycles.end], also=also)


def unloaded(folder: Path, arm: Arm, variant: Variant, points: Floats, solved: Path | None = None) -> Floats:
    """Stress (n, 6) MPa of the arm without load: of its fits alone, as solved with the contact or as in thick rings."""
    fields = (solved or folder / "bores") / f"stress-{variant.contact}.vtu"
    if fields.exists():
        return read_vtu(fields, ["stress:fitted"])[1][0]
    return fitted(arm, variant, points)


def at_surface(held: Loads, crack: FoundCrack, tight: Sequence[str]) -> tuple[Floats, Floats]:
    """Stress (k, B, 6) and planes (k, P, 3) of the nodes about the worst place of the crack's region."""
    arm, mesh, region = held.arm, held.mesh, crack.region
    nodes = read_nodes(arm, mesh, surfaces(arm, mesh), list(tight))[region]  # type: ignore[arg-type]
    away = np.linalg.norm(mesh.points[nodes] - held.worst[region], axis=1)
    near = nodes[away <= max(APART * arm.geometry.pivot.bore, float(away.min()))]
    stress = held.stress[near]
    if not region.endswith("_bore"):
        return stress, np.broadcast_to(half_sphere(PLANES), (len(near), PLANES, 3))
    out = mesh.points[near, :2] - centre(arm, region.removesuffix("_bore"))
    out = np.column_stack([out / np.linalg.norm(out, axis=1)[:, None], np.zeros(len(near))])
    around = np.column_stack([-out[:, 1], out[:, 0], out[:, 2]])
    turn = np.pi * np.arange(TURNS) / TURNS
    planes = np.cos(turn)[:, None] * around[:, None] + np.sin(turn)[:, None] * np.array([0.0, 0.0, 1.0])
    seated = tangent(np.moveaxis(stress, 0, 1), out)
    return np.moveaxis(seated, 0, 1), planes


def on_mesh(folder: Path, held: Loads, mesh: Mesh, cycles: Cycles, solved: Path) -> Loads:
    """The same arm on another mesh, whose fields `solved` holds."""
    _, stress, _ = histories(folder, held.arm, held.variant, solved)
    field = np.ascontiguousarray(np.moveaxis(stress, 0, 1))
    return replace(held, mesh=mesh, sampler=Sampler(mesh), stress=field, cycles=cycles)
