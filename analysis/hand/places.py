"""Bores by the name of their surface, in words."""

from __future__ import annotations

from params.schema.bores import Region

PLACES: dict[Region, str] = {
    "pivot_bore": "pivot bore",
    "input_bore": "input bore",
    "output_bore": "output bore",
}
