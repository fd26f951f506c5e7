"""workings.json: every check at the load case that uses it most, statics and hub edges of the governing cases, sections."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from analysis.contracts.workings import CaseWorking, WorkingsFile
from analysis.hand.evaluate import Hand, Row
from analysis.hand.worked.checks import worked
from analysis.hand.worked.sections import sections
from analysis.hand.worked.statics import hub_edge, statics
from analysis.tables.files import write_json
from params.steps.caution import CAUTION


def least(rows: list[Row]) -> list[Row]:
    """The row of least margin of every check at every place, in the order of the checks."""
    worst: dict[int, Row] = {}
    for row in rows:
        key = id(row.check)
        if key not in worst or row.margin < worst[key].margin:
            worst[key] = row
    return list(worst.values())


def governing_cases(hand: Hand, rows: list[Row], chosen: list[Row]) -> list[str]:
    """Load cases in which a check of the arm has its least margin over all places, and the moving or still case with the least.

    A cylinder at relief pressure often governs all; then the second shows what the arm sees every day.
    """
    kinds: dict[str, Row] = {}
    for row in chosen:
        name = row.check.clause.check
        if not row.check.clause.drive and (name not in kinds or row.margin < kinds[name].margin):
            kinds[name] = row
    govern = {row.load_case for row in kinds.values()}
    cases = hand.response.arm.load_cases
    daily = [row for row in rows if row.load_case in cases and cases[row.load_case].kind != "blocked"]
    if daily:
        govern.add(min(daily, key=lambda row: row.margin).load_case)
    return [case for case in cases if case in govern]


def of_case(hand: Hand, case: str, c: int, p: int) -> CaseWorking:
    edges = {limb.name: hub_edge(hand, limb, c, p) for limb in hand.response.limbs}
    return CaseWorking(case=case, statics=statics(hand, case, c, p), hub_edge=edges)


def workings(hand: Hand, rows: list[Row], positions: Any) -> WorkingsFile:
    """`positions`: index of the governing position of each case."""
    chosen = least(rows)
    cases = list(hand.response.arm.load_cases)
    govern = governing_cases(hand, rows, chosen)
    checks = [
        worked(hand, row)
        for row in chosen
        if row.check.clause.working
        and np.isfinite([row.demand, row.capacity]).all()  # endless: nothing to work out
    ]
    return WorkingsFile(
        caution=CAUTION,
        checks=tuple(checks),
        sections=tuple(sections(hand)),
        cases=tuple(
            of_case(hand, case, cases.index(case), int(positions[cases.index(case)])) for case in govern
        ),
    )


def write(hand: Hand, rows: list[Row], positions: Any, path: Path) -> None:
    write_json(path, workings(hand, rows, positions))
