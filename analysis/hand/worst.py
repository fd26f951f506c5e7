"""Positions of the swing that load the arm most and least."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.cycles import paired
from analysis.hand.evaluate import Hand
from analysis.mechanics.statics import residual
from params.steps.arrays import Floats


def unbalanced(hand: Hand) -> Floats:
    """Residual of equilibrium by case and position."""
    return residual(hand.response.arm, hand.response.mass, hand.response.statics)[0]


def loading(hand: Hand) -> Floats:
    """How much each case loads the arm at each position, (C, P): the larger bending moment at the hub edge of both arms; of
    equals, the larger pivot reaction."""
    moment = np.maximum(*(np.abs(limb.root.m3[0, :, :, 0]) for limb in hand.response.limbs))
    return moment + 1e-9 * np.hypot(*hand.response.statics.pivot[:2, 0])


def governing_position(hand: Hand) -> NDArray[np.intp]:
    """Position of each case that loads the arm most."""
    return np.argmax(loading(hand), axis=1)


def least_position(hand: Hand) -> NDArray[np.intp]:
    """Position of each case that loads the arm least."""
    return np.argmin(loading(hand), axis=1)


def at_least(hand: Hand) -> dict[str, tuple[int, int]]:
    """Number and least position of each load case that a duty pair names, where that is not its governing position."""
    most, least, cases = governing_position(hand), least_position(hand), list(hand.response.arm.load_cases)
    numbers = [cases.index(case) for case in paired(hand.response.arm)]
    return {cases[c]: (c, int(least[c])) for c in numbers if least[c] != most[c]}
