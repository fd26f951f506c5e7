"""Clauses against the published worked examples, and what every clause must carry."""

import doctest
import importlib
import inspect
import pkgutil

import numpy as np
import pytest

import analysis.clauses
from analysis.clauses import aisc360, bth1, en1993, stability
from analysis.clauses.clause import Outcome, of
from analysis.mechanics.sections import section
from tests.published import case

MODULES = [
    importlib.import_module(f"analysis.clauses.{module.name}")
    for module in pkgutil.iter_modules(analysis.clauses.__path__)
]
CLAUSES = [
    item
    for module in MODULES
    for _, item in inspect.getmembers(module, inspect.isfunction)
    if hasattr(item, "clause") and item.__module__ == module.__name__
]

# AISC Design Examples, Example D.7, kip and inches: A36, w 4.25, t 0.5, d 1, hole 1/32 larger, a 2.25, D 4 and L 12 kip.
D7 = {"t": 0.5, "d": 1.0, "dh": 1.0 + 1.0 / 32.0}
INCH = {"room": 0.63}


def aisc_tension():
    return aisc360.tension(Pa=4.0 + 12.0, Fu=58.0, w=4.25, a=2.25, **D7, **INCH)


def aisc_shear():
    return aisc360.shear(Pa=16.0, Fu=58.0, a=2.25, **D7)


def aisc_bearing():
    return aisc360.bearing(Pa=16.0, Fy=36.0, t=0.5, d=1.0)


AISC = {
    "C01": lambda: aisc_tension().symbols["be"],
    "C02": lambda: aisc_tension().symbols["Pn"],
    "C03": lambda: aisc_shear().symbols["Pn"],
    "C04": lambda: aisc_bearing().symbols["Pn"],
    "C06": lambda: 0.75 * aisc_tension().symbols["Pn"],
    "C07": lambda: 0.75 * aisc_shear().symbols["Pn"],
    "C08": lambda: 0.75 * aisc_bearing().symbols["Pn"],
    "C09": lambda: aisc_bearing().capacity,
    "C11": lambda: aisc_tension().demand,
    "C12": lambda: aisc360.least_dimensions(1.61, 1.0)[0],
    "C13": lambda: aisc360.least_dimensions(1.61, 1.0)[1],
}
# Absolute tolerances of the cases: the last digit printed; `exact` means to rounding.
AISC_ALLOWED = {"C01": 0.005, "C02": 0.1, "C03": 0.1, "C06": 0.1, "C07": 0.1, "C12": 0.01, "C13": 0.01}


@pytest.mark.parametrize("row", AISC)
def test_aisc_pin_connected_plate(row):
    assert float(AISC[row]()) == pytest.approx(case(row).expected, abs=AISC_ALLOWED.get(row, 1e-9))


PLATE = {"P": 1.0, "Fu": 450.0, "Nd": 2.0, "t": 40.0, "Dh": 80.0}


def bth(function, Dp, **more):
    return function(**PLATE, Dp=Dp, **more)


BTH = {
    "C14": (60.0, lambda Dp: bth1.loose_pin(Dp, 80.0), 1.0),
    "C16": (60.0, lambda Dp: bth(bth1.tension, Dp, Fy=345.0, be=60.0).capacity, 1e3),
    "C17": (60.0, lambda Dp: bth(bth1.fracture, Dp, R=100.0, be=60.0).capacity, 1e3),
    "C18": (60.0, lambda Dp: bth(bth1.double_shear, Dp, R=100.0).symbols["Av"], 1.0),
    "C19": (60.0, lambda Dp: bth(bth1.double_shear, Dp, R=100.0).capacity, 1e3),
    "C21": (75.0, lambda Dp: bth1.loose_pin(Dp, 80.0), 1.0),
    "C22": (75.0, lambda Dp: bth(bth1.tension, Dp, Fy=345.0, be=60.0).symbols["beff"], 1.0),
    "C23": (75.0, lambda Dp: bth(bth1.tension, Dp, Fy=345.0, be=60.0).capacity, 1e3),
    "C24": (75.0, lambda Dp: bth(bth1.fracture, Dp, R=100.0, be=60.0).capacity, 1e3),
    "C26": (75.0, lambda Dp: bth(bth1.double_shear, Dp, R=100.0).capacity, 1e3),
    "C27": (75.0, lambda Dp: bth1.bearing(P=1.0, Fy=345.0, Nd=2.0, t=40.0, Dp=Dp, turns=False).capacity, 1e3),
}


@pytest.mark.parametrize("row", BTH)
def test_bth1_pin_plate(row):
    Dp, allowable, unit = BTH[row]
    assert float(allowable(Dp)) / unit == pytest.approx(case(row).expected, rel=1e-6)


