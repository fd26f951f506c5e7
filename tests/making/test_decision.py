"""The decision from its tables: domination, order, what would flip it, and rows that say what is missing."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

import pytest

from analysis.making.dates.table import write_dates
from analysis.making.dates.window import window
from analysis.making.decision import costs, decision
from analysis.making.decision import table as decision_table
from analysis.making.decision.decision import COLUMNS, UNKNOWN, better, decide
from analysis.making.decision.flip import Standing, ordered, sensitivity
from analysis.pictures import decision as decision_picture
from analysis.tables.files import read_csv, write_csv, write_json
from params.files.readroute import read_outage
from params.steps.caution import CAUTION
from tests.arms import ARMS
from tests.making.files import PARAMS, outage_of

OPENS = datetime.date(2027, 6, 7)
DAY = datetime.timedelta(1)
ORDER = OPENS - 30 * DAY


def standing(
    name: str, first: int, last: int, price: float | None = 100.0, once=10.0, per_day=2.0
) -> Standing:
    """A route that is ready with even chance at the end of each day from `first` to `last`, counted from the opening."""
    days = range(first, last + 1)
    ready = {OPENS + DAY * day: (count + 1) / len(days) for count, day in enumerate(days)}
    return Standing(name, window(outage_of(30, ORDER)), ready, price, once, per_day, "EUR")


def test_chance_and_lateness_by_hand() -> None:
    """Ready on days -2 to 1, a quarter each: ready before the opening (days -2, -1) half; late by 1 d (day 0) or 2 d (day 1), a
    quarter each: mean 0.75 d; 10 x 0.5 + 2 x 0.75 = 6.5. A day later: days -1 to 2: 0.75 missed, mean (1 + 2 + 3)/4 = 1.5 d."""
    one = standing("one", -2, 1)
    assert (one.missed(), one.mean_late(), one.lateness()) == pytest.approx((0.5, 0.75, 6.5))
    assert (one.missed(1), one.mean_late(1), one.total(1)) == pytest.approx((0.75, 1.5, 110.5))
    assert (one.missed(-4), one.mean_late(-4)) == pytest.approx((0.0, 0.0))


def test_what_flips_the_order_by_hand() -> None:
    """a: ready on day -1, total 100. b: ready on day 1, price 90, missed for sure, 2 d late: 10 + 4, total 104.

    a goes behind b where it is a day later: ready on day 0, 10 + 2 more. b comes first if it is one day sooner: 90 + 12 = 102,
    still behind; two: 90. By price: a to 104, b to 86. By chance: b's lateness 14 may be 10 at most, so 10/14 = 71 %."""
    a, b = standing("a", -1, -1, 100.0), standing("b", 1, 1, 90.0)
    order = ordered([b, a])
    assert [one.route for one in order] == ["a", "b"]
    assert (
        sensitivity(a, order)
        == "stays first until it is 1 d later or its price rises by 4 EUR to 104; against b"
    )
    assert sensitivity(b, order) == (
        "comes first if it is 2 d sooner or its price falls by 4 EUR to 86 or its chance of missing the outage falls from "
        "100 % to 71 %; against a"
    )


def test_without_rates_the_chance_orders() -> None:
    """No price known keys: the one that misses less comes first, and only days can flip it."""
    a, b = standing("a", -1, 2, None), standing("b", -2, 1, 90.0)  # missing with 3/4 and 1/2
    order = ordered([a, b])
    assert [one.route for one in order] == ["b", "a"]
    assert sensitivity(b, order) == "stays first until it is 2 d later; against a"  # a day makes both 3/4
    assert sensitivity(a, order) == "comes first if it is 2 d sooner; against b"
    never = standing("never", 0, 3, None)
    assert sensitivity(b, ordered([b, never])) == "stays first however late it is; against never"
    assert sensitivity(a, [a]) == "the only route that holds"


