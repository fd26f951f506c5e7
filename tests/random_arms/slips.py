"""One plausible slip of a careless hand, with the field that a refusal should name."""

from __future__ import annotations

import math
import random

from tests.random_arms.quantities import Maker, Q


def spoil(rng: random.Random, make: Maker, data: dict) -> str:  # noqa: C901 - a list of slips, each of a few lines
    """One plausible slip; returns the field that a refusal should name, with `may pass` where it need not be refused."""
    g, s, d = data["geometry"], data["geometry"]["section"], data["drive"]

    def hub() -> str:
        g["pivot"]["outside"] = make.length(s["depth_at_hub"].v * 0.9)
        return "geometry.pivot.outside"

    def short() -> str:
        d["stroke"] = make.length(d["stroke"].v * 0.4)
        return "drive.stroke"

    def rod() -> str:
        d["rod"] = make.length(d["cylinder_bore"].v * 1.1)
        return "drive.rod"

    def unit() -> str:
        g["output_arm"] = Q(f"{g['output_arm'].v:.0f} in", g["output_arm"].v * 25.4)
        return "geometry.output_arm"

    def pin() -> str:
        g["input"]["pin"]["diameter"] = make.fine(g["input"]["bore"].v * 1.05)
        return "geometry.input.pin.diameter"

    def sign() -> str:
        d["anchor"]["y"] = Q(
            "-" + d["anchor"]["y"] if not d["anchor"]["y"].startswith("-") else d["anchor"]["y"][1:],
            -d["anchor"]["y"].v,
        )
        return "drive.stroke drive.anchor"

    def wide() -> str:
        s["width"] = make.length(min(g[p]["width"].v for p in ("pivot", "input", "output")) * 1.05)
        return "geometry.pivot.width geometry.input.width geometry.output.width"

    def fillet() -> str:
        if s["kind"] == "solid":
            s["fillet"] = Q("10 mm", 10.0)
        else:
            s["fillet"] = make.length(s["depth_at_pins"].v * 0.6)
        return "geometry.section.fillet geometry.section.flange_thickness geometry.section.web_thickness"

    def case() -> str:
        data["duty"]["pairs"][0]["to_case"] = "upp"
        return "duty.pairs.0.to_case"

    def deep() -> str:
        s["depth_at_pins"] = make.length(s["depth_at_hub"].v * 1.15)
        return "geometry.section.depth_at_pins"

    def beyond() -> str:
        data.setdefault(
            "bores",
            {"surfaces": [{"region": "outside", "finish": "machined"}], "mean_stress": {"rule": "goodman"}},
        )
        data["bores"]["welds"] = [
            {
                "region": "outside",
                "arm": "input",
                "station": make.length(g["input_arm"].v * 1.2),
                "category": 80,
                "assessment": "safe life",
                "consequence": "high",
            }
        ]
        return "bores.welds.0.station"

    def number() -> str:
        d["relief_pressure"] = 25
        return "drive.relief_pressure"

    def centre() -> str:
        d["raised"] = make.degrees(math.degrees(d["lowered"].v) + 175.0)
        return "drive.raised drive.stroke drive.anchor driven.direction driven.anchor"

    def fine() -> str:
        data["mesh"]["largest"] = Q("1 mm", 1.0)
        return "mesh.largest"

    def key() -> str:
        s["flange"] = s.pop("flange_thickness", Q("20 mm", 20.0))
        return "geometry.section.flange"

    def iso() -> str:
        data.setdefault(
            "bores",
            {"surfaces": [{"region": "outside", "finish": "machined"}], "mean_stress": {"rule": "goodman"}},
        )
        data["bores"].pop("welds", None)
        data["bores"]["fits"] = {
            "pivot": {
                "fit": {"fit": "H7/zc9"},
                "shaft": {"elastic_modulus": "205 GPa", "poisson_ratio": 0.3, "expansion": "11.7 um/m/K"},
                "friction": {"least": 0.1, "most": 0.2},
                "service": ["0 degC", "30 degC"],
                "assembly": {"room": "20 degC", "clearance": "0.02 mm", "hub_limit": "200 degC"},
            }
        }
        return "bores.fits.pivot.fit.fit"

    def eccentric() -> str:
        name = next(iter(data["load_cases"]))
        data["load_cases"][name]["eccentricity"] = make.length(
            0.7 * g["input"]["width"].v + 0.7 * g["output"]["width"].v
        )
        return f"load_cases.{name}.eccentricity"

    chosen = rng.choice(
        [
            hub,
            short,
            rod,
            unit,
            pin,
            sign,
            wide,
            fillet,
            case,
            deep,
            beyond,
            number,
            centre,
            fine,
            key,
            iso,
            eccentric,
        ]
    )
    told = chosen()
    return told + (" (may pass)" if chosen in (unit, sign, centre) else "")
