"""The arm in service kept: until the outage, and, where nothing is changed in it, until the next one."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

from analysis.tables.files import read_csv
from analysis.tables.governing import governing
from params.steps.caution import CAUTION
from params.steps.out_of_range import NOT_SETTLED, STATUS, joined

UNKNOWN = "not computed"
Row = dict[str, Any]


def cracked(folder: Path) -> Row:
    """The row of the cracked arm: the least chance of its found cracks to last to the outage, where the bores' tables have it."""
    row = kept("keep the cracked arm", "The arm in service stays until the next outage.")
    return row | lasting(cracks_of(folder), "chance_at_outage", "outage")


def until_next(folder: Path, dates: dict[str, str], cost: dict[str, str] | None) -> Row:
    """Nothing is changed in this outage: chance of lasting to the next, the share of its loads until then, cost of the wait.

    `dates` is a row of dates.csv, `cost` the row of costs.csv of the first route, whose cost of a day counts; None without one.
    """
    opens, first = dates["next_opens"], datetime.date.fromisoformat(dates["outage_opens"])
    days = (datetime.date.fromisoformat(opens) - first).days
    title = (
        f"Nothing is changed in this outage; the arm in service stays until the one that opens on {opens}."
    )
    row = kept("keep the old arm until the next window", title)
    row |= lasting(cracks_of(folder), "chance_at_next_outage", "next_outage")
    share, said = load_limit(folder, opens)
    row["load_limit_percent"] = share
    daily = ""
    if cost and cost["late_per_day"]:
        row["expected_cost_of_lateness"] = days * float(cost["late_per_day"])
        row["currency"] = cost["currency"]
        daily = f"cost: {days} d at the daily cost of lateness of the route {cost['route']}, the new arm not in it"
    return row | {"note": joined(row.get("note", ""), said, daily)}


def kept(route: str, title: str) -> Row:
    return {
        "route": route,
        "kind": "keep",
        "title": title,
        "years_to_crack": "",
        "acceptable_flaw": "",
        "chance_of_lasting": UNKNOWN,
        "caution": CAUTION,
    }


def cracks_of(folder: Path) -> list[dict[str, str]]:
    table = folder / "as-written" / "bores" / "cracks.csv"
    return governing(read_csv(table)) if table.exists() else []


def lasting(cracks: list[dict[str, str]], chance: str, to: str) -> Row:
    """Chance of the crack that is likeliest to end before the day; reasons instead where one is out of range."""
    known = [one for one in cracks if counted(one, chance)]
    beyond = [one for one in cracks if one["status"] == STATUS and not counted(one, chance)]
    if beyond:  # what the others give says nothing of these
        note = joined(*(f"crack {one['crack']} {STATUS}: {one['note']}" for one in beyond))
        return {"material": beyond[0]["material"], "note": note}
    if not known:
        return {}
    worst = min(known, key=lambda one: float(counted(one, chance)))
    left = float(worst["years"] or worst.get("years_least") or 0.0)
    lasts = f"lasts {left:.{0 if left >= 10.0 else 1}f} years" if left else worst["end"]
    if f"years {NOT_SETTLED}" in worst["note"]:
        lasts = f"{lasts}, {NOT_SETTLED}"
    head = f"crack {worst['crack']}, chance of lasting to {worst[to]}"
    if not worst.get(chance):
        head += f" {NOT_SETTLED}, the less favourable counts"
    return {
        "chance_of_lasting": float(counted(worst, chance)),
        "material": worst["material"],
        "note": f"{head}; {lasts}; {worst['note']}",
    }


def counted(crack: dict[str, str], chance: str) -> str:
    """The chance that counts of a found crack: the less favourable of those of two meshes; empty where there is none."""
    return crack.get(chance) or crack.get(f"{chance}_least") or ""


def load_limit(folder: Path, until: str) -> tuple[float | None, str]:
    """Largest share of its loads, percent, at which every found crack may run until the day; None where none is known or enough."""
    table = folder / "as-written" / "bores" / "load-limit.csv"
    rows = governing(read_csv(table)) if table.exists() else []
    cracks = list(dict.fromkeys(row["crack"] for row in rows))
    if not cracks:
        return None, ""
    shares = []
    for crack in cracks:  # where it never ends within the horizon, no day stands
        own = [row for row in rows if row["crack"] == crack]
        enough = [float(row["load_percent"]) for row in own if runs_until(row, until)]
        if not enough:
            least = min(float(row["load_percent"]) for row in own)
            return None, f"crack {crack} may not run until {until} even at {least:.0f} % of its loads"
        shares.append(max(enough))
    most, factor = min(shares), f"factor {float(rows[0]['factor_on_life']):g} on life"
    share = "its full loads" if most >= 100.0 else f"up to {most:.0f} % of its loads"
    return most, f"may run until {until} at {share}, {factor}"


def runs_until(row: dict[str, str], until: str) -> bool:
    """Whether the day of a load limit is late enough; a life without an end has none."""
    endless = not row["until"] and (not row["years"] or float(row["years"]) == float("inf"))
    return endless or (bool(row["until"]) and row["until"] >= until)
