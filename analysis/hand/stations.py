"""Internal forces and stresses at the stations of one arm in one load case, in internal units."""

from __future__ import annotations

import numpy as np

from analysis.contracts.hand import Station
from analysis.hand.evaluate import Hand
from analysis.mechanics.internal_forces import fibre
from analysis.mechanics.response import Limb
from analysis.mechanics.sections import POINTS


def stations_of(hand: Hand, limb: Limb, c: int, p: int) -> tuple[Station, ...]:
    """Stations of one arm in internal units; sigma_plus and sigma_minus at the flange middles on the +eta and -eta side."""
    inside, part = limb.forces, limb.part
    names = POINTS[hand.response.sizes.kind]
    plus, minus = fibre(inside, part, 1.0)[0, c, p], fibre(inside, part, -1.0)[0, c, p]
    at = {name: np.broadcast_to(value, inside.n.shape)[0, c, p] for name, value in vars(inside).items()}
    rows = []
    for k, s in enumerate(limb.s[0]):
        worst = limb.worst_at(k)
        force = {name if name == "web" else name.upper(): value[k] for name, value in at.items()}
        rows.append(
            Station(
                s=s,
                depth=part.depth[0, k],
                **force,
                sigma_plus=plus[k],
                sigma_minus=minus[k],
                tau_web=-at["web"][k] * part.points.v2[0, k, 3],
                normal=worst.normal[0, c, p],
                shear=worst.shear[0, c, p],
                equivalent=worst.equivalent[0, c, p],
                worst_point=names[int(worst.point[0, c, p])],
            )
        )
    return tuple(rows)
