"""Cases at the position that loads the arm least: their forces, their stress on a mesh, and that nothing else of them shows."""

from __future__ import annotations

import numpy as np
import pytest

from analysis.contracts.loads import Bore
from analysis.elastic.mesh import Mesh
from analysis.fatigue.stresses import ADDED, histories
from analysis.fatigue.variants import this_arm
from analysis.hand.evaluate import evaluate
from analysis.hand.handover import loads as loads_of
from analysis.hand.worst import governing_position, least_position
from analysis.proof.cases import fields, prove
from analysis.tables.files import write_json
from geometry.mesher import mesh_arm
from geometry.meshfile import read_mesh, write_vtu
from geometry.solid import main as make_solid
from params.files.read import read_material
from params.steps.contract import Vector
from tests.arms import ARMS, demo, raised_and_lowered

ARM = raised_and_lowered(demo("bench-lever"))
STEEL = read_material(ARM.material)


@pytest.mark.parametrize("name", ["bench-lever", "linkspan-rocker", "sluice-crank"])
def test_the_pair_s_cases_stand_where_the_pin_s_moment_is_least(name):
    """By statics: the moment of the force at a pin about the hub's edge is less there than where the case is solved first."""
    arm = demo(name)
    loads = loads_of(evaluate(arm, read_material(arm.material)))
    assert loads.least
    for case, one in loads.least.items():
        assert one.fraction != loads.cases[case].fraction
        if arm.load_cases[case].load_factor == 0.0:
            continue  # weight alone, which this balance leaves out
        assert largest(arm, one) < largest(arm, loads.cases[case])


def largest(arm, load):
    """Moment of a pin's force about the hub's edge on the arm's axis, N mm, the larger of both arms; weight left out."""
    edge, angle = arm.geometry.pivot.outside / 2.0, arm.geometry.included_angle
    moments = []
    for bore, length, turn in (
        ("input_bore", arm.geometry.input_arm, angle),
        ("output_bore", arm.geometry.output_arm, 0.0),
    ):
        fx, fy, _ = load.bores[bore].force
        moments.append(abs((length - edge) * (np.cos(turn) * fy - np.sin(turn) * fx)))
    return max(moments)


def test_a_case_that_no_pair_names_is_left_out():
    hand = evaluate(ARM, STEEL)
    paired = {name for pair in ARM.duty.pairs for name in (pair.from_case, pair.to_case)}
    assert "jam-extend" not in paired and set(loads_of(hand).least) == paired


def test_a_case_held_at_one_position_is_left_out():
    """Where one position is looked at, least and most are the same."""
    hand = evaluate(ARM, STEEL, fraction=np.array([0.5]))
    assert (governing_position(hand) == least_position(hand)).all()
    assert loads_of(hand).least == {}


def halved(values: Vector) -> Vector:
    x, y, z = values
    return 0.5 * x, 0.5 * y, 0.5 * z


@pytest.fixture(scope="module")
def solved(tmp_path_factory):
    """A coarse mesh, the cases, and at their least: raise as it stands in loads.json, lower with half of its forces and weight."""
    folder = tmp_path_factory.mktemp("least")
    make_solid(ARMS / "bench-lever.yaml", folder)
    mesh_arm(folder / "arm.brep", folder / "faces.json", ARM.mesh, folder / "arm.msh", per_quarter=3)
    wanted = loads_of(evaluate(ARM, STEEL))
    full = wanted.cases["lower"]
    bores = {
        name: Bore(force=halved(one.force), moment=halved(one.moment)) for name, one in full.bores.items()
    }
    half = full.model_copy(update={"gravity": halved(full.gravity), "bores": bores})
    least = {"raise": wanted.least["raise"], "lower": half}
    write_json(folder / "loads.json", wanted.model_copy(update={"least": least}))
    arrays = read_mesh(folder / "arm.msh")
    return folder, arrays, wanted, least, prove(Mesh.of(arrays), ARM, STEEL, wanted.cases, least)


@pytest.mark.slow
def test_half_the_load_is_half_the_stress(solved):
    """Linear elasticity."""
    _, _, _, _, proof = solved
    full = proof.stress[proof.cases.index("lower")]
    assert proof.least["lower"] == pytest.approx(0.5 * full, abs=1e-7 * np.abs(full).max())


@pytest.mark.slow
def test_the_bore_carries_the_force_of_the_least(solved):
    """Traction on the output bore adds up to the pin's force there."""
    _, arrays, _, least, proof = solved
    faces = arrays.surfaces["output_bore"]
    a, b, c = (arrays.points[faces[:, k]] for k in range(3))
    area = np.zeros(len(arrays.points))
    third = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)[:, None].repeat(3, 1) / 3.0
    np.add.at(area, faces[:, 3:], third)
    nodes = np.flatnonzero(area)
    away = arrays.points[nodes, :2] - [ARM.geometry.output_arm, 0.0]
    away /= np.linalg.norm(away, axis=1, keepdims=True)
    xx, yy, _, xy, _, _ = proof.least["raise"][nodes].T
    pull = np.stack([xx * away[:, 0] + xy * away[:, 1], xy * away[:, 0] + yy * away[:, 1]])
    wanted = np.array(least["raise"].bores["output_bore"].force[:2])
    # outward normals of the bore's metal point to its axis; three elements a quarter, the rim shared with the free chamfer
    assert -(pull * area[nodes]).sum(axis=1) == pytest.approx(wanted, abs=0.06 * np.hypot(*wanted))


@pytest.mark.slow
def test_the_cases_do_not_change_and_the_rest_stays_out_of_sight(solved):
    _, arrays, wanted, _, proof = solved
    alone = prove(Mesh.of(arrays), ARM, STEEL, wanted.cases)
    # one factor, more right sides: the last digits only
    assert proof.stress == pytest.approx(alone.stress, abs=1e-9 * np.abs(alone.stress).max())
    assert proof.error == pytest.approx(alone.error, rel=1e-9)
    for one in (proof.stress, proof.solution.displacement, proof.error, proof.loaded, proof.cases):
        assert len(one) == len(ARM.load_cases)
    figures = proof.solution.figures
    assert {len(one) for one in (figures.residual, figures.reaction, figures.energy)} == {len(ARM.load_cases)}
    (nodal, cells), (bare, same) = fields(proof), fields(alone)
    assert set(nodal) - set(bare) == {"stress:raise at its least", "stress:lower at its least"}
    assert set(cells) == set(same)


@pytest.mark.slow
def test_states_read_back_in_the_order_of_their_numbers(solved):
    folder, arrays, _, _, proof = solved
    write_vtu(folder / "stress.vtu", arrays, *fields(proof))
    _, stress, source = histories(folder, ARM, this_arm(ARM, STEEL))
    assert source == ADDED and len(stress) == len(ARM.load_cases) + 2
    names = list(ARM.load_cases)
    largest = np.abs(proof.stress).max()
    for number, name in enumerate(names):  # single precision in the file
        assert stress[number] == pytest.approx(proof.stress[proof.cases.index(name)], abs=1e-6 * largest)
    for number, name in enumerate(("raise", "lower"), start=len(names)):
        assert stress[number] == pytest.approx(proof.least[name], abs=1e-6 * largest)
