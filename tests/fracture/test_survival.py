"""The chance of lasting: closed form where one thing scatters, distributions, seeds, months, all samples at once."""

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from scipy import stats

from analysis.fracture.bodies import HoleCorner, HoleThrough, Surface, Through
from analysis.fracture.bodies_profile import ProfileHole
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Service, grow
from analysis.fracture.growth_law import LAWS
from analysis.fracture.survival import (
    DAYS,
    Scatter,
    add_months,
    date_after,
    lognormal,
    months_between,
    sampled_lives,
    survival,
    wilson,
)
from analysis.fracture.toughness import LEAST, MPA_ROOT_M
from analysis.fracture.weight_function import Profile
from params.steps.problems import OutOfRange
from tests.fracture.loading import cycle

FOUND, OUTAGE = date(2026, 3, 15), date(2028, 11, 1)
ELASTIC = Diagram(1e5, 1e5, 1e9)


def service(
    stress=100.0, law="simplified", toughness=60.0 * MPA_ROOT_M, diagram=ELASTIC, per_year=30_000.0, basis=2
):
    at = np.array([stress] if basis == 1 else [stress, 0.0])
    return Service([cycle(per_year, at, 0.5)], at, LAWS[law], diagram, toughness)


def test_scatter_of_the_growth_constant_alone_has_a_closed_form():
    """Life = N/factor, factor lognormal: P(life > t) = Phi(ln(N/t)/s) with s^2 = ln(1 + v^2). 20 000 samples: three
    standard errors of a share are 0.011.
    """
    variation, body, sizes = 0.5, Through(), np.array([10.0])
    life = float(grow(body, sizes, service()).years[0])
    made = survival(body, sizes, service(), Scatter(growth=variation), FOUND, OUTAGE)
    after = np.array([(day - FOUND).days / DAYS for day in made.dates[1:]])
    exact = stats.norm.cdf(np.log(life / after) / math.sqrt(math.log1p(variation**2)))
    assert made.chance[1:] == pytest.approx(exact, abs=0.011)
    assert 0.05 < exact[-1] < 0.95  # the case is no foregone conclusion
    assert made.chance[0] == 1.0


def test_chance_of_lasting_to_a_later_outage_is_that_of_a_longer_wait():
    """The closed form above at the later day, and the months up to the first outage are what they are without it."""
    variation, body, sizes, later = 0.5, Through(), np.array([10.0]), date(2029, 11, 1)
    life = float(grow(body, sizes, service()).years[0])
    made = survival(body, sizes, service(), Scatter(growth=variation), FOUND, OUTAGE, later)
    exact = stats.norm.cdf(
        math.log(life / ((later - FOUND).days / DAYS)) / math.sqrt(math.log1p(variation**2))
    )
    assert made.later == pytest.approx(exact, abs=0.011)
    alone = survival(body, sizes, service(), Scatter(growth=variation), FOUND, OUTAGE)
    assert made.chance.tolist() == alone.chance.tolist() and made.dates == alone.dates
    assert alone.later is None and made.later < made.chance[-1]


def test_law_above_the_mean_scatters_about_the_published_mean():
    """BS 7910, R of 0.5 and more: mean 5.86e-13, mean + 2 standard deviations 1.29e-12, m 2.88 beyond the knee, where this crack
    starts: the median sample lasts 2.20 times as long as the bound says, whatever the scatter."""
    start, base = np.array([10.0]), service(law="two-stage upper")
    bound = float(grow(Through(), start, base).years[0])
    for variation in (0.2, 0.6):
        lives = sampled_lives(Through(), start, base, Scatter(growth=variation), 1e4).years
        # 1.25 s/sqrt(n) = 0.5 % at a variation of 0.6; the knee of the mean line lies below 560 N/mm^1.5 as well
        assert float(np.median(lives)) == pytest.approx(bound * 1.29e-12 / 5.86e-13, rel=0.015)
    assert sampled_lives(Through(), start, base, Scatter(), 1e4).years == pytest.approx(bound, rel=1e-3)


def test_lognormal_has_the_asked_variation():
    z = stats.norm.ppf((np.arange(200_000) + 0.5) / 200_000)
    made = lognormal(0.4, z)
    assert float(np.median(made)) == pytest.approx(1.0, rel=1e-4)
    assert float(made.std() / made.mean()) == pytest.approx(0.4, rel=2e-3)  # cut tails


