"""One call for a contact problem: displacements, pressures, gaps, status and figures of all load cases."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from analysis.contact.active_set import PASSES, Search, System
from analysis.contact.levels import ContactPreconditioner
from analysis.contact.pairs import Pairs
from analysis.elastic import kernels, memory
from analysis.elastic.assembly import stiffness
from analysis.elastic.material import Mixed
from analysis.elastic.mesh import Mesh
from analysis.elastic.multigrid import places, products
from analysis.elastic.solve import inverted_element, peak_bytes
from analysis.elastic.status import Status

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
OPEN = 1.0  # mm, gap of the columns that hold no case


@dataclass(frozen=True)
class Begin:
    """Start of the search: closed (C, p), displacement (C, n, 3) mm (a pin moved into contact), gap before loading (p,) mm."""

    closed: Bools
    moved: Array
    gap: Array  # of the radii: negative with interference


@dataclass(frozen=True)
class ContactFigures:
    """What the search did; of each case where a tuple."""

    unknowns: int = 0
    pairs: int = 0
    passes: tuple[int, ...] = ()
    changed: tuple[int, ...] = ()  # springs that changed in the last pass
    iterations: int = 0  # of conjugate gradients in all passes, all cases in lockstep
    factors: int = 0  # of the coarse matrix
    reaction: float = (
        0.0  # largest support reaction over the largest sum of applied and contact forces' magnitudes
    )
    seconds: dict[str, float] | None = None
    peak_bytes: int = 0


@dataclass(frozen=True)
class Touched:
    """displacement (C, n, 3) mm, pressure (C, p) MPa, gap (C, p) mm (negative: overlap), status, figures, the status in a line."""

    displacement: Array
    pressure: Array
    gap: Array
    status: Status
    figures: ContactFigures
    message: str = "ok"

    @property
    def ok(self) -> bool:
        return self.status is Status.OK

    def of(self, own: slice) -> Touched:
        """The part that belongs to some of its cases."""
        figures = replace(self.figures, passes=self.figures.passes[own], changed=self.figures.changed[own])
        return replace(
            self,
            displacement=self.displacement[own],
            pressure=self.pressure[own],
            gap=self.gap[own],
            figures=figures,
        )


def touch(
    mesh: Mesh,
    law: Mixed,
    loads: Array,
    pairs: Pairs,
    begin: Begin,
    fixed: NDArray[np.int64],
    passes: int = PASSES,
    choice: str | None = None,
    free_bytes: int | None = None,
) -> Touched:
    """Bodies under nodal loads (C, 3n) N in balance, pressed together at `pairs`; all cases in lockstep, eight at a time.

    fixed: scalar unknowns 3 node + axis at zero: the supports of the whole and the free motions of each pin, nothing else.
    """
    clock = time.perf_counter()
    count = 3 * len(mesh.points)
    if not memory.fits(count, "cg", free_bytes):
        message = f"{count:,} unknowns need about {memory.need(count, 'cg') / 1e9:.1f} GB; {Status.OUT_OF_MEMORY.value}"
        return _refused(loads, pairs, Status.OUT_OF_MEMORY, message)
    ordered = mesh.ordered
    matrix = stiffness(ordered.pattern, ordered.points, ordered.curved, law)
    inverted = inverted_element(ordered, matrix)
    if inverted:
        return _refused(loads, pairs, Status.INVERTED, inverted)
    number = np.empty(len(ordered.order), dtype=np.int64)
    number[ordered.order] = np.arange(len(number))
    own, unknowns = pairs.renumbered(number), 3 * number[fixed // 3] + fixed % 3
    preconditioner = ContactPreconditioner(matrix, ordered, law, unknowns, own, choice)
    system = System(products(matrix), preconditioner, own, unknowns)
    searches = [
        _search(system, ordered.order, loads[first : first + kernels.WIDTH], begin, first, passes)
        for first in range(0, len(loads), kernels.WIDTH)
    ]
    preconditioner.free()
    return _touched(searches, len(loads), number, own, time.perf_counter() - clock)


def _search(
    system: System, order: NDArray[np.int64], loads: Array, begin: Begin, first: int, passes: int
) -> Search:
    """Up to eight cases from number `first` on, run to their end."""
    count = len(loads)
    cases = slice(first, first + count)
    gap = np.full((len(begin.gap), kernels.WIDTH), OPEN)
    gap[:, :count] = begin.gap[:, None]
    closed = np.zeros(gap.shape, dtype=bool)
    closed[:, :count] = begin.closed[cases].T
    search = Search(
        system, _packed(loads.reshape(count, -1, 3), order), _packed(begin.moved[cases], order), gap, closed
    )
    search.run(passes)
    return search


def _packed(nodal: Array, order: NDArray[np.int64]) -> Array:
    """Nodal vectors (C, n, 3) as (n, 24) in the sorted numbering."""
    wide = np.zeros((len(order), 3, kernels.WIDTH))
    wide[:, :, : len(nodal)] = nodal[:, order].transpose(1, 2, 0)
    return wide.reshape(len(order), -1)


def _touched(
    searches: list[Search], cases: int, number: NDArray[np.int64], pairs: Pairs, seconds: float
) -> Touched:
    """The result of all searches in the mesh's own numbering."""
    moved = _unpacked([one.moved.reshape(len(number), 3, -1).transpose(2, 0, 1) for one in searches], cases)[
        :, number
    ]
    gap = _unpacked([one.gap.T for one in searches], cases)
    pressure = _unpacked([one.force().T for one in searches], cases) / pairs.area
    parts = {name: sum(one.seconds[name] for one in searches) for name in searches[0].seconds}
    changed = _unpacked([one.changed for one in searches], cases)
    figures = ContactFigures(
        unknowns=3 * len(number),
        pairs=len(pairs.outer),
        changed=tuple(changed.tolist()),
        passes=tuple(_unpacked([one.passes for one in searches], cases).tolist()),
        iterations=sum(one.iterations for one in searches),
        factors=sum(one.factors for one in searches),
        reaction=max(_reaction(one) for one in searches),
        seconds=parts | {"all": seconds},
        peak_bytes=peak_bytes(),
    )
    settled = _unpacked([one.settled for one in searches], cases)
    if settled.all():
        return Touched(moved, pressure, gap, Status.OK, figures)
    message = (
        f"{int((~settled).sum())} of {cases} cases not settled after {max(figures.passes)} passes, "
        f"{changed.max()} of {len(pairs.outer)} contact nodes still changing; {Status.CONTACT_UNSETTLED.value}"
    )
    return Touched(moved, pressure, gap, Status.CONTACT_UNSETTLED, figures, message)


def _unpacked(parts: list[np.ndarray], cases: int) -> np.ndarray:
    return np.concatenate(parts)[:cases]


def _reaction(search: Search) -> float:
    """Largest support reaction as a share of the sum of all forces' magnitudes."""
    contact = search.system.pushed(search.force())
    left = (search.loads + contact - search.stiff)[places(search.system.fixed)]
    every = np.abs(search.loads + contact).reshape(-1, 3, kernels.WIDTH).sum(axis=(0, 1))
    return float(np.abs(left).max() / max(every.max(), 1e-300))


def _refused(loads: Array, pairs: Pairs, status: Status, message: str) -> Touched:
    nothing = np.zeros((len(loads), len(pairs.outer)))
    return Touched(
        np.zeros((len(loads), loads.shape[1] // 3, 3)), nothing, nothing, status, ContactFigures(), message
    )
