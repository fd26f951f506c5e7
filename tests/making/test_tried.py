"""Which designs of a route's front are meshed, and which of them is its best: against a search of the whole front."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from analysis.contracts.summary import NotBuilt
from analysis.making.routes import best as keep
from analysis.making.routes import tried
from analysis.making.routes.tried import LEAST_STEP, MOST, TRIES, choose, following, judge
from analysis.tables.files import read_csv, write_csv, write_json
from tests.summaries import a_summary

HAND = [0.0, 0.03, 0.08, 0.15, 0.21, 0.3, 0.42, 0.6, 0.9]


def searched(hand: list[float], mesh: list[float | None]) -> dict[int, float | None]:
    """Position and margin of every design that was meshed, in order."""
    seen: dict[int, float | None] = {}
    for step in range(TRIES):
        place = following(hand, seen, step == TRIES - 1)
        if place is None:
            break
        assert place not in seen
        seen[place] = mesh[place]
    return seen


def lightest(seen: dict[int, float | None]) -> int | None:
    return min((place for place, margin in seen.items() if tried.holds(margin)), default=None)


def test_the_lightest_is_enough_where_it_holds() -> None:
    assert searched(HAND, [0.0] * len(HAND)) == {0: 0.0}


@pytest.mark.parametrize("share", [0.75, 0.85, 0.92, 0.97, 1.2])
def test_the_lightest_that_holds_is_found(share: float) -> None:
    """A mesh that sees a constant share of what the hand does: the same design as a look at each of them in turn gives."""
    mesh: list[float | None] = [share * (1.0 + hand) - 1.0 for hand in HAND]
    wanted = next(place for place, margin in enumerate(mesh) if tried.holds(margin))
    assert lightest(searched(HAND, mesh)) == wanted


def test_within_a_step_of_the_lightest_in_a_long_front() -> None:
    """400 designs, a share that falls by a tenth over the front (a peak that the sizes do not govern): few tries, near it."""
    hand = np.linspace(0.0, 1.0, 400)
    mesh = [float(value) for value in (0.85 - 0.1 * hand) * (1.0 + hand) - 1.0]
    wanted = next(place for place, margin in enumerate(mesh) if margin >= 0.0)
    found = lightest(searched(list(hand), list(mesh)))
    assert found is not None and 0.0 <= hand[found] - hand[wanted] <= 2.0 * LEAST_STEP


def test_all_refused_ends_with_the_strongest() -> None:
    seen = searched(HAND, [-0.9 + 0.001 * place for place in range(len(HAND))])
    assert lightest(seen) is None and len(seen) <= TRIES and len(HAND) - 1 in seen


def test_what_cannot_be_meshed_is_passed_over() -> None:
    seen = searched(HAND, [None, None, *(0.1 for _ in HAND[2:])])
    assert lightest(seen) == 2


def front(place: Path, hand: list[float], unit: str = "mm", wanted: float = 0.0) -> None:
    rows = [
        {
            "route": "r",
            "deposits": "no",
            "id": f"d{index:06d}",
            f"depth_{unit}": 60 + index,
            "mass_kg": 4.0 + index,
            "hand_margin": margin,
            "hand_governing": "bending",
            "least_margin": wanted,
            "reason": "",
            "notes": "thin",
        }
        for index, margin in enumerate(hand)
    ]
    write_csv(place / "front.csv", list(rows[0]), rows)


def run(place: Path, mesh: dict[str, float | None]) -> list[Path]:
    """The steps as the Snakefile makes them, with these mesh margins."""
    tables: list[Path] = []
    for step in range(MOST + 1):
        choose(place, step, tables)
        table = place / "tried" / f"{step}.csv"
        if not (chosen := read_csv(table)):
            break
        ((row,), tables) = chosen, [*tables, table]
        margin = mesh[row["id"]]
        by_hand = float(row["hand_margin"])
        answer = (
            NotBuilt(reason="no solid")
            if margin is None
            else a_summary(mesh_margin=margin, hand_margin=by_hand, mesh_governing="peak")
        )
        folder = place / "designs" / row["id"]
        write_json(folder / "summary.json", answer)
        (folder / "arm.yaml").write_text(row["id"])
    return tables


def test_from_front_to_best(tmp_path: Path) -> None:
    front(tmp_path, [0.0, 0.1, 0.2])
    judge(tmp_path, run(tmp_path, {"d000000": -0.08, "d000001": 0.01, "d000002": 0.1}))
    (best,) = read_csv(tmp_path / "best.csv")
    assert (best["id"], best["depth_mm"], best["reason"], best["tried"]) == ("d000001", "61", "", "2")
    assert (
        best["notes"]
        == "thin; lighter designs pass the hand checks and do not reach a margin of 0 by mesh: d000000 (4.00 kg, -0.080, peak)"
    )
    assert [row["holds"] for row in read_csv(tmp_path / "tried.csv")] == ["no", "yes"]
    keep.main(tmp_path)
    assert (tmp_path / "best" / "arm.yaml").read_text() == "d000001"


def test_none_holds_says_so_and_shows_the_nearest(tmp_path: Path) -> None:
    front(tmp_path, [0.0, 0.1])
    judge(tmp_path, run(tmp_path, {"d000000": -0.5, "d000001": -0.4}))
    (best,) = read_csv(tmp_path / "best.csv")
    assert best["id"] == "d000001"
    assert best["reason"].startswith(
        "none of 2 meshed designs reaches a margin of 0 by mesh: d000000 (4.00 kg, -0.500, peak), "
    )


def test_the_least_margin_wanted_counts_by_mesh(tmp_path: Path) -> None:
    """3 % by mesh holds and is less than the 5 % wanted: the next is 1.05/1.03 times as strong by hand, 0.19 at least."""
    front(tmp_path, [0.05, 0.1, 0.15], wanted=0.05)
    judge(tmp_path, run(tmp_path, {"d000000": 0.03, "d000001": 0.07, "d000002": 0.1}))
    (best,) = read_csv(tmp_path / "best.csv")
    assert (best["id"], best["reason"]) == ("d000001", "")
    assert "do not reach the margin of +5 % by mesh: d000000 (4.00 kg, +0.030, peak)" in best["notes"]
    assert [row["holds"] for row in read_csv(tmp_path / "tried.csv")] == ["no", "yes"]


def test_masses_of_an_arm_in_us_units(tmp_path: Path) -> None:
    """The front's lengths are in inches: 4 kg / 0.45359237 kg/lb = 8.818 lb."""
    front(tmp_path, [0.0, 0.1], "in")
    judge(tmp_path, run(tmp_path, {"d000000": -0.5, "d000001": -0.4}))
    (best,) = read_csv(tmp_path / "best.csv")
    assert "d000000 (8.82 lb, -0.500, peak)" in best["reason"]
    assert " kg" not in best["reason"]