def test_weibull_toughness_is_that_of_the_standard():
    """Sampled toughness of a crack that breaks at once where K = Kmat: the share that breaks is the Weibull share
    1 - exp(-((K - 20)/(K0 - 20))^4), with the file's value at 5 % (ASTM E1921).
    """
    value, k = 45.0 * MPA_ROOT_M, 80.0 * MPA_ROOT_M
    stress = k / math.sqrt(math.pi * 10.0)
    scatter = Scatter(toughness="weibull", fractile=0.05)
    lives = sampled_lives(Through(), np.array([10.0]), service(stress, toughness=value), scatter, 1.0).years
    scale = (value - LEAST) / (-math.log(0.95)) ** 0.25
    exact = 1.0 - math.exp(-(((k - LEAST) / scale) ** 4))
    assert float((lives == 0.0).mean()) == pytest.approx(exact, abs=0.011)
    assert 0.1 < exact < 0.9


def test_fractile_of_a_lognormal_toughness():
    """The file's value stands at 5 %: a K just there breaks 5 % of the samples."""
    value = 60.0 * MPA_ROOT_M
    stress = value / math.sqrt(math.pi * 10.0)
    scatter = Scatter(toughness=0.25, fractile=0.05)
    lives = sampled_lives(Through(), np.array([10.0]), service(stress), scatter, 1.0).years
    assert float((lives == 0.0).mean()) == pytest.approx(0.05, abs=0.006)


def test_same_seed_same_figures_and_another_seed_others():
    run = lambda seed: survival(  # noqa: E731
        Surface(60.0, 400.0),
        np.array([15.0, 30.0]),
        service(120.0),
        Scatter(0.1, 0.2, 0.4, samples=5000, seed=seed),
        FOUND,
        OUTAGE,
    )
    one, same, other = run(1), run(1), run(2)
    assert np.array_equal(one.years, same.years)
    assert not np.array_equal(one.years, other.years)
    assert one.chance == pytest.approx(other.chance, abs=0.035)  # three standard errors
    assert (np.diff(one.chance) <= 0.0).all()
    assert ((one.least <= one.chance) & (one.chance <= one.most)).all()


@pytest.mark.parametrize(
    ("body", "stress"),
    [
        (Surface(90.0, 360.0), 110.0),
        (HoleCorner(70.0, 120.0, 500.0), 80.0),
        (
            ProfileHole(
                Profile(np.array([0.0, 20.0, 60.0, 180.0]), np.array([3.0, 2.0, 1.3, 1.0])),
                HoleThrough(70.0, 90.0, 500.0),
            ),
            40.0,
        ),
    ],
)
def test_all_samples_grow_together(body, stress, monkeypatch):
    """With every scatter on, a small crack and a far outage, the most steps. The work is counted in calls of the body's solution,
    which do not follow the number of samples: four times as many only draw a crack a little smaller or slower, by less than a
    fifth. The chances agree within three standard errors, 3 sqrt(0.25/1000 + 0.25/4000) = 0.053."""
    calls = []
    solution = type(body).influence
    monkeypatch.setattr(type(body), "influence", lambda self, sizes: calls.append(1) or solution(self, sizes))
    small = np.array([3.0, 5.0])[: len(body.names)]
    basis = 1 if isinstance(body, ProfileHole) else 2
    kept = service(stress, "two-stage mean", diagram=Diagram(240.0, 450.0, 205e3), basis=basis)
    made, needed = [], []
    for samples in (1000, 4000):
        scatter = Scatter(0.1, 0.2, 0.4, "weibull", 0.05, samples)
        made.append(survival(body, small, kept, scatter, FOUND, date(2046, 3, 15)))
        needed.append(len(calls) - sum(needed))
    few, many = made
    assert many.years.shape == (round(4000 * (1.0 - many.excluded)),)
    assert 100 < needed[0] < 1000 and needed[1] < 1.2 * needed[0]
    assert few.chance == pytest.approx(many.chance, abs=0.053)
    assert 0.0 < many.chance[-1] < 1.0


def test_interval_of_a_share_by_hand():
    """Wilson 1927: 10 of 100 gives 0.0552 to 0.1744 (the textbook example of the score interval)."""
    least, most = wilson(np.array([0.1]), 100)
    assert (float(least[0]), float(most[0])) == pytest.approx((0.0552, 0.1744), abs=5e-5)


