"""Formulas broken on purpose: `python -m tests.mutations [word]` breaks each in a copy and says whether its test fails.

A mutation that survives means that the test does not hold the formula. `tests/test_mutations.py` checks that each still fits.
"""

from __future__ import annotations

import sys

from tests.broken import Mutation, survivors
from tests.mutations_making import MAKING_MUTATIONS

STATICS = "tests/hand/test_statics.py::"
BLANKS, PACKAGE = "tests/package/test_blanks.py::", "tests/package/test_package.py::"
SECTIONS = "tests/hand/test_sections.py::"
CLAUSES = "tests/hand/test_clauses.py::"
BEAM = "tests/hand/test_beam.py::"
MAKING = "tests/making/"
MECH, CLAUSE = "analysis/mechanics/", "analysis/clauses/"
SUBSTITUTIONS = "tests/record/test_substitutions.py::"
FATIGUE, SEATED = "analysis/fatigue/", "tests/fatigue/test_in_surface.py::"
PLANE, PATHS = "tests/fatigue/test_plane.py::", "tests/fracture/test_paths.py::"
VARIANTS = "tests/fatigue/test_variants.py::"
CONTACT = "tests/contact/test_contact.py::"
FRACTURE = "tests/fracture/"

MUTATIONS = (
    Mutation(
        "analysis/fracture/path.py",
        "2.0 * x * y, 2.0 * y * z, 2.0 * z * x",
        "2.0 * x * y, 2.0 * z * x, 2.0 * y * z",
        PATHS + "test_shear_opens_the_planes_between",
    ),
    Mutation(
        "analysis/fracture/driven.py",
        "min(a, b) + residual, max(a, b) + residual",
        "min(a, b), max(a, b) + residual",
        PATHS + "test_residual_stress_raises_the_ratio_and_has_a_profile_of_its_own",
    ),
    Mutation(
        "analysis/fatigue/plane_kernel.py", "min(low, passed)", "low", PLANE + "test_three_states_by_pen"
    ),
    Mutation(
        "analysis/fatigue/stresses.py",
        "tensor[:, 0] = radial * c * c + hoop * s * s",
        "tensor[:, 0] = radial * s * s + hoop * c * c",
        VARIANTS + "test_a_tight_fit_adds_the_hoop_stress_of_a_thick_ring",
    ),
    Mutation(
        "analysis/hand/fatigue_and_flaws.py",
        "reversed_**curve.slope @ often",
        "reversed_**curve.slope_beyond @ often",
        VARIANTS + "test_fatigue_at_the_blend_by_arithmetic",
    ),
    Mutation(
        CLAUSE + "fracture.py",
        "CORNER * np.sqrt(np.pi * a)",
        "CORNER * np.sqrt(a)",
        VARIANTS + "test_flaw_at_the_rim_by_arithmetic",
    ),
    Mutation(
        "analysis/hand/fatigue_and_flaws.py",
        "[] if steady is None",
        "[] if True",
        VARIANTS + "test_a_tight_fit_counts_in_the_hand_check_of_its_bore_alone",
    ),
    Mutation(
        "analysis/fatigue/stresses.py",
        "interference[2, -1]",
        "interference[2, 0]",
        VARIANTS + "test_a_bush_pressed_into_the_arm_frets_under_a_shaft_that_turns_in_it",
    ),
    Mutation(
        "analysis/fatigue/curve_at.py",
        "fat_curve.shortened(iiwclass.damage_limit(varying))",
        "fat_curve",
        "tests/fatigue/test_states.py::test_a_fat_class_with_thickness_and_half_the_miner_sum",
    ),
    Mutation(
        "analysis/fracture/growth.py",
        "np.where(opens, (low + steady) / np.where(opens, top, 1.0), -1.0)",
        "np.where(opens, low / np.where(opens, top, 1.0), -1.0)",
        FRACTURE + "test_growth.py::test_range_and_ratio_are_those_of_k_at_the_front",
    ),
    Mutation(
        "analysis/fracture/moments.py",
        "_powers(u, p) - _powers(u, p + 1.0)",
        "_powers(u, p) + _powers(u, p + 1.0)",
        FRACTURE + "test_cracks.py::test_weight_function_integral_is_exact_for_points",
    ),
    Mutation(
        "analysis/fracture/surface_weight.py",
        "m3 = 6.0 * (2.0 * two - one)",
        "m3 = 6.0 * (one - 2.0 * two)",
        FRACTURE + "test_cracks.py::test_surface_crack_under_a_curved_stress_tends_to_the_edge_crack",
    ),
    Mutation(
        "analysis/fracture/hole_weight.py",
        "[0.3765, -6.0448,",
        "[0.3965, -6.0448,",
        FRACTURE + "test_hole.py::test_weight_function_of_through_cracks",
    ),
    Mutation(
        "analysis/fracture/cracks_hole.py",
        "np.clip((aspect - 0.5) / 0.6, 0.0, 0.9)",
        "np.clip(aspect, 1.0, 2.0)",
        FRACTURE + "test_hole.py::test_corner_cracks_as_elements_had_them",
    ),
    Mutation(
        "analysis/fracture/limit_load.py",
        "(radius + np.asarray(middle, float))",
        "np.asarray(middle, float)",
        FRACTURE + "test_residual.py::test_strip_with_a_hole_cracked_on_one_side_by_equilibrium",
    ),
    Mutation(
        "analysis/fracture/embedded.py",
        "mean - slope * a * (0.5",
        "mean + slope * a * (0.5",
        FRACTURE + "test_embedded.py::test_round_and_long_flaws_under_a_slope",
    ),
    Mutation(
        "params/schema/cracks.py",
        "SINGLE * point.energy",
        "point.energy",
        FRACTURE + "test_found.py::test_toughness_of_the_file",
    ),
    Mutation(
        "analysis/fracture/survival.py",
        "years, left = lives.years[~lives.known], lives.left[~lives.known]",
        "years, left = lives.years, lives.left",
        FRACTURE + "test_survival.py::test_what_the_arm_has_carried_does_not_count_against_it",
    ),
    Mutation(
        "analysis/fracture/survival.py",
        "gone & left",
        "gone & ~gone",
        FRACTURE + "test_survival.py::test_samples_beyond_the_range_are_a_share_of_their_own",
    ),
    Mutation(
        "analysis/fracture/survival.py",
        "if scatter.growth and service.law.mean",
        "if False",
        "tests/fracture/test_survival.py::test_law_above_the_mean_scatters_about_the_published_mean",
    ),
    Mutation(
        "analysis/contact/pairs.py",
        "sizes.sum(axis=1)[:, None] / 3.0",
        "sizes.sum(axis=1)[:, None] / 2.0",
        CONTACT + "test_surfaces_that_do_not_match_are_refused",
    ),
    Mutation(
        "analysis/contact/active_set.py",
        "now = self.gap < 0.0",
        "now = self.gap < 1.0",
        CONTACT + "test_pin_with_clearance_bears_as_persson_says",
    ),
    Mutation(
        "analysis/hand/worked/statics.py",
        "Rx = -(F*u1x + P*u2x)",
        "Rx = -(F*u1x - P*u2x)",
        SUBSTITUTIONS + "test_every_substitution_gives_its_printed_result",
    ),
    Mutation(
        "analysis/record/mathset.py",
        'f"({whole(left)})/({whole(right)})"',
        'f"({whole(right)})/({whole(left)})"',
        SUBSTITUTIONS + "test_every_substitution_gives_its_printed_result",
    ),
    Mutation(
        "analysis/hand/worked/working.py",
        "carried if line.symbol in used else SHOWN",
        "SHOWN",
        SUBSTITUTIONS + "test_last_lines_are_the_row_of_the_table",
    ),
    Mutation(
        MECH + "statics.py",
        "np.sign(push_arm) * lag *",
        "-np.sign(push_arm) * lag *",
        STATICS + "test_friction_opposes_the_motion_and_has_its_size",
    ),
    Mutation(
        MECH + "statics.py",
        "pin.diameter / 2.0",
        "pin.diameter",
        STATICS + "test_friction_opposes_the_motion_and_has_its_size",
    ),
    Mutation("params/rules/derived.py", "extend - math.pi", "extend - 0.0", STATICS + "test_piston_areas"),
    Mutation(
        MECH + "statics.py",
        "value / np.abs(pose.pull_arm)",
        "value / arm.geometry.output_arm",
        STATICS + "test_resisting_moment_is_met",
    ),
    Mutation(
        MECH + "statics.py",
        "cg[:, 0] * np.cos(line.phi) - cg[:, 1]",
        "cg[:, 0] * np.cos(line.phi) + cg[:, 1]",
        STATICS + "test_forces_and_moments_of_any_arm_close",
    ),
    Mutation(
        MECH + "sections.py",
        "spandrel * up**2",
        "spandrel * up",
        SECTIONS + "test_against_a_general_section_solver",
    ),
    Mutation(
        MECH + "sections.py",
        "- 0.420 * tf**4",
        "",
        SECTIONS + "test_rolled_shapes_stand_as_in_their_tables",
    ),
    Mutation(MECH + "sections.py", "j = 4.0 * cell**2", "j = 2.0 * cell**2", SECTIONS + "test_box_of_plates"),
    Mutation(
        MECH + "sections.py",
        "q_middle = q_flange + tw * hw**2 / 8.0",
        "q_middle = q_flange + tw * hw**2 / 4.0",
        SECTIONS + "test_shear_flow_carries_the_whole_shear",
    ),
    Mutation(
        MECH + "sections.py",
        "np.tanh(reach / a)",
        "1.0",
        SECTIONS + "test_warping_stress_of_a_twisted_cantilever",
    ),
    Mutation(
        MECH + "internal_forces.py",
        "v2 + m3 * taper",
        "v2 - m3 * taper",
        BEAM + "test_web_shear_in_a_wedge_with_inclined_flanges",
    ),
    Mutation(
        MECH + "internal_forces.py",
        "offset * fs - reach * fz",
        "offset * fs + reach * fz",
        BEAM + "test_internal_forces_are_those_of_the_outer_piece",
    ),
    Mutation(
        MECH + "internal_forces.py",
        "sigma * sigma + 3.0 * tau * tau",
        "sigma * sigma + tau * tau",
        BEAM + "test_shear_counts_with_the_root_of_three",
    ),
    Mutation(
        MECH + "internal_forces.py",
        "here + 2.0 * there",
        "here + there",
        BEAM + "test_internal_forces_are_those_of_the_outer_piece",
    ),
    Mutation(
        MECH + "deflection.py",
        "weight * moment * unit_moment",
        "weight * moment",
        "tests/hand/test_deflection.py::test_straight_cantilever",
    ),
    Mutation(
        CLAUSE + "concentration.py",
        "(b - a) / np.log(b / a)",
        "(a + b) / 2.02",
        "tests/hand/test_concentration.py::test_curved_bar_in_pure_bending",
    ),
    Mutation(CLAUSE + "bth1.py", "1.0 - 0.275 * np", "1.0 - 0.257 * np", CLAUSES + "test_bth1_pin_plate"),
    Mutation(CLAUSE + "bth1.py", "1.13 * (R - Dh / 2.0)", "1.13 * R", CLAUSES + "test_bth1_pin_plate"),
    Mutation(CLAUSE + "en1993.py", "0.8 * modulus(d)", "1.5 * modulus(d)", CLAUSES + "test_en1993_pin"),
    Mutation(
        CLAUSE + "aisc360.py",
        "2.0 * t * (a + d / 2.0)",
        "2.0 * t * a",
        CLAUSES + "test_aisc_pin_connected_plate",
    ),
    Mutation(
        CLAUSE + "stability.py",
        "np.pi**2 * E * Cw",
        "np.pi * E * Cw",
        CLAUSES + "test_elastic_critical_moment_of_rolled_shapes",
    ),
    Mutation(
        "geometry/pattern.py",
        "foot - top), -draft)",
        "foot - top), draft)",
        BLANKS + "test_pattern_holds_the_part_with_its_stock_at_every_face",
    ),
    Mutation(
        "geometry/plates.py",
        "hole = size.bore - 2.0 * stock",
        "hole = size.bore + 2.0 * stock",
        BLANKS + "test_outlines_are_closed_clean_and_at_full_size",
    ),
    Mutation(
        "analysis/package/archive.py",
        "if fault:",
        "if False:",
        PACKAGE + "test_names_that_lead_out_of_the_folder",
    ),
    Mutation(
        "analysis/drawing/border.py",
        "LEFT, OTHER = 20.0, 10.0",
        "LEFT, OTHER = 25.0, 10.0",
        "tests/package/test_drawing.py::test_sheet_sizes_of_iso_5457",
    ),
    Mutation(
        MECH + "hub_forces.py", 'root["M3"] + root["V2"] * radius', 'root["M3"]', "tests/hand/test_hub.py"
    ),
    Mutation(FATIGUE + "meanstress.py", "max(m, -a)", "m", SEATED + "test_mild_steel_hardly_feels_a_compr"),
    Mutation(FATIGUE + "in_surface.py", "within @ full", "full", SEATED + "test_a_pulsing_contact_pressure"),
    Mutation(
        "analysis/sweep/on_route.py",
        "route.factors.casting / route.factors.across_build",
        "route.factors.casting * route.factors.across_build",
        MAKING + "test_fit.py::test_factors_of_the_demo_routes",
    ),
    Mutation(
        "geometry/stock.py",
        "hole = bore.bore - 2.0 * stock.machining",
        "hole = bore.bore - stock.machining",
        "tests/geometry/test_nearnet.py::test_machined_faces_have_the_machining_stock",
    ),
    *MAKING_MUTATIONS,
)


if __name__ == "__main__":
    sys.exit(survivors(MUTATIONS, *sys.argv[1:2]))