def test_none_can_be_built(tmp_path: Path) -> None:
    front(tmp_path, [0.0, 0.1])
    judge(tmp_path, run(tmp_path, {"d000000": None, "d000001": None}))
    (best,) = read_csv(tmp_path / "best.csv")
    assert (best["id"], best["depth_mm"], best["mass_kg"], best["notes"]) == ("", "", "", "thin")
    assert "d000001 (no solid)" in best["reason"]


def test_no_front_no_mesh(tmp_path: Path) -> None:
    row = {
        "route": "r",
        "id": "",
        "hand_margin": "",
        "least_margin": 0.05,
        "reason": "none of 20 designs can be made",
        "notes": "",
    }
    write_csv(tmp_path / "front.csv", list(row), [row])
    tables = run(tmp_path, {})
    assert tables == []
    judge(tmp_path, tables)
    (best,) = read_csv(tmp_path / "best.csv")
    assert (best["id"], best["reason"], best["tried"]) == ("", row["reason"], "0")


def two_materials(place: Path) -> None:
    """A strong steel with 4, 5 and 6 kg, then a softer one with 4.5 and 7 kg."""
    rows = [
        {
            "route": "r",
            "deposits": "no",
            "material": material,
            "id": name,
            "mass_kg": mass,
            "hand_margin": margin,
        }
        | {"hand_governing": "bending", "least_margin": 0.0, "reason": "", "notes": ""}
        for material, name, mass, margin in (
            ("strong", "d000000", 4.0, 0.0),
            ("strong", "d000001", 5.0, 0.1),
            ("strong", "d000002", 6.0, 0.2),
            ("soft", "d000003", 4.5, 0.0),
            ("soft", "d000004", 7.0, 0.3),
        )
    ]
    write_csv(place / "front.csv", list(rows[0]), rows)


@pytest.mark.parametrize(
    ("mesh", "best", "count"),
    [
        # The strong steel's lightest holds: no other is lighter.
        ({"d000000": 0.0}, "d000000", 1),
        # The strong steel fails by fatigue whatever its size: the softer one is tried, and its lightest holds.
        ({"d000000": -0.5, "d000002": -0.3, "d000003": 0.0}, "d000003", 3),
        # The strong steel holds with 5 kg; the softer one's 4.5 kg may be lighter, fails, and its next, 7 kg, is not asked for.
        ({"d000000": -0.05, "d000001": 0.02, "d000003": -0.1}, "d000001", 3),
        # It holds: it is the best.
        ({"d000000": -0.05, "d000001": 0.02, "d000003": 0.1}, "d000003", 3),
    ],
)
def test_every_material_has_its_turn(tmp_path: Path, mesh, best: str, count: int) -> None:
    two_materials(tmp_path)
    tables = run(tmp_path, mesh)
    judge(tmp_path, tables)
    (row,) = read_csv(tmp_path / "best.csv")
    assert (row["id"], row["reason"], len(tables)) == (best, "", count)


def test_no_more_meshes_than_all_materials_together_may_have(tmp_path: Path) -> None:
    """Four materials of five designs that all fail: eight meshes, the last of them the strongest of its material."""
    rows = [
        {"route": "r", "deposits": "no", "material": f"m{kind}", "id": f"d{5 * kind + size:06d}"}
        | {"mass_kg": 4.0 + kind + size, "hand_margin": 0.1 * size, "hand_governing": "bending"}
        | {"least_margin": 0.0, "reason": "", "notes": ""}
        for kind in range(4)
        for size in range(5)
    ]
    write_csv(tmp_path / "front.csv", list(rows[0]), rows)
    tables = run(tmp_path, dict.fromkeys((str(row["id"]) for row in rows), -0.08))
    (last,) = read_csv(tables[-1])
    assert len(tables) == MOST and last["id"] in {"d000004", "d000009", "d000014", "d000019"}
