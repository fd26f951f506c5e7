"""Section properties written out: the section of both arms at the hub edge, and each arm's least one at its boss."""

from __future__ import annotations

from collections.abc import Iterator

from analysis.contracts.workings import SectionWorking
from analysis.hand.evaluate import Hand
from analysis.hand.worked.working import working
from analysis.mechanics.sections import rectangle_torsion

KINDS: dict[str, tuple[str, str]] = {
    "h": ("depth", "length"),
    "b": ("width", "length"),
    "tf": ("flange thickness", "length"),
    "tw": ("web thickness (of each web)", "length"),
    "r": ("root radius", "length"),
    "hw": ("clear depth", "length"),
    "hf": ("between the flanges' middles", "length"),
    "bi": ("clear width", "length"),
    "bw": ("between the webs' middles", "length"),
    "Ar": ("area of a root fillet", "area"),
    "er": ("its centroid from the plates' faces", "length"),
    "Ir": ("its own second moment", "mm4"),
    "e3": ("a fillet's centroid from the axis of I3", "length"),
    "e2": ("a fillet's centroid from the axis of I2", "length"),
    "A": ("area", "area"),
    "I3": ("second moment in plane", "mm4"),
    "I2": ("second moment sideways", "mm4"),
    "S3": ("elastic modulus in plane", "mm3"),
    "S2": ("elastic modulus sideways", "mm3"),
    "alpha": ("junction factor", "-"),
    "Dj": ("circle in the junction", "length"),
    "J": ("torsion constant", "mm4"),
    "Cw": ("warping constant", "mm6"),
    "beta": ("torsion factor of a bar", "-"),
    "Ac": ("area within the walls' middle lines", "area"),
}
MODULI = ("S3 = 2*I3/h", "S2 = 2*I2/b")
FILLETS = (
    "Ar = (1 - pi/4)*r^2",
    "er = r*(5/6 - pi/4)/(1 - pi/4)",
    "Ir = r^4*(1/3 - pi/16 + 4/(9*pi) - pi/4*(1 - 4/(3*pi))^2) - Ar*er^2",
)
PLAIN_I = (
    "A = 2*b*tf + hw*tw",
    "I3 = (b*h^3 - (b - tw)*hw^3)/12",
    "I2 = (2*tf*b^3 + hw*tw^3)/12",
    *MODULI,
    "J = 2/3*b*tf^3 + hw*tw^3/3",
)
ROUNDED_I = (
    *FILLETS,
    "A = 2*b*tf + hw*tw + 4*Ar",
    "e3 = hw/2 - er",
    "I3 = (b*h^3 - (b - tw)*hw^3)/12 + 4*(Ir + Ar*e3^2)",
    "e2 = tw/2 + er",
    "I2 = (2*tf*b^3 + hw*tw^3)/12 + 4*(Ir + Ar*e2^2)",
    *MODULI,
    "alpha = -0.042 + 0.2204*tw/tf + 0.1355*r/tf - 0.0865*r*tw/tf^2 - 0.0725*(tw/tf)^2",
    "Dj = ((tf + r)^2 + (r + tw/4)*tw)/(2*r + tf)",
    "J = 2/3*b*tf^3 + hw*tw^3/3 + 2*alpha*Dj^4 - 0.420*tf^4",
)
BOX = (
    "hw = h - 2*tf",
    "bi = b - 2*tw",
    "A = b*h - bi*hw",
    "I3 = (b*h^3 - bi*hw^3)/12",
    "I2 = (h*b^3 - hw*bi^3)/12",
    *MODULI,
    "hf = h - tf",
    "bw = b - tw",
    "Ac = bw*hf",
    "J = 4*Ac^2/(2*bw/tf + 2*hf/tw)",
)
BAR = ("A = b*h", "I3 = b*h^3/12", "I2 = h*b^3/12", *MODULI, "J = beta*max(h, b)*min(h, b)^3")


def lines(kind: str, rounded: bool) -> tuple[str, ...]:
    if kind == "i":
        shape = ROUNDED_I if rounded else PLAIN_I
        return ("hw = h - 2*tf", "hf = h - tf", *shape, "Cw = tf*b^3*hf^2/24")
    return BOX if kind == "box" else BAR


def sections(hand: Hand) -> Iterator[SectionWorking]:
    """Hub edge (the same for both arms), then the boss edge of each."""
    for limb, station, place in (
        (hand.response.limbs[0], 0, "both arms at the hub edge"),
        *((limb, -1, f"{limb.name} arm at the boss edge") for limb in hand.response.limbs),
    ):
        sizes, part = hand.response.sizes, limb.part
        h, b, r = float(part.depth[0, station]), float(sizes.width[0]), float(sizes.fillet[0])
        given = {
            "h": h,
            "b": b,
            "tf": float(sizes.flange_thickness[0]),
            "tw": float(sizes.web_thickness[0]),
            "r": r,
        }
        if sizes.kind == "solid":
            given = {"h": h, "b": b, "beta": float(rectangle_torsion(max(h, b), min(h, b))[0])}
        properties = {"A": "area", "I3": "i3", "I2": "i2", "S3": "s3", "S2": "s2", "J": "j"}
        if sizes.kind == "i":
            properties["Cw"] = "cw"
        known = {symbol: float(getattr(part, name)[0, station]) for symbol, name in properties.items()}
        steps = lines(sizes.kind, r > 0.0)
        yield SectionWorking(
            place=place, working=working(steps, given, KINDS, hand.response.arm.units, known)
        )
