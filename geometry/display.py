"""A small model of the arm to look at, 3MF: `python -m geometry.display ARM.yaml OUT.3mf`; the scale stands in the arm's file.

3MF is a zip of XML (core specification 1.x, 3MF Consortium). Entries are stored with a fixed time, so that the same arm gives
the same bytes.
"""

from __future__ import annotations

import sys
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

import cadquery as cq

from geometry.outline import SolidRefused
from geometry.solid import solid
from params.files.read import read_arm
from params.schema.arm import Arm
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors

FINE = 0.05  # mm between facets and surface of the model
TURN = 0.2  # rad between neighbouring facets
STAMP = (1980, 1, 1, 0, 0, 0)  # earliest time that a zip can say
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
START = '<?xml version="1.0" encoding="UTF-8"?>\n'
TYPES = (
    f'{START}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
RELATIONS = (
    f'{START}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rel0"'
    ' Target="/3D/3dmodel.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)


def model(body: cq.Solid, arm: Arm) -> str:
    """The model part: one closed mesh in millimetres."""
    points, triangles = closed(*body.scale(arm.drawing.display_scale).tessellate(FINE, TURN))
    vertices = "".join(f'<vertex x="{x:.5f}" y="{y:.5f}" z="{z:.5f}"/>' for x, y, z in points)
    facets = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in triangles)
    title = f"{arm.name} revision {arm.revision}, scale {arm.drawing.display_scale:g}, display model"
    return (
        f'{START}<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}">'
        f'<metadata name="Title">{escape(title)}</metadata><metadata name="Description">{escape(CAUTION)}</metadata>'
        f'<resources><object id="1" type="model"><mesh><vertices>{vertices}</vertices>'
        f"<triangles>{facets}</triangles></mesh></object></resources>"
        '<build><item objectid="1"/></build></model>'
    )


def closed(
    points: list[cq.Vector], triangles: list[tuple[int, int, int]]
) -> tuple[list[tuple[float, ...]], list[tuple[int, ...]]]:
    """The facets with the points of neighbouring faces joined, as a printer needs them; slivers are left out."""
    numbers: dict[tuple[float, ...], int] = {}
    joined = [
        numbers.setdefault(tuple(round(v, 5) + 0.0 for v in point.toTuple()), len(numbers))
        for point in points
    ]
    facets = [tuple(joined[corner] for corner in triangle) for triangle in triangles]
    return list(numbers), [facet for facet in facets if len(set(facet)) == 3]


def write_3mf(text: str, path: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as made:
        for name, part in (
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", RELATIONS),
            ("3D/3dmodel.model", text),
        ):
            made.writestr(zipfile.ZipInfo(name, STAMP), part.encode())


def main(source: Path, target: Path) -> int:
    arm = read_arm(source)
    try:
        body = solid(arm)
    except SolidRefused as refusal:
        print(f"{arm.name}: cannot be built: {refusal}", file=sys.stderr)
        return REFUSED
    target.parent.mkdir(parents=True, exist_ok=True)
    write_3mf(model(body, arm), target)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, target=Path)))
