"""Growth against closed forms and a general-purpose integrator; critical size, intervals, acceptable flaws."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from analysis.fracture import cracks_plate
from analysis.fracture.bodies import Edge, HoleCorner, HoleThrough, Surface, Through
from analysis.fracture.bodies_profile import ProfileEdge
from analysis.fracture.critical import critical_size
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Block, End, Factors, Service, grow, swing, use
from analysis.fracture.growth_law import LAWS
from analysis.fracture.inspection import Method, acceptable_flaw, interval
from analysis.fracture.toughness import MPA_ROOT_M
from analysis.fracture.weight_function import Profile
from params.steps.problems import OutOfRange
from tests.fracture.loading import cycle

STEEL = Diagram(240.0, 450.0, 205e3)
ELASTIC = Diagram(1e5, 1e5, 1e9)  # so strong that toughness alone counts


def service(
    stress=100.0, bending=0.0, law="simplified", toughness=60.0 * MPA_ROOT_M, diagram=ELASTIC, ratio=0.5
):
    at = np.array([stress, bending])
    return Service([cycle(1000.0, at, ratio)], at, LAWS[law], diagram, toughness)


def paris(first, last, stress, per_year=1000.0, constant=5.21e-13, m=3.0):
    """Closed form: years of a through crack in a wide plate from one half length to another."""
    part = (last ** (1 - m / 2) - first ** (1 - m / 2)) / (1 - m / 2)
    return part / (constant * (stress * math.sqrt(math.pi)) ** m) / per_year


def critical_half_length(stress, toughness):
    return (toughness / stress) ** 2 / math.pi


def test_life_to_toughness_is_the_paris_integral():
    """Irwin's limit and Paris's integral, closed forms; steps of 2 % cost under 0.01 %."""
    last = critical_half_length(100.0, 60.0 * MPA_ROOT_M)
    made = grow(Through(), [3.0], service())
    assert float(made.years[0]) == pytest.approx(paris(3.0, last, 100.0), rel=2e-4)
    assert float(made.sizes[0, 0]) == pytest.approx(last, rel=1e-3)
    assert made.cause[0] == End.TOUGHNESS
    assert float(made.cycles(service())[0]) == pytest.approx(1000.0 * float(made.years[0]))


def test_error_falls_with_the_square_of_the_step():
    """Second order: a quarter of the error for half of the step."""
    exact = paris(3.0, critical_half_length(100.0, 60.0 * MPA_ROOT_M), 100.0)
    errors = [
        abs(float(grow(Through(), [3.0], service(), step=h).years[0]) / exact - 1.0)
        for h in (0.16, 0.08, 0.04)
    ]
    # First order would give 2, third order 8; the last step, cut where the diagram is reached, blurs the 4.
    assert 3.0 < errors[0] / errors[1] < 7.0
    assert errors[2] < 2e-4


def test_two_stages_are_two_paris_integrals():
    """The transition lies at dK 196 for the mean line, R >= 0.5: both sides by the closed form."""
    stress, law = 40.0, LAWS["two-stage mean"]
    turn = critical_half_length(stress, law.transition(0.5))
    last = critical_half_length(stress, 500.0)
    by_hand = paris(1.0, turn, stress, 1000.0, *law.high[0]) + paris(turn, last, stress, 1000.0, *law.high[1])
    made = grow(Through(), [1.0], service(stress, law="two-stage mean", toughness=500.0), horizon=1e9)
    assert 1.0 < turn < last
    assert float(made.years[0]) == pytest.approx(by_hand, rel=1e-3)


def test_surface_crack_against_a_general_integrator():
    """Depth and length by solve_ivp in cycles at 1e-10, an other variable and an other method than ours."""
    body, kept = Surface(60.0, 500.0), service(90.0, 30.0, law="two-stage upper", ratio=0.1)
    made = grow(body, [6.0, 15.0], kept, horizon=1e9)
    (a1, m1), (a2, m2) = (4.37e-26, 8.16), (6.77e-13, 2.88)

    def rates(_, sizes):
        a, c = sizes
        out = []
        for phi in (math.pi / 2.0, 0.0):
            k = float(cracks_plate.surface(90.0, 30.0, a, c, 60.0, 500.0, phi))
            out.append(1000.0 * min(a1 * k**m1, a2 * k**m2) if k > 170.0 - 21.4 else 0.0)
        return out

    years = np.linspace(0.0, float(made.path_years[-1]) * 0.98, 5)
    there = solve_ivp(rates, (0.0, years[-1]), [6.0, 15.0], t_eval=years, rtol=1e-9, atol=1e-9)
    for row, sizes in enumerate(there.y):
        ours = np.interp(years, made.path_years, made.path_sizes[row])
        assert ours == pytest.approx(sizes, rel=1e-3)


def test_blocks_add_their_growth():
    one, other = (cycle(often, [100.0, 0.0], 0.5) for often in (400.0, 600.0))
    base = service()
    both = Service([one, other], base.highest, base.law, base.diagram, base.toughness)
    assert grow(Through(), [3.0], both).years == pytest.approx(grow(Through(), [3.0], base).years, rel=1e-12)


def test_factors_of_each_crack():
    """Twice the growth constant halves the life; load goes with the power of the law where the end is fixed."""
    made = grow(Through(), np.full((1, 3), 3.0), service(), Factors(growth=np.array([1.0, 2.0, 0.5])))
    assert made.years == pytest.approx(made.years[0] * np.array([1.0, 0.5, 2.0]), rel=1e-9)
    tough = grow(Through(), np.full((1, 2), 3.0), service(), Factors(toughness=np.array([1.0, 1.5])))
    last = critical_half_length(100.0, 90.0 * MPA_ROOT_M)
    assert float(tough.years[1]) == pytest.approx(paris(3.0, last, 100.0), rel=2e-4)


def test_ends_say_why():
    below = grow(Through(), [1.0], service(30.0))  # 30 sqrt(pi) = 53 below 63
    assert below.cause[0] == End.ARREST
    assert math.isinf(float(below.years[0]))
    late = grow(Through(), [3.0], service(), horizon=0.1)
    assert late.cause[0] == End.HORIZON
    tough = service(200.0, toughness=1e6, diagram=STEEL)
    flat = grow(Through(400.0), [3.0], tough)
    assert flat.cause[0] == End.COLLAPSE
    # Net section by hand: 200/(1 - 2a/400) = (240 + 450)/2.
    assert float(flat.sizes[0, 0]) == pytest.approx(200.0 * (1.0 - 200.0 / 345.0), rel=1e-3)
    deep = grow(Surface(20.0), [5.0, 10.0], service(60.0, toughness=1e6))
    assert deep.cause[0] == End.RANGE
    assert 0.78 * 20.0 < float(deep.sizes[0, 0]) <= 0.8 * 20.0
    broken = grow(Through(), [3.0], service(toughness=100.0))
    assert (broken.years[0], broken.cause[0]) == (0.0, End.TOUGHNESS)


def test_residual_stress_counts_in_toughness_not_in_the_net_section():
    base = service(toughness=60.0 * MPA_ROOT_M, diagram=STEEL)
    even = np.array([200.0, 0.0])
    held = Service(base.blocks, base.highest, base.law, STEEL, base.toughness, residual=even)
    free, worse = (critical_size(Surface(50.0), [1.0, 2.0], part) for part in (base, held))
    assert float(worse.sizes[0]) < 0.5 * float(free.sizes[0])
    strong = Service(base.blocks, base.highest, base.law, STEEL, 1e7, residual=even)
    wide = critical_size(Through(500.0), [1.0], strong)
    assert float(wide.sizes[0]) == pytest.approx(
        250.0 * (1.0 - 100.0 / 345.0), rel=1e-3
    )  # net section, no residual


@pytest.mark.parametrize(
    ("body", "sizes"),
    [
        (Surface(60.0, 400.0), [4.0, 8.0]),
        (Edge(200.0), [5.0]),
        (HoleThrough(30.0, 60.0, 400.0), [5.0]),
        (HoleCorner(30.0, 60.0, 400.0, 2), [5.0, 5.0]),
        (
            ProfileEdge(Profile(np.array([0.0, 20.0, 200.0]), [[2.0, 1.2, 1.0], [1.0, 1.0, 1.0]]), 200.0),
            [5.0],
        ),
    ],
)
def test_every_body_grows_to_its_critical_size(body, sizes):
    """Growing and searching are two ways to one limit: where growth ends the diagram is used up."""
    kept = service(60.0, diagram=STEEL)
    made = grow(body, sizes, kept, horizon=1e6)
    assert made.cause[0] in (End.TOUGHNESS, End.COLLAPSE, End.RANGE)
    assert (np.diff(made.path_years) > 0.0).all()
    assert (np.diff(made.path_sizes, axis=1) >= 0.0).all()
    if made.cause[0] != End.RANGE:
        limit = critical_size(body, made.sizes[:, 0], kept)
        assert float(limit.sizes[0]) == pytest.approx(float(made.sizes[0, 0]), rel=2e-3)


def test_critical_size_is_irwins():
    made = critical_size(Through(), [1.0], service())
    assert float(made.sizes[0]) == pytest.approx(critical_half_length(100.0, 60.0 * MPA_ROOT_M), rel=2e-4)
    assert made.cause == End.TOUGHNESS
    assert made.kr == pytest.approx(1.0, rel=2e-4)


def test_interval_is_the_paris_integral_over_the_factor():
    last = critical_half_length(100.0, 60.0 * MPA_ROOT_M)
    made = interval(Through(), Method("ultrasonics", 5.0, 5.0), service(), 2.0, longest=500.0)
    assert made.life == pytest.approx(paris(5.0, last, 100.0), rel=2e-4)
    assert made.years == pytest.approx(made.life / 2.0)
    useless = interval(Through(), Method("radiography", 1.1 * last, 0.0), service(), 2.0)
    assert useless.years == 0.0
    assert "critical before" in useless.note
    calm = interval(Through(), Method("magnetic particle", 1.0, 1.0), service(30.0), 2.0, longest=25.0)
    assert math.isinf(calm.years) and calm.note == "not governed by growth; workmanship limits apply"
    large = interval(Surface(20.0), Method("radiography", 30.0, 40.0), service(), 2.0)
    assert (large.years, large.life) == (0.0, 0.0)


def test_acceptable_flaw_is_the_paris_integral_backwards():
    """Closed form solved for the first size: a0^(-1/2) = ac^(-1/2) + N C (S sqrt(pi))^3 / 2."""
    last, years = critical_half_length(100.0, 60.0 * MPA_ROOT_M), 30.0
    wanted = (last**-0.5 + 2.0 * years * 1000.0 * 5.21e-13 * (100.0 * math.sqrt(math.pi)) ** 3 / 2.0) ** -2
    made = acceptable_flaw(Through(), [1.0], service(), years, 2.0)
    assert float(made.sizes[0]) == pytest.approx(wanted, rel=5e-3)
    assert float(made.sizes[0]) <= wanted * (1.0 + 1e-3)  # the safe side
    assert float(made.critical[0]) == pytest.approx(last, rel=2e-4)
    still = acceptable_flaw(Through(), [1.0], service(), 0.0)
    assert float(still.sizes[0]) == pytest.approx(last, rel=1e-3)


def test_an_impossible_wish_is_a_note_not_a_size():
    hopeless = acceptable_flaw(Through(), [1.0], service(300.0, toughness=20.0), 10.0)
    assert not hopeless.sizes.any()
    assert "no flaw" in hopeless.note


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (
            lambda: grow(Surface(20.0), [25.0, 30.0], service()),
            "depth 25.0 mm, half length 30.0 mm is larger than",
        ),
        (lambda: grow(Surface(20.0), [5.0], service()), "depth and half length expected"),
        (lambda: grow(Through(), [-1.0], service()), "each more than 0 mm"),
        (lambda: Block(0.0, np.eye(2)), "more than 0, and 2 states or more"),
        (lambda: Block(1.0, np.eye(2)[:1]), "1 cycles a year between 1 states"),
        (lambda: interval(Through(), Method("x", 1.0, 1.0), service(), 0.5), "factor on life 0.5"),
        (
            lambda: critical_size(HoleCorner(20.0, 30.0, 200.0), [1.0, 20.0], service()),
            "lies in its solution's range",
        ),
    ],
)
def test_impossible_input_is_one_clear_line(call, told):
    with pytest.raises(ValueError, match=told) as error:
        call()
    assert "\n" not in str(error.value)


def test_range_and_ratio_are_those_of_k_at_the_front():
    """Two states of which one is pure bending that the deepest point does not feel like the mouth: by hand from K per MPa."""
    body, sizes = Surface(40.0), np.array([[10.0], [20.0]])
    m, b = body.influence(sizes)
    states = np.array([[20.0, 60.0], [80.0, -30.0], [50.0, 10.0]])
    kept = Service(
        [Block(1.0, states)], states, LAWS["simplified"], STEEL, 1e3, residual=np.array([40.0, 0.0])
    )
    ranges, ratio = swing(kept, kept.blocks[0], np.stack([m, b]), load=1.5)
    for end in range(2):
        k = [1.5 * float(s * m[end, 0] + t * b[end, 0]) for s, t in states]
        steady = 40.0 * float(m[end, 0])
        assert float(ranges[end, 0]) == pytest.approx(max(k) - min(k))
        assert float(ratio[end, 0]) == pytest.approx((min(k) + steady) / (max(k) + steady))


def test_a_front_that_stays_closed_does_not_grow():
    pressed = Service([cycle(1e6, [-100.0, 0.0], 0.5)], np.zeros(2), LAWS["simplified"], STEEL, 1e3)
    assert grow(Through(), [20.0], pressed).cause[0] == End.ARREST
    opened = Service(
        pressed.blocks, pressed.highest, pressed.law, STEEL, 1e4, residual=np.array([150.0, 0.0])
    )
    assert math.isfinite(
        float(grow(Through(), [20.0], opened).years[0])
    )  # residual stress holds it open part of the way


def test_the_worst_of_several_highest_states_counts():
    states = np.array([[40.0, 0.0], [90.0, 0.0], [-200.0, 0.0]])
    one = Service([], states[1], LAWS["simplified"], STEEL, 2e3)
    all_ = Service([], states, LAWS["simplified"], STEEL, 2e3)
    sizes = np.array([[8.0, 20.0]])
    for alone, among in zip(use(Through(), sizes, one), use(Through(), sizes, all_), strict=True):
        assert among == pytest.approx(alone)


def test_beyond_the_range_is_an_error_of_its_kind():
    for call in (
        lambda: grow(Surface(20.0), [25.0, 30.0], service()),
        lambda: critical_size(HoleCorner(20.0, 30.0, 200.0), [1.0, 20.0], service()),
    ):
        with pytest.raises(OutOfRange):
            call()
