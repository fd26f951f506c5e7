"""What has to be qualified before the part is made, by the form of its material; common practice, no source, unless named.

Standards are named by number only, from memory; the owner's code comes first.
"""

from __future__ import annotations

QUALIFICATION: dict[str, tuple[str, ...]] = {
    "deposited": (
        "Procedure of deposition: a test wall of at least the thickest section, with the wire, gas, heat input and interpass"
        " temperature of production; tensile bars along and across the layers, three Charpy bars each way at the temperature"
        " below, macro section, hardness.",
        "Joints between pieces: procedure qualified to ISO 15614-1 (or the owner's code), full penetration, with the stress"
        " relief of production; tensile, bend, Charpy of weld and heat-affected zone, hardness.",
        "Welders and operators: ISO 9606-1 and ISO 14732.",
    ),
    "plate": (
        "Welding procedures: ISO 15614-1 (or the owner's code), a butt and a fillet procedure of the thickest plate, with the"
        " stress relief of production; tensile, bend, Charpy of weld and heat-affected zone, hardness.",
        "Welders: ISO 9606-1. Quality requirements: ISO 3834-2.",
        "Plate with inspection certificate EN 10204 type 3.1; through-thickness quality where a plate is pulled across it.",
    ),
    "cast": (
        "First casting: sectioned or radiographed throughout at hub, bosses and changes of section; feeding design kept on file.",
        "Upgrade welding: procedure qualified to ISO 11970 (or the owner's code); every excavation mapped before it is filled.",
        "Test bars: cast on or from the same heat, heat treated with the casting.",
    ),
}
MARKING = (
    "Identification number, revision, serial number and heat or wire lot, low-stress stamps on the rim of the hub, away from"
    " bores and fillets; the same on a tag that stays on through blasting and painting.",
    "Pivot, input and output bore named beside each, and the side toward the drawing's front view.",
)
