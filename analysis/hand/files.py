"""All files of the hand calculation of one design."""

from __future__ import annotations

from pathlib import Path

from analysis.contracts.workings import SubstitutionsFile
from analysis.hand.evaluate import Hand
from analysis.hand.handover import figures, loads
from analysis.hand.linkage import linkage
from analysis.hand.tables import COLUMNS, for_people, station_rows, stroke_rows, substitution
from analysis.hand.worked.files import write as write_workings
from analysis.hand.worst import governing_position
from analysis.tables.files import read_csv, write_cautioned, write_csv, write_json
from params.steps.caution import CAUTION


def write(hand: Hand, folder: Path) -> None:
    """checks.csv, substitutions.json, stroke.csv, stations.csv, loads.json, hand.json, linkage.json and workings.json of one
    design."""
    rows = hand.rows()
    units = hand.response.arm.units
    write_cautioned(folder / "checks.csv", COLUMNS, [for_people(row, units) for row in rows])
    write_json(
        folder / "substitutions.json",
        SubstitutionsFile(caution=CAUTION, rows=tuple(substitution(row, units) for row in rows)),
    )
    stroke = stroke_rows(hand)
    write_csv(folder / "stroke.csv", list(stroke[0]), stroke)
    stations = station_rows(hand)
    write_csv(folder / "stations.csv", list(stations[0]), stations)
    write_json(folder / "loads.json", loads(hand))
    write_json(folder / "hand.json", figures(hand, rows))
    now = hand.response
    write_json(folder / "linkage.json", linkage(now.arm, now.material, read_csv(folder / "stroke.csv")))
    write_workings(hand, rows, governing_position(hand), folder / "workings.json")
