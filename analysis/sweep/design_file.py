"""One design of the sweep as a parameter file of its own: the arm's file with the swept sizes and what its route brings.

`python -m analysis.sweep.design_file results/ARM ID` writes results/ARM/designs/ID/arm.yaml: sizes, the route of its material with
that route's kind of section, radii and factors on strength. Comments and all else stay, except the cracks found on the old arm:
the new one does not have them, and its hub may be too small for their solutions.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from analysis.mechanics.sizes import SWEPT
from analysis.sweep.on_route import FACTORS, WALLS, on_own_route
from analysis.tables.files import read_csv
from params.files.edited import add, put, text_of, tree_of
from params.files.read import read_arm, read_material
from params.files.yamlfile import YamlFile, read_yaml
from params.schema.arm import Arm
from params.schema.units import inside, outside, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.problems import Key
from params.steps.results import ResultFile

CRACKS_FOUND = "found_cracks"
SECTION, HUB = ("geometry", "section"), ("geometry", "pivot", "outside")
FILLET, BLEND = (*SECTION, "fillet"), ("geometry", "blend_radius")
LENGTHS = (FILLET, BLEND)
BEHIND: dict[str, str] = dict.fromkeys(
    (*WALLS, "fillet"), "width"
)  # where a key goes that the file does not have yet
BEHIND |= {"blend_radius": "included_angle", "pin_factor": "pin_code", "route": "material"}
REMARK = "from the sweep"


def written(sizes: dict[str, float], text: str, arm: Arm) -> str:
    """The parameter file `text` of the arm with these sizes (mm) and what the route changes, each in the unit that stands there."""
    tree = tree_of(text)
    adapted, route = on_own_route(arm, read_material(arm.material, arm.library))
    for name, size in sizes.items():
        set_to(tree, place(name), sized(tree, place(name), size, arm), REMARK)
    if route is not None:
        remark = f"by the route {route.name}"
        for key, value in of_route(arm, adapted.arm):
            set_to(tree, key, sized(tree, key, value, arm) if key in LENGTHS else value, remark)
        set_to(tree, ("route",), route.name, "of the design's material")
        if adapted.arm.geometry.section.kind == "solid":
            for name in WALLS:
                tree["geometry"]["section"].pop(name, None)
    return text_of(tree)


def set_to(tree: Any, key: Key, value: Any, remark: str) -> None:
    """Change a value, or put in one that is not there yet."""
    group = tree
    for part in key[:-1]:
        group = group[part]
    if key[-1] in group:
        put(tree, key, value, remark)
    else:
        add(tree, key, value, remark, BEHIND[str(key[-1])])


def of_route(arm: Arm, new: Arm) -> Iterator[tuple[Key, Any]]:
    """Keys and values that the route changes beside the swept sizes; lengths in mm."""
    pairs = [
        ((*SECTION, "kind"), arm.geometry.section.kind, new.geometry.section.kind),
        (FILLET, arm.geometry.section.fillet, new.geometry.section.fillet),
        (BLEND, arm.geometry.blend_radius, new.geometry.blend_radius),
        *((("criteria", name), getattr(arm.criteria, name), getattr(new.criteria, name)) for name in FACTORS),
        *(
            (("load_cases", name, "design_factor"), arm.load_cases[name].design_factor, case.design_factor)
            for name, case in new.load_cases.items()
        ),
    ]
    yield from ((key, now) for key, before, now in pairs if now != before and now is not None)


def place(name: str) -> Key:
    """Path of keys of a swept size."""
    return HUB if name == "hub" else (*SECTION, name)


def value_at(data: Any, key: Key) -> str:
    for part in key:
        data = data[part]
    return str(data)


def sized(tree: Any, key: Key, size: float, arm: Arm) -> str:
    """A length (mm) in the unit of the text that it replaces, or in the arm's where there is none."""
    try:
        unit = value_at(tree, key).rsplit(maxsplit=1)[-1]
    except KeyError:
        unit = shown_unit("length", arm.units)
    return f"{outside(size, unit, 'length'):.7g} {unit}"


def without_found_cracks(file: YamlFile, text: str) -> str:
    """The file's text without the section of found cracks and the comment on top of it."""
    lines = text.splitlines()
    if CRACKS_FOUND not in file.data:
        return text
    start = file.lines[(CRACKS_FOUND,)] - 1
    if not lines[start].startswith(CRACKS_FOUND):  # behind others on one line
        tree = tree_of(text)
        del tree[CRACKS_FOUND]
        return text_of(tree)
    end = min(
        (at - 1 for key, at in file.lines.items() if len(key) == 1 and at - 1 > start), default=len(lines)
    )
    while end > start + 1 and lines[end - 1].startswith("#"):  # the comment of the section below
        end -= 1
    while start and lines[start - 1].startswith("#"):
        start -= 1
    return "\n".join([*lines[:start], *lines[end:]]) + "\n"


def text_of_design(folder: Path, identifier: str, table: str = "chosen.csv") -> str:
    """The parameter file of a design that a table of results/ARM/sweep lists, as the arm's file and its route now have it."""
    source = folder / "as-written" / "arm.yaml"
    arm, listed = read_arm(source), folder / "sweep" / table
    row = ResultFile({row["id"]: row for row in read_csv(listed)}, listed)[identifier]
    unit = shown_unit("length", arm.units)
    sizes = {
        name: inside(float(row[f"{name}_{unit}"]), unit, "length")
        for name in SWEPT
        if row.get(f"{name}_{unit}")
    }
    text = without_found_cracks(read_yaml(source), source.read_text(encoding="utf-8-sig"))
    return written(sizes, text, arm)


def main(folder: Path, identifier: str) -> None:
    target = folder / "designs" / identifier / "arm.yaml"
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text_of_design(folder, identifier), encoding="utf-8")
    read_arm(target)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, design=str))