def test_different_currencies_do_not_add_up() -> None:
    a, b = standing("a", 1, 1, 10.0), standing("b", -1, -1, 90.0)
    other = Standing("b", b.window, b.ready, b.price, b.once, b.per_day, "USD")
    assert [one.route for one in ordered([a, other])] == ["b", "a"]  # by chance, though a is cheaper
    assert "price" not in sensitivity(other, ordered([a, other]))


def test_no_gain_is_enough() -> None:
    """Dearer than the first even when never late: no number of days helps, nor does the chance."""
    a, b = standing("a", -1, -1, 100.0), standing("b", 1, 1, 120.0)
    message = sensitivity(b, ordered([a, b]))
    assert "sooner" not in message and "falls by 34 EUR to 86" in message and "chance" not in message


def test_domination() -> None:
    a = {
        "mass_kg": 10.0,
        "p90_ready": "2027-05-01",
        "chance_missed": 0.1,
        "cost_likely": 5.0,
        "years_to_crack": 50.0,
    }
    assert not better(a, a)
    assert better(a | {"mass_kg": 9.0}, a) and not better(a, a | {"mass_kg": 9.0})
    assert better(a | {"years_to_crack": 60.0}, a) and not better(
        a | {"years_to_crack": 40.0, "mass_kg": 1.0}, a
    )
    assert better(
        a | {"years_to_crack": UNKNOWN, "mass_kg": 9.0}, a
    )  # what is not known of both is not compared


OUTAGE = PARAMS / "outages" / "late-autumn.yaml"
ROUTES = {  # id, mass, hand margin, mesh margin
    "cast": ("d000001", 2231.0, 0.01, 0.04),
    "deposited": ("d000002", 1718.0, 0.01, 0.06),
    "welded": ("d000003", 1949.0, 0.02, -0.01),
}


def tables(folder: Path) -> Path:
    """results/ARM with the tables that the decision reads; the welded route fails by mesh."""
    making = folder / "making"
    (folder / "as-written").mkdir(parents=True)
    (folder / "as-written" / "arm.yaml").write_bytes((ARMS / "linkspan-rocker.yaml").read_bytes())
    routes = [
        {
            "route": name,
            "title": name,
            "id": one,
            "material": "m",
            "mass_kg": mass,
            "blank_mass_kg": 1.2 * mass,
            "blank": "as poured",
            "hand_margin": hand,
            "mesh_margin": mesh,
            "hand_governing": "by hand",
            "least_margin": 0.0,
            "mesh_governing": "by mesh",
            "reason": "",
            "notes": "",
        }
        for name, (one, mass, hand, mesh) in ROUTES.items()
    ]
    write_csv(making / "routes.csv", list(routes[0]), routes)
    pieces = [{"route": "deposited", "arc_hours": 200.0}, {"route": "deposited", "arc_hours": 260.0}]
    write_csv(making / "pieces.csv", ["route", "arc_hours"], pieces)
    files = [PARAMS / "routes" / f"{name}.yaml" for name in ROUTES]
    costs.main(making, OUTAGE, files)
    write_dates(files, OUTAGE, making)
    return folder


def test_table_of_the_decision(tmp_path: Path) -> None:
    rows = decide(tables(tmp_path / "arm"))
    by = {row["route"]: row for row in rows}
    assert [row["route"] for row in rows[-1:]] == ["keep the cracked arm"]
    assert by["keep the cracked arm"]["chance_of_lasting"] == UNKNOWN
    assert all(set(row) <= set(COLUMNS) and row["caution"] == CAUTION for row in rows)
    assert by["welded"]["holds"] is False and "order" not in by["welded"]
    assert by["welded"]["governing"] == "by mesh" and by["cast"]["governing"] == "by hand"
    assert by["welded"]["sensitivity"] == "not ranked: it has no design that passes all checks"
    # 35,000 + 12 x 1718 + 80 x 460 EUR of the route file
    assert by["deposited"]["cost_likely"] == pytest.approx(92_416.0, abs=0.5)
    assert by["deposited"]["order"] == 1 and by["cast"]["order"] == 2


