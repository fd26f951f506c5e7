"""Observed order of convergence and error band from a series of meshes.

Grid convergence index after P. J. Roache, "Verification and Validation in Computational Science and Engineering" (1998)
and ASME V&V 20-2009 section 2 (from memory): band = F_s |f1 - f2| / (r^p - 1), F_s = 1.25 with three or more meshes and
an observed order, 3.0 with two meshes and the order of theory. Sizes are those of the elements at the place, not of the mesh:
where a refinement hardly reaches, r is near 1 and says so.

A series that shows no order, for it swings or the elements there stayed as they were, tells of its scatter alone: after L. Eca and
M. Hoekstra, J. Comput. Phys. 262 (2014) 104-130 (from memory) the band is then three times the range of the values. An order
above that of theory is taken as theory's: it comes from chance, and would make the band small.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq

from analysis.elastic.mesh import Mesh
from params.steps.arrays import Floats

THEORY = 2.0  # stress of second-order elements converges with the square of the element size
REFINED = 1.1  # least ratio of sizes at a place that counts as a refinement there (Roache, from memory)
SCATTER = 3.0  # ranges of a series without an order
FEW = 3  # values that the range is taken of: the finest
NEAR = 40  # elements about a place whose mean size is the size there


@dataclass(frozen=True)
class Band:
    """Order (None where it cannot be observed) and band as a share of the finest value."""

    order: float | None
    band: float | None


def observed_order(size: list[float], value: list[float]) -> float | None:
    """Order p from the three finest meshes (sizes descending), None where the changes are not monotonic or p is out of 0.5 to 4.

    Solves (f3 - f2) / (f2 - f1) = (h3^p - h2^p) / (h2^p - h1^p) for h1 < h2 < h3.
    """
    (h3, h2, h1), (f3, f2, f1) = size[-3:], value[-3:]
    if (f3 - f2) * (f2 - f1) <= 0.0:
        return None

    def gap(p: float) -> float:
        return (h3**p - h2**p) / (h2**p - h1**p) - (f3 - f2) / (f2 - f1)

    if gap(0.5) * gap(4.0) >= 0.0:
        return None
    return brentq(gap, 0.5, 4.0)  # type: ignore[return-value]


def band(size: list[float], value: list[float]) -> Band:
    """Error band of the last value; sizes are those of the elements at its place in any one unit, from the coarsest mesh on."""
    if len(value) < 2 or value[-1] == 0.0:
        return Band(None, None)
    near = size[-FEW:]
    ratios = [coarse / fine for coarse, fine in pairwise(near)]
    scatter = SCATTER * float(np.ptp(value[-FEW:])) / abs(value[-1])
    if min(ratios) < REFINED:
        return Band(None, scatter)
    change = abs(value[-1] - value[-2]) / abs(value[-1])
    order = observed_order(size, value) if len(value) >= FEW else None
    if order is not None:
        return Band(order, float(1.25 * change / (np.power(ratios[-1], min(order, THEORY)) - 1.0)))
    two = float(3.0 * change / (np.power(ratios[-1], THEORY) - 1.0))
    return Band(None, two if len(value) < FEW else max(two, scatter))


def size_at(mesh: Mesh, place: Floats) -> float:
    """Mean edge of the `NEAR` elements about a place (3,), mm: of the regular tetrahedron of their mean volume."""
    corners = mesh.points[mesh.tets[:, :4]]
    about = np.argsort(((corners.mean(axis=1) - place) ** 2).sum(axis=1), kind="stable")[:NEAR]
    edges = corners[about, 1:] - corners[about, :1]
    volume = np.abs(np.linalg.det(edges)).mean() / 6.0
    return float((6.0 * np.sqrt(2.0) * volume) ** (1.0 / 3.0))