ROUND = {"d": 80.0, "fup": 700.0}
SPREAD = {"b": 40.0, "c": 2.0, "a": 25.0}
EN = {
    "C28": (lambda: en1993.pin_shear(F=600e3, share=0.5, **ROUND).capacity, 1e3),
    "C29": (lambda: en1993.bearing(F=600e3, t=40.0, d=80.0, fy=345.0).capacity, 1e3),
    "C31": (lambda: en1993.pin_bending_service(Fser=600e3, d=80.0, fyp=500.0, **SPREAD).capacity, 1e6),
    "C32": (lambda: en1993.bearing_service(Fser=600e3, t=40.0, d=80.0, fy=345.0).capacity, 1e3),
    "C33": (lambda: en1993.pin_bending(F=600e3, d=80.0, fyp=500.0, **SPREAD).demand, 1e6),
    "C34": (lambda: en1993.pin_combined(F=600e3, share=0.5, fyp=500.0, **ROUND, **SPREAD).demand, 1.0),
    "C36": (lambda: en1993.least_edges(600e3, 40.0, 345.0, 81.0)[0], 1.0),
    "C37": (lambda: en1993.least_edges(600e3, 40.0, 345.0, 81.0)[1], 1.0),
    "C38": (lambda: en1993.least_thickness(600e3, 345.0), 1.0),
}


@pytest.mark.parametrize("row", EN)
def test_en1993_pin(row):
    capacity, unit = EN[row]
    assert float(capacity()) / unit == pytest.approx(case(row).expected, rel=1e-6)


def test_elastic_critical_moment_of_rolled_shapes():
    """B51, B52 with the tables' own constants."""
    for row, length, constants in (
        ("B51", 5000.0, (6.038e6, 201200.0, 1.259e11)),
        ("B52", 6000.0, (8.563e7, 1.85e6, 1.688e12)),
    ):
        moment = stability.elastic_moment(210e3, 210e3 / 2.6, *constants, length)
        assert float(moment) / 1e6 == pytest.approx(case(row).expected, rel=1e-6)


def test_narrow_cantilever_buckles_as_published_and_uniform_moment_is_the_safe_side():
    bar = section("solid", 300.0, 20.0)
    # Timoshenko and Gere, chapter 6: 4.013 sqrt(E I2 G J) / L^2 at the centroid of the tip.
    load = 4.013 * (210e3 * bar.i2 * 210e3 / 2.6 * bar.j) ** 0.5 / 3000.0**2
    assert float(load) / 1e3 == pytest.approx(case("B53").expected, rel=1e-3)
    uniform = stability.elastic_moment(210e3, 210e3 / 2.6, bar.i2, bar.j, 0.0, 3000.0)
    assert float(uniform) < float(load) * 3000.0


def test_buckling_allowables_fall_and_meet():
    Fy, Nd = 345.0, 3.0
    elastic = np.array([0.2, 0.5, 0.6999, 0.7001, 1.0, 5.0, 100.0]) * Fy
    allowed = stability.bending_allowable(elastic, 1.0, Fy, Nd)
    assert np.all(np.diff(allowed) > 0.0) and allowed[-1] < Fy / Nd
    assert allowed[2] == pytest.approx(allowed[3], rel=1e-3)  # the curves meet at 0.7 Fy
    slender = stability.column_allowable(np.array([0.0, 50.0, 107.0, 109.0, 200.0]), 205e3, Fy, Nd)
    assert np.all(np.diff(slender) < 0.0)
    cc = np.sqrt(2.0 * np.pi**2 * 205e3 / Fy)
    below, above = stability.column_allowable(np.array([cc * 0.99999, cc * 1.00001]), 205e3, Fy, Nd)
    assert below == pytest.approx(above, rel=1e-3)  # 1 + 9/40 - 3/40 = 1.15: both branches


def test_limits_of_validity_are_enforced():
    assert not bth1.tension(**PLATE, Fy=345.0, be=60.0, Dp=30.0).in_range
    assert not aisc360.shear(Pa=1.0, Fu=58.0, t=10.0, a=50.0, d=48.0, dh=50.0).in_range
    from analysis.clauses import member, peaks

    assert not np.all(
        member.section_shear(V=1.0, q=1.0, slenderness=80.0, Fy=345.0, Nd=3.0, E=205e3).in_range
    )
    assert not np.all(
        peaks.boss(Fs=1.0, Ft=0.0, D=100.0, d=80.0, t=10.0, e=0.0, Fy=345.0, factor=1.5).in_range
    )


@pytest.mark.parametrize(
    "function", CLAUSES, ids=lambda function: f"{function.__module__.split('.')[-1]}.{function.__name__}"
)
def test_every_clause_says_what_a_record_prints(function):
    clause = of(function)
    assert clause.check and clause.what and clause.equation and clause.reference
    parameters = set(inspect.signature(function).parameters) - {"room"}
    assert parameters <= set(clause.symbols), f"symbols without a meaning: {parameters - set(clause.symbols)}"
    examples = doctest.DocTestFinder(recurse=False).find(function)
    assert any(test.examples for test in examples)
    assert inspect.signature(function).return_annotation in (Outcome, "Outcome")


def test_there_are_clauses_of_every_group():
    assert len(CLAUSES) >= 28
