"""Largest crack that the highest load does not break, of a given shape, by the failure assessment diagram."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.growth import End, Service, use
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]
SMALLEST = 0.01  # mm: below it a crack is no crack of this mechanics


@dataclass(frozen=True)
class Critical:
    """Sizes (P,) in mm at the limit, Kr, Lr there and why it is the limit."""

    sizes: Floats
    kr: float
    lr: float
    cause: End


def critical_size(body: Body, shape: Sequence[float], service: Service) -> Critical:
    """Smallest crack of the proportions `shape` (P,) that uses the diagram up, or leaves its solution's range.

    The first crossing is found on a grid 1 % apart, then by bisection to 1e-9.
    """
    form = np.asarray(shape, float) / shape[0]
    grid = SMALLEST * 1.01 ** np.arange(2000)
    sizes = form[:, None] * grid
    sizes = sizes[:, body.inside(sizes)]
    if not sizes.size:
        raise OutOfRange(
            f"no crack of shape {', '.join(f'{s:.3g}' for s in shape)} lies in its solution's range"
        )
    used = use(body, sizes, service)[2]
    if not (used >= 1.0).any():
        return _critical(body, sizes[:, -1], service, End.RANGE)
    first = int(np.argmax(used >= 1.0))
    low, high = sizes[0, max(first - 1, 0)], sizes[0, first]
    if first == 0:
        return _critical(body, sizes[:, 0], service, None)
    while high - low > 1e-9 * high:
        middle = (low + high) / 2.0
        fails = use(body, form[:, None] * middle, service)[2][0] >= 1.0
        low, high = (low, middle) if fails else (middle, high)
    return _critical(body, form * low, service, None)


def _critical(body: Body, sizes: Floats, service: Service, cause: End | None) -> Critical:
    kr, lr, _ = (float(part[0]) for part in use(body, sizes[:, None], service))
    collapse = lr >= service.diagram.most * (1.0 - 1e-6)
    return Critical(sizes, kr, lr, cause or (End.COLLAPSE if collapse else End.TOUGHNESS))
