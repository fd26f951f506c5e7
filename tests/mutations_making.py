"""Formulas of routes, dates and the decision broken on purpose, see `tests.mutations`."""

from __future__ import annotations

from tests.broken import Mutation

MAKING = "tests/making/"
DATES = "analysis/making/dates/"

MAKING_MUTATIONS = (
    Mutation(
        "analysis/making/routes/tried.py",
        "(1.0 + hand[place]) * lacking - 1.0",
        "hand[place] * lacking",
        MAKING + "test_tried.py::test_within_a_step_of_the_lightest_in_a_long_front",
    ),
    Mutation(
        "analysis/making/routes/tried.py",
        "return answer.least_margin if isinstance(answer, Summary)",
        "return answer.hand_margin if isinstance(answer, Summary)",
        MAKING + "test_tried.py::test_from_front_to_best",
    ),
    Mutation(
        "analysis/making/pieces/joints.py",
        "strength = route.factors.joint * now",
        "strength = now",
        MAKING + "test_split.py::test_joint_stress_is_that_of_the_member_check",
    ),
    Mutation(
        "analysis/making/pieces/joints.py",
        "direct(min(classes), PARTIAL, thickness",
        "direct(min(classes), 1.0, thickness",
        MAKING + "test_split.py::test_damage_of_a_joint_in_closed_form",
    ),
    Mutation(
        "analysis/making/decision/flip.py",
        "(day - order).days + 1.0",
        "(day - order).days + 0.0",
        MAKING + "test_decision.py::test_chance_and_lateness_by_hand",
    ),
    Mutation(
        DATES + "window.py",
        "closes - np.maximum(ready, opens)",
        "closes - ready",
        MAKING + "test_window.py::test_work_that_varies_by_hand",
    ),
    Mutation(
        DATES + "window.py",
        "chance = chance * self.missed(ready, number)",
        "chance = self.missed(ready, number)",
        MAKING + "test_window.py::test_a_short_outage_is_missed_again_and_again",
    ),
    Mutation(
        DATES + "ways.py",
        "np.minimum(first.ready, second.ready)",
        "np.maximum(first.ready, second.ready)",
        MAKING + "test_ways.py::test_two_routes_at_once_by_hand",
    ),
    Mutation(
        DATES + "threepoint.py",
        "(low + 4.0 * likely + high) / 6.0 if",
        "likely if",
        MAKING + "test_ways.py::test_published_schedules_planned_and_by_the_normal_approximation",
    ),
    Mutation(
        "analysis/making/routes/sweep.py",
        'f"d{one.first + index:06d}"',
        'f"d{index:06d}"',
        MAKING + "test_fit.py::test_the_best_over_all_materials",
    ),
)
