"""One crack at a round hole in plane elements of a general library, K by the energy that two crack lengths release."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from skfem import Basis, ElementTriP2, ElementVector, FacetBasis, LinearForm, MeshTri, condense, solve
from skfem.models.elasticity import linear_elasticity

Array = NDArray[np.float64]
MODULUS, POISSON = 1.0, 0.3
TIP = np.concatenate(
    [np.linspace(0.0, 0.7, 8), [0.8, 0.88, 0.93, 0.96, 0.98, 0.99, 0.995, 1.0]]
)  # over the crack's length


def opened(length: float, pressure: Callable[[Array], Array], outside: float) -> float:
    """Work of a pressure on the crack's two faces, N mm per mm of thickness; hole of radius 1, free outer edge."""
    beyond = 1.0 + np.array([0.005, 0.01, 0.02, 0.04, 0.07, 0.12, 0.2, 0.35, 0.6, 1.0])
    far = np.geomspace(2.0 * length, outside - 1.0, 3 + int(np.ceil(np.log(outside / length) / np.log(1.3))))[
        1:
    ]
    radius = 1.0 + np.concatenate([length * TIP, length * beyond, far])
    near = length / (1.0 + length) * np.array([0.0, 0.005, 0.01, 0.02, 0.04, 0.07, 0.12, 0.2])
    step = near[-1] - near[-2]
    angle = list(near)
    while angle[-1] + step < np.pi - 0.06:
        step = min(1.3 * step, 0.09)
        angle.append(angle[-1] + step)
    angle[-1] = np.pi
    flat = MeshTri.init_tensor(radius, np.array(angle))
    r, t = flat.p
    on = flat.facets_satisfying(lambda x: np.isclose(x[1], 0.0) & (x[0] < 1.0 + length), boundaries_only=True)
    mesh = MeshTri(np.stack([r * np.cos(t), r * np.sin(t)]), flat.t)
    basis = Basis(mesh, ElementVector(ElementTriP2()))
    lam, mu = POISSON * MODULUS / (1.0 - POISSON**2), MODULUS / (2.0 * (1.0 + POISSON))  # plane stress
    stiff = linear_elasticity(lam, mu).assemble(basis)
    faces = FacetBasis(mesh, ElementVector(ElementTriP2()), facets=on)
    load = LinearForm(lambda v, w: pressure(w.x[0] - 1.0) * v[1]).assemble(faces)
    ligament = basis.get_dofs(lambda x: np.isclose(x[1], 0.0) & ((x[0] > 1.0 + length - 1e-9) | (x[0] < 0.0)))
    corner = basis.get_dofs(lambda x: np.isclose(x[0], -outside) & np.isclose(x[1], 0.0))
    held = np.unique(np.concatenate([ligament.all("u^2"), corner.all("u^1")]))
    moved = solve(*condense(stiff, load, D=held))
    return 2.0 * 0.5 * float(load @ moved)


def intensity(
    length: float, pressure: Callable[[Array], Array], outside: float = 40.0, share: float = 0.01
) -> float:
    """K by the difference of two lengths, `share` to either side."""
    less, more = (opened(length * (1.0 + side * share), pressure, outside) for side in (-1.0, 1.0))
    return float(np.sqrt(MODULUS * (more - less) / (2.0 * share * length)))
