"""One interface to both solvers: displacements, status and figures for all load cases of a free body."""

from __future__ import annotations

import resource
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import connected_components

from analysis.elastic import kernels, memory
from analysis.elastic.assembly import Stiffness, stiffness
from analysis.elastic.direct import NotPositiveDefinite, factor
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh, Ordered
from analysis.elastic.multigrid import Preconditioner, conjugate, products
from analysis.elastic.status import Figures, Status
from analysis.elastic.supports import determinate

Array = NDArray[np.float64]
TOLERANCE = 1e-8  # of the residual: both solvers then agree to seven digits of the displacement
RESIDUAL = 1e-5  # larger than this the answer is refused
MOST = 150  # iterations before the direct solver takes over; sound meshes need about 20


@dataclass(frozen=True)
class Solution:
    """displacement (C, n, 3) mm (zeros where the status is not OK); status; figures; message: the status in one line."""

    displacement: Array
    status: Status
    figures: Figures
    message: str = "ok"

    @property
    def ok(self) -> bool:
        return self.status is Status.OK


def solve(
    mesh: Mesh,
    material: Elastic,
    cases: Array | Sequence[Array],
    method: str = "auto",
    choice: str | None = None,
    fixed: NDArray[np.int64] | None = None,
    tolerance: float = TOLERANCE,
    most: int = MOST,
    free_bytes: int | None = None,
) -> Solution:
    """Displacements of a free body under nodal loads (C, 3n) N which are in equilibrium.

    method: `auto`, `direct` or `cg`. choice: library of the direct solver (see `direct`). fixed: scalar unknowns 3 node +
    axis held at zero, in place of the six supports chosen here. free_bytes: memory that may be used, in place of what the
    system reports free.
    """
    loads = np.atleast_2d(np.asarray(cases, dtype=np.float64))
    if loads.shape[1] != 3 * len(mesh.points):
        raise ValueError(
            f"cases: {loads.shape[1]} nodal loads for a mesh of {3 * len(mesh.points)} unknowns; the numbers must be the same"
        )
    clock = {"start": time.perf_counter()}
    method, refusal = memory.choose(mesh, len(loads), method, free_bytes)
    if refusal:
        return _refused(loads, Status.OUT_OF_MEMORY, refusal)
    loose = loose_part(mesh)
    if loose:
        return _refused(loads, Status.LOOSE_PART, loose)
    ordered = mesh.ordered
    clock["pattern"] = time.perf_counter()
    matrix = stiffness(ordered.pattern, ordered.points, ordered.curved, material)
    clock["assembly"] = time.perf_counter()
    inverted = inverted_element(ordered, matrix)
    if inverted:
        return _refused(loads, Status.INVERTED, inverted)
    held = determinate(mesh) if fixed is None else np.asarray(fixed, dtype=np.int64)
    number = np.empty(len(ordered.order), dtype=np.int64)
    number[ordered.order] = np.arange(len(number))
    unknowns = 3 * number[held // 3] + held % 3
    right = loads.reshape(len(loads), -1, 3)[:, ordered.order].transpose(1, 2, 0)  # (n, 3, C)
    try:
        moved, figures, done = _by(
            method, matrix, ordered, material, right, unknowns, choice, tolerance, most, free_bytes
        )
    except NotPositiveDefinite as fault:
        node = ordered.points[fault.row // 3] if fault.row >= 0 else None
        return _refused(
            loads,
            Status.NOT_POSITIVE_DEFINITE,
            f"stiffness not positive definite{_near(node)}; {Status.NOT_POSITIVE_DEFINITE.value}",
        )
    clock["solve"] = time.perf_counter()
    return _checked(mesh, matrix, ordered, right, moved, unknowns, figures, done, clock)


def _by(
    method: str,
    matrix: Stiffness,
    ordered: Ordered,
    material: Elastic,
    right: Array,
    unknowns: NDArray[np.int64],
    choice: str | None,
    tolerance: float,
    most: int,
    free_bytes: int | None,
) -> tuple[Array, Figures, bool]:
    """Displacements (n, 3, C), figures, and whether the method settled."""
    count = 3 * len(right)
    if method == "cg":
        moved, iterations, settled, library = _gradients(
            matrix, ordered, material, right, unknowns, choice, tolerance, most
        )
        figures = Figures(method=f"CG, p-multigrid over {library}", unknowns=count, iterations=iterations)
        if settled or not memory.fits(count, "direct", free_bytes):
            return moved, figures, settled
        note = f"not converged after {iterations} iterations, solved by the direct solver"
    else:
        iterations, note = 0, ""
    moved, library = _direct(matrix, right, unknowns, choice)
    return moved, Figures(method=f"direct, {library}", unknowns=count, iterations=iterations, note=note), True


def _direct(
    matrix: Stiffness, right: Array, unknowns: NDArray[np.int64], choice: str | None
) -> tuple[Array, str]:
    wide = right.reshape(-1, right.shape[2]).copy()
    wide[unknowns] = 0.0
    factored = factor(matrix, unknowns, choice=choice)
    solution = np.asarray(factored.solve(wide), dtype=np.float64).reshape(right.shape)
    factored.free()
    return solution, factored.name


def _gradients(
    matrix: Stiffness,
    ordered: Ordered,
    material: Elastic,
    right: Array,
    unknowns: NDArray[np.int64],
    choice: str | None,
    tolerance: float,
    most: int,
) -> tuple[Array, int, bool, str]:
    """Eight cases at a time."""
    preconditioner = Preconditioner(matrix, ordered, material, unknowns, choice)
    moved, iterations, settled = np.empty(right.shape), 0, True
    for begin in range(0, right.shape[2], kernels.WIDTH):
        part = right[:, :, begin : begin + kernels.WIDTH]
        packed = np.zeros((len(right), 3, kernels.WIDTH))
        packed[:, :, : part.shape[2]] = part
        solution, used, good = conjugate(
            products(matrix), preconditioner, packed.reshape(len(right), -1), unknowns, tolerance, most
        )
        moved[:, :, begin : begin + kernels.WIDTH] = solution.reshape(packed.shape)[:, :, : part.shape[2]]
        iterations, settled = max(iterations, used), settled and good
        if not settled:
            break
    preconditioner.coarse.free()
    return moved, iterations, settled, preconditioner.coarse.name


def _checked(
    mesh: Mesh,
    matrix: Stiffness,
    ordered: Ordered,
    right: Array,
    moved: Array,
    unknowns: NDArray[np.int64],
    figures: Figures,
    settled: bool,
    clock: dict[str, float],
) -> Solution:
    """Residual, reactions and energy from the untouched stiffness, and the verdict."""
    cases = right.shape[2]
    left = (right - multiply(matrix, moved)).reshape(-1, cases)
    applied = right.reshape(-1, cases).copy()
    reaction = np.abs(left[unknowns]).max(axis=0, initial=0.0)
    left[unknowns] = applied[unknowns] = 0.0
    size = np.linalg.norm(applied, axis=0)
    residual = np.linalg.norm(left, axis=0) / np.where(size > 0.0, size, 1.0)
    push = np.maximum(np.abs(right).sum(axis=(0, 1)), 1e-300)
    displacement = np.empty((cases, len(mesh.points), 3))
    displacement[:, ordered.order] = moved.transpose(2, 0, 1)
    clock["check"] = time.perf_counter()
    marks = list(clock)
    report = replace(
        figures,
        residual=tuple(residual.tolist()),
        reaction=tuple((reaction / push).tolist()),
        energy=tuple((0.5 * np.einsum("nxc,nxc->c", moved, right)).tolist()),
        seconds={name: clock[name] - clock[before] for before, name in pairwise(marks)},
        peak_bytes=peak_bytes(),
    )
    if not settled:
        return Solution(
            displacement, Status.ITERATIONS_EXHAUSTED, report, f"{Status.ITERATIONS_EXHAUSTED.value}"
        )
    if not residual.max(initial=0.0) <= RESIDUAL:
        line = f"residual {residual.max():.1e} is above the allowed {RESIDUAL:.0e}; {Status.RESIDUAL_TOO_LARGE.value}"
        return Solution(displacement, Status.RESIDUAL_TOO_LARGE, report, line)
    return Solution(displacement, Status.OK, report, report.note or "ok")


def multiply(matrix: Stiffness, moved: Array) -> Array:
    """K u for displacements (n, 3, C), eight cases at a time."""
    pattern = matrix.pattern
    result = np.empty_like(moved)
    for begin in range(0, moved.shape[2], kernels.WIDTH):
        part = moved[:, :, begin : begin + kernels.WIDTH]
        packed = np.zeros((len(moved), 3, kernels.WIDTH))
        packed[:, :, : part.shape[2]] = part
        force = np.empty((len(moved), 3 * kernels.WIDTH))
        kernels.product(
            pattern.cuts, pattern.start, pattern.columns, matrix.blocks, packed.reshape(len(moved), -1), force
        )
        result[:, :, begin : begin + kernels.WIDTH] = force.reshape(packed.shape)[:, :, : part.shape[2]]
    return result


def loose_part(mesh: Mesh) -> str:
    """Names the smallest piece where the mesh is in more than one; empty where it is whole."""
    pattern = mesh.ordered.pattern
    graph = csr_matrix(
        (np.ones(len(pattern.columns), dtype=np.int8), pattern.columns, pattern.start),
        shape=(pattern.rows,) * 2,
    )
    pieces, member = connected_components(graph, directed=False)
    if pieces == 1:
        return ""
    sizes = np.bincount(member)
    piece = member == int(np.argmin(sizes))
    places = mesh.ordered.points[piece]
    nodes = set(mesh.ordered.order[piece].tolist())
    touched = [name for name, faces in mesh.surfaces.items() if nodes.intersection(np.unique(faces).tolist())]
    low, high = (
        ", ".join(f"{value:.1f}" for value in edge) for edge in (places.min(axis=0), places.max(axis=0))
    )
    where = f", touching {', '.join(touched)}" if touched else ""
    return (
        f"{pieces} separate pieces; the smallest has {piece.sum()} of {len(piece)} nodes, "
        f"between ({low}) and ({high}) mm{where}; {Status.LOOSE_PART.value}"
    )


def inverted_element(ordered: Ordered, matrix: Stiffness) -> str:
    """Names the worst element whose Jacobian is not positive at a quadrature point; empty where there is none."""
    worst = int(np.argmin(matrix.least))
    if matrix.least[worst] > 0.0:
        return ""
    count = int((matrix.least <= 0.0).sum())
    place = ordered.points[ordered.pattern.tets[worst, :4]].mean(axis=0)
    element = int(ordered.pattern.elements[worst])
    return f"{count} element(s) turned inside out, the worst is element {element}{_near(place)}; {Status.INVERTED.value}"


def _near(place: Array | None) -> str:
    return "" if place is None else " near ({}) mm".format(", ".join(f"{value:.1f}" for value in place))


def _refused(loads: Array, status: Status, message: str) -> Solution:
    nothing = np.zeros((len(loads), loads.shape[1] // 3, 3))
    return Solution(nothing, status, Figures(unknowns=loads.shape[1]), message)


def peak_bytes() -> int:
    """Peak memory of this process so far."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