def test_months_and_dates():
    made = survival(Through(), np.array([10.0]), service(), Scatter(growth=0.2, samples=1000), FOUND, OUTAGE)
    assert made.dates[:2] == (date(2026, 3, 15), date(2026, 4, 15))
    assert made.dates[-2:] == (date(2028, 10, 15), OUTAGE)
    assert months_between(date(2026, 1, 31), date(2026, 2, 28)) == 1
    assert months_between(date(2026, 1, 15), date(2026, 2, 15)) == 1
    assert months_between(date(2026, 1, 15), date(2026, 2, 16)) == 2
    assert add_months(date(2027, 12, 31), 2) == date(2028, 2, 29)
    assert date_after(date(2026, 1, 1), 1.0) == date(2027, 1, 1)  # 365.25 days, rounded down
    assert date_after(date(2026, 1, 1), math.inf) is None
    assert date_after(date(2026, 1, 1), 1e5) is None


def test_outage_before_the_finding_is_one_clear_line():
    with pytest.raises(ValueError, match="outage 2025-01-01 is before the crack was found on 2026-03-15"):
        survival(Through(), np.array([10.0]), service(), Scatter(), FOUND, date(2025, 1, 1))
    with pytest.raises(ValueError, match="100 or more"):
        Scatter(samples=10)
    low = service(toughness=15.0 * MPA_ROOT_M)
    with pytest.raises(ValueError, match="below 20 MPa root m"):
        survival(Through(), np.array([0.1]), low, Scatter(toughness="weibull"), FOUND, OUTAGE)


def test_what_the_arm_has_carried_does_not_count_against_it():
    """A crack whose K under its own cycles is just at the median toughness: half of the samples would have broken before it was
    found, and are not this arm; of the others the chance starts at 1. Those that a load beyond its cycles would break fall out in
    the first month."""
    stress = 60.0 * MPA_ROOT_M / math.sqrt(math.pi * 10.0)
    scatter = Scatter(toughness=0.25, fractile=0.5)
    kept = service(
        stress / 2.0, per_year=1.0
    )  # R = 0.5: from half of the stress to all of it; no growth to speak of
    carried = replace(kept, highest=np.array([[stress, 0.0]]))
    made = survival(Through(), np.array([10.0]), carried, scatter, FOUND, OUTAGE)
    assert made.excluded == pytest.approx(0.5, abs=0.011)
    assert made.chance[0] == 1.0
    jammed = replace(kept, highest=np.array([[1.3 * stress, 0.0]]))
    never = survival(Through(), np.array([10.0]), jammed, scatter, FOUND, OUTAGE)
    # Of those that stand 1 the share that stands 1.3: P(z > ln 1.3/s)/P(z > 0), s^2 = ln(1 + 0.25^2).
    exact = stats.norm.sf(math.log(1.3) / math.sqrt(math.log1p(0.25**2))) / 0.5
    assert never.chance[0] == 1.0
    assert never.chance[1] == pytest.approx(exact, abs=0.015)


def test_samples_beyond_the_range_are_a_share_of_their_own():
    """Only the size scatters, and the end of the range is 1.2 times the size as found: the share beyond is the lognormal's."""
    limit = 48.0  # 2 a up to 0.8 of 120
    made = survival(Through(120.0), np.array([40.0]), service(1.0), Scatter(size=0.2), FOUND, OUTAGE)
    exact = stats.norm.sf(math.log(limit / 40.0) / math.sqrt(math.log1p(0.2**2)))
    assert made.beyond[0] == pytest.approx(exact, abs=0.009)
    assert (made.chance == 1.0).all()  # the others do not grow, and are not called failures


def test_assumptions_that_the_arm_has_disproved_give_no_chance():
    """K under its own cycles is 1.5 times a toughness that scatters by 10 %: over 99.99 % would have broken before."""
    broken = service(1.5 * 60.0 * MPA_ROOT_M / math.sqrt(math.pi * 10.0) / 2.0)
    with pytest.raises(
        OutOfRange, match="100 % of the sampled cracks would have broken under loads that the arm has carried"
    ):
        survival(Through(), np.array([10.0]), broken, Scatter(toughness=0.1), FOUND, OUTAGE)