def answer_to(folder: Path) -> None:
    """The sentences above the tables, which have tests of their own."""
    write_json(folder / "making" / "answer.json", {"lines": ["Order it."], "open": ["who signs"]})


def in_dollars(folder: Path, rate: str) -> Path:
    """The same arm with the deposited route's prices in USD, figure for figure, and an outage with this rate or none."""
    text = (PARAMS / "routes" / "deposited.yaml").read_text().replace("EUR", "USD")
    (folder / "deposited.yaml").write_text(text)
    (folder / "late-autumn.yaml").write_text(OUTAGE.read_text() + rate)
    files = [folder / "deposited.yaml", *(PARAMS / "routes" / f"{name}.yaml" for name in ("cast", "welded"))]
    costs.main(folder / "making", folder / "late-autumn.yaml", files)
    write_dates(files, folder / "late-autumn.yaml", folder / "making")
    return folder


def test_money_of_two_currencies_is_not_added_up(tmp_path: Path) -> None:
    """Without a rate: each in its own, ranked by the chance of missing the outage, no price compared, and every row says so."""
    folder = in_dollars(tables(tmp_path / "arm"), "")
    rows = {row["route"]: row for row in decide(folder) if row["route"] in ROUTES}
    assert [rows[name]["currency"] for name in ("cast", "deposited")] == ["EUR", "USD"]
    assert all("prices in EUR and USD are not compared" in row["note"] for row in rows.values())
    by_chance = sorted(("cast", "deposited"), key=lambda name: rows[name]["chance_missed"])
    assert [rows[name]["order"] for name in by_chance] == [1, 2]
    assert not any("price" in rows[name]["sensitivity"] for name in by_chance)
    decision.main(folder)
    answer_to(folder)
    decision_table.main(folder)
    text = " ".join((folder / "making" / "decision.txt").read_text().split())
    assert "92,416 USD" in text and "in the currency of each route" in text
    decision_picture.draw(folder)


def test_with_a_rate_all_is_in_one_currency(tmp_path: Path) -> None:
    """92,416 USD at 0.5 EUR are 46,208 EUR."""
    folder = in_dollars(tables(tmp_path / "arm"), "exchange: {USD: 0.5 EUR}\n")
    row = next(row for row in decide(folder) if row["route"] == "deposited")
    assert (row["currency"], row["cost_likely"]) == ("EUR", pytest.approx(46_208.0, abs=0.5))
    assert "not compared" not in row["note"]
    (cost,) = (one for one in read_csv(folder / "making" / "costs.csv") if one["route"] == "deposited")
    assert (cost["currency"], cost["quoted_in"], float(cost["late_once"])) == ("EUR", "USD", 75_000.0)
    rows = decide(folder)
    assert {row["currency"] for row in rows if row.get("currency")} == {"EUR"}
    both = next(row for row in rows if row["route"] == "deposited and cast")
    cast = next(row for row in rows if row["route"] == "cast")
    assert both["cost_likely"] == pytest.approx(46_208.0 + cast["cost_likely"], abs=0.5)
    spare_row = next(row for row in rows if row["route"] == "deposited with a spare")
    # 46,208 and a second part without the fixed 35,000 USD
    assert spare_row["cost_likely"] == pytest.approx(2.0 * 46_208.0 - 17_500.0, abs=0.5)


def test_a_drawing_issued_after_the_order_is_told(tmp_path: Path) -> None:
    folder = tables(tmp_path / "arm")
    assert not any("issued" in row["note"] for row in decide(folder) if "note" in row)
    path = folder / "as-written" / "arm.yaml"
    path.write_text(re.sub(r'issued: "[^"]*"', 'issued: "2026-06-23"', path.read_text()))
    notes = [row["note"] for row in decide(folder) if row["route"] in ROUTES]
    assert all("the drawing is issued on 2026-06-23, after the order on 2026-06-22" in note for note in notes)


