"""Figures of a whole fit: the published shrink fit read from a file, a bush, heat, and the slip fit beside
it.
"""

import pytest

from analysis.bores.fit import figures
from analysis.bores.table import rows
from params.files.read import read_material
from params.schema.geometry import Bore
from tests.arms import demo
from tests.bores.files import VALID, edited, read
from tests.published import case

STEEL = read_material("a27-65-35")  # E 205 GPa, Poisson 0.3, yield 240 MPa
BUSH = (
    "bush: {inside: 240 mm, elastic_modulus: 110 GPa, poisson_ratio: 0.34, expansion: 18 um/m/K,"
    " fit: {fit: H7/p6}, yield_strength: 200 MPa}\n    friction"
)


def bore(inside=160.0, outside=280.0):
    """Of the published shrink fit: 160 in 280, 150 mm long between the chamfers."""
    pin = {
        "diameter": f"{inside} mm",
        "yield_strength": "500 MPa",
        "tensile_strength": "700 MPa",
        "side_plate": "80 mm",
        "gap": "5 mm",
    }
    sizes = {"bore": f"{inside} mm", "outside": f"{outside} mm", "width": "156 mm", "chamfer": "3 mm"}
    return Bore.model_validate({**sizes, "pin": pin})


def of(tmp_path, text=VALID, compare=False, hole=None):
    wanted = read(tmp_path, text).fits["pivot"]
    table = figures(wanted, wanted.compare if compare else wanted.fit, hole or bore(), STEEL)
    assert len({one.quantity for one in table}) == len(table)
    return {one.quantity: one for one in table}


def test_the_published_shrink_fit(tmp_path):
    figure = of(tmp_path)
    p, hoop = figure["pressure of shaft in hub"], figure["hoop stress at the hub's bore"]
    # Limits of size to 0.1 nm in 60 um: 1e-6.
    assert (p.least, p.most) == pytest.approx((case("A12").expected, case("A14").expected), rel=2e-6)
    assert (hoop.least, hoop.most) == pytest.approx((case("A13").expected, case("A15").expected), rel=2e-6)
    assert figure["axial hold of shaft in hub"].least == pytest.approx(case("A16").expected * 1e3, rel=2e-6)
    assert figure["slip moment of shaft in hub"].least == pytest.approx(case("A17").expected * 1e6, rel=2e-6)
    warm = figure["temperature of the outer part for assembly"]
    assert warm.most - 20.0 == pytest.approx(case("A23").expected, rel=1e-6)
    assert warm.status == "ok"


def test_the_slip_fit_beside_it_presses_nowhere(tmp_path):
    """H7/f7 at 160: clearance 43 to 123 um (published row)."""
    figure = of(tmp_path, compare=True)
    gap = figure["interference of shaft in hub (negative: clearance)"]
    assert gap.most == pytest.approx(-case("D-fit-H7-f7_160_min_clearance").expected / 1000.0, abs=1e-6)
    assert gap.least == pytest.approx(-case("D-fit-H7-f7_160_max_clearance").expected / 1000.0, abs=1e-6)
    assert figure["pressure of shaft in hub"].most == 0.0
    assert figure["hoop stress at the hub's bore"].most == 0.0


def test_a_bush_closes_in_and_grips(tmp_path):
    """H7/p6 at 320 by hand: 62 - 57 = 5 um to 98 um of interference (ISO 286-1 values of the published rows
    355-400).
    """
    figure = of(tmp_path, edited("friction", BUSH), compare=True, hole=bore(320.0, 700.0))
    press = figure["interference of bush in hub (negative: clearance)"]
    assert (press.least, press.most) == pytest.approx((0.005, 0.098), abs=1e-6)
    closing = figure["closing in of the bush's bore, no shaft in it"]
    # Thin-ish bronze bush in a stiff hub: its bore loses somewhat less than the interference.
    assert 0.5 * press.most < closing.most < press.most
    assert figure["equivalent stress at the bush's bore"].status == "ok"
    # H7/f7 at 240 has 50 um of clearance at least (ISO 286-1): the least closing in leaves some, the most
    # takes it all.
    assert closing.least < 0.050 < closing.most
    shaft = figure["pressure of shaft in bush"]
    assert shaft.least == 0.0 < shaft.most


def test_a_heavier_fit_yields_the_hub(tmp_path):
    figure = of(tmp_path, edited("{fit: H7/s6}", "{measured: {bore: 160 mm, shaft: 160.5 mm}}"))
    assert figure["equivalent stress at the hub's bore"].status == "fails"


def test_too_hot_for_the_hub(tmp_path):
    figure = of(tmp_path, edited("hub_limit: 250 degC", "hub_limit: 100 degC"))
    assert figure["temperature of the outer part for assembly"].status == "fails"
    cooled = of(tmp_path, edited("clearance: 0.05 mm", "clearance: 0.05 mm, cooled_shaft: -78 degC"))
    # By hand: (0.125 + 0.05 - 160 * 11.7e-6 * 98)/(160 * 11.7e-6) = 93.48 - 98 < 0, no heating.
    assert cooled["temperature of the outer part for assembly"].most == pytest.approx(20.0, abs=1e-9)


def test_smoothing_and_service_heat_only_loosen_the_least(tmp_path):
    """Rz 10 + 5 um loses 12 um; a shaft of 9 um/m/K in the hub of 11.7 loosens by 160 * 2.7e-6 * 40 = 17.28
    um at 60 C.
    """
    text = edited("friction", "roughness_bore: 0.01 mm\n    roughness_shaft: 0.005 mm\n    friction")
    text = text.replace("expansion: 11.7", "expansion: 9").replace("[20 degC, 20 degC]", "[20 degC, 60 degC]")
    gap = of(tmp_path, text)["interference of shaft in hub (negative: clearance)"]
    assert gap.least == pytest.approx(0.060 - 0.012 - 0.01728, abs=1e-6)
    assert gap.most == pytest.approx(0.125, abs=1e-6)


def test_the_old_fit_is_judged_by_the_old_arms_yield():
    """A27 65-35 yields at 240 MPa, the new arm's ER110S-1 or the like far above: the same fit, two capacities."""
    arm = demo("linkspan-rocker")
    new, old = read_material(arm.material), read_material("a27-65-35")
    judged = {
        row["which"]: row for row in rows(arm, new, old) if row["quantity"].startswith("equivalent stress")
    }
    assert judged["old arm"]["fit"] == judged["compare"]["fit"]
    assert judged["old arm"]["capacity"] == 240.0 and judged["compare"]["capacity"] == new.yield_strength
