"""Assumptions, sources, versions and hashes."""

from __future__ import annotations

from analysis.record.tables import Tables
from analysis.record.typeset import heading, items, note, pairs, paragraph, table
from params.files.origin import lines

ASSUMPTIONS = (
    "Sizes are those of the parameter file; nothing was measured for this record.",
    "The load acts along its line; friction at the two end pins is neglected, friction at the pivot counts in cases that move.",
    "Side force and eccentricity are shares and offsets from misalignment that the load cases give. Side forces at both end pins "
    "are taken the same way and opposite ways, and the one that tilts the pivot more counts, by hand and by mesh; each pin force "
    "stands off the middle on the side that adds to its arm's sideways moment. The mesh is not solved for the other combination, "
    "which can be the worse one away from the pivot's tilt.",
    "Arms are tapered cantilevers from the hub edge; hub and bosses are rigid but for the hub's share in the deflection.",
    "Every internal force counts with the sign that adds at the point of largest stress.",
    "Strengths are the specified minimums of the material file, not test results.",
    "Static strength, stability, deflection and elastic stress; fatigue and flaws only where a check or a section here names them.",
)


def closing(tables: Tables) -> str:
    sources = dict.fromkeys(row["clause"] for row in tables.substitutions)
    versions = sorted(tables.summary.versions.items())
    return "\n".join(
        [
            heading("Assumptions"),
            items(ASSUMPTIONS),
            heading("Sources"),
            paragraph("Clauses and publications that the checks use, in the order of the checks:"),
            items(sources),
            note(
                "Equations marked as from memory are tested against published examples; check them against your edition."
            ),
            heading("Versions and files"),
            pairs(versions),
            table(["made from", "SHA-256"], lines(tables.origin), "ll", word=80),
            table(["file", "SHA-256, first half"], tables.files(), "ll", word=80),
        ]
    )