def test_people_see_one_confidence_of_ready_and_of_order_by() -> None:
    """50 and 90 % for ready and for order-by, wherever a page, record, picture or terminal takes a date from the tables."""
    source = [path for path in (PARAMS.parent / "analysis").rglob("*.py") if path.name != "table.py"]
    source += [PARAMS.parent / "analysis" / "making" / "decision" / "table.py"]
    text = "\n".join(path.read_text() for path in source)
    assert set(re.findall(r"\bp(\d\d)_(?:ready|finish)\b", text)) == {"50", "90"}
    assert set(re.findall(r"\blatest_order_p(\d\d)\b", text)) == {"50", "90"}
    assert "latest_order_p90" in COLUMNS


def test_the_confidence_stands_in_one_place() -> None:
    """No page, picture, record or terminal writes it out: the words come from the constant."""
    written = re.compile(r"\b(?:50|80|90)(?: |\\u00a0)% (?:confidence|sure|by)|with (?:50|80|90) %")
    files = [
        path
        for path in (PARAMS.parent / "analysis").rglob("*")
        if path.suffix in (".py", ".html", ".js") and path.name != "confidence.py"
    ]
    lines = [line for path in files for line in path.read_text().splitlines() if written.search(line)]
    assert not [line for line in lines if '"""' not in line], lines


def test_standings_agree_with_the_dates(tmp_path: Path) -> None:
    """Chance and cost recomputed from ready.csv are those of dates.csv, which come from the drawn networks themselves."""
    folder = tables(tmp_path / "arm") / "making"
    for row in read_csv(folder / "dates.csv"):
        ready = {
            datetime.date.fromisoformat(one["date"]): float(one["chance_ready"])
            for one in read_csv(folder / "ready.csv")
            if one["route"] == row["route"]
        }
        one = Standing(row["route"], window(read_outage(OUTAGE)[0]), ready, 0.0, 150e3, 20e3, "EUR")
        assert one.missed() == pytest.approx(float(row["chance_missed"]), abs=1e-5)
        # six digits in tables: 5e-7 of a chance times a wait of 364 d on some hundred days
        assert one.mean_late() == pytest.approx(float(row["mean_late_d"]), abs=3e-3)
        assert one.lateness() == pytest.approx(float(row["expected_cost_of_lateness"]), abs=60.0)


def test_text_and_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tables(tmp_path / "arm")
    decision.main(folder)
    answer_to(folder)
    decision_table.main(folder)
    decision_picture.draw(folder)
    text = (folder / "making" / "decision.txt").read_text()
    assert text in capsys.readouterr().out
    for words in (
        "deposited",
        "keep the cracked arm: chance of lasting to the outage not computed",
        "stays first until",
        " EUR to ",
    ):
        assert words in text
    assert CAUTION in " ".join(text.split())
    assert (folder / "making" / "decision.png").stat().st_size > 10_000


def test_no_route_with_a_design(tmp_path: Path) -> None:
    """Every route without a design: rows with their reasons, no order."""
    folder = tables(tmp_path / "arm")
    rows = read_csv(folder / "making" / "routes.csv")
    for row in rows:
        row |= {
            "id": "",
            "mass_kg": "",
            "hand_margin": "",
            "mesh_margin": "",
            "reason": "none of 20 designs holds",
        }
    write_csv(folder / "making" / "routes.csv", list(rows[0]), rows)
    costs.main(folder / "making", OUTAGE, [PARAMS / "routes" / f"{name}.yaml" for name in ROUTES])
    result = decide(folder)
    assert not any(row.get("order") for row in result)
    routes, kept = result[:-2], result[-2:]  # no pair and no spare of routes that do not hold
    assert [row["kind"] for row in result] == ["route"] * 3 + ["keep"] * 2
    assert all(row["note"].startswith("none of 20 designs holds") for row in routes)
    assert all(row["chance_of_lasting"] == UNKNOWN for row in kept)
    decision.main(folder)
    answer_to(folder)
    decision_table.main(folder)
    decision_picture.draw(folder)
