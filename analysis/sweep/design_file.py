"""One design of the sweep as a parameter file of its own: the arm's file with the swept sizes put in.

`python -m analysis.sweep.design_file results/ARM ID` writes results/ARM/designs/ID/arm.yaml; comments and all else stay, but for
the cracks found on the old arm: they are not the new one's, whose hub may be too small for their solutions.
"""

from __future__ import annotations

import copy
import re
import sys
from pathlib import Path
from typing import Any

from analysis.sweep.grid import spans
from analysis.tables.files import read_csv
from params.files.commented import commented
from params.files.read import read_arm
from params.files.yamlfile import YamlFile, read_yaml
from params.schema.arm import Arm
from params.schema.units import inside, outside, shown_unit
from params.steps.guard import plainly
from params.steps.results import Filed

FOUND = "found_cracks"
WHERE = {"hub": ("geometry", "pivot", "outside")}
FIELD = re.compile(r"(?P<indent>\s*)(?P<key>[a-z_]+):\s*(?P<value>[^#]*?)\s*(?P<comment>#.*)?")


def written(sizes: dict[str, float], text: str) -> str:
    """The parameter file `text` with these sizes (mm) in place of its own, in the unit that stands there.

    Comments stay where every size has a line of its own, two spaces a level; a file laid out otherwise is written anew.
    """
    wanted = {WHERE.get(name, ("geometry", "section", name)): size for name, size in sizes.items()}
    lines, path = [], []
    for line in text.splitlines():
        lines.append(line)
        if match := FIELD.fullmatch(line):
            path = [*path[: len(match["indent"]) // 2], match["key"]]
            if tuple(path) in wanted:
                lines[-1] = replaced(match, wanted.pop(tuple(path)))
    return "\n".join(lines) + "\n" if not wanted else ""


def anew(sizes: dict[str, float], data: dict[str, Any], identifier: str) -> str:
    """The same from the file's data, with the comments of the schema."""
    made = copy.deepcopy(data)
    for name, size in sizes.items():
        *path, key = WHERE.get(name, ("geometry", "section", name))
        place = made
        for part in path:
            place = place[part]
        unit = str(place[key]).split()[-1]
        place[key] = f"{outside(size, unit, 'length'):.7g} {unit}"
    return commented(made, Arm, f"{data['name']}: design {identifier} of the sweep.")


def replaced(match: re.Match[str], size: float) -> str:
    """One `key: value unit` line with another length, in the same unit."""
    unit = match["value"].strip("\"'").split()[-1]
    return f"{match['indent']}{match['key']}: {outside(size, unit, 'length'):.7g} {unit}  # from the sweep"


def without_found(file: YamlFile, text: str) -> str:
    """The file's text without the section of found cracks and the comment on top of it.

    Empty where the section is not laid out with its key at the beginning of a line.
    """
    lines = text.splitlines()
    if FOUND not in file.data:
        return text
    start = file.lines[(FOUND,)] - 1
    if not lines[start].startswith(FOUND):
        return ""
    end = min(
        (at - 1 for key, at in file.lines.items() if len(key) == 1 and at - 1 > start), default=len(lines)
    )
    while end > start + 1 and lines[end - 1].startswith("#"):  # the comment of the section below
        end -= 1
    while start and lines[start - 1].startswith("#"):
        start -= 1
    return "\n".join([*lines[:start], *lines[end:]]) + "\n"


def main(folder: Path, identifier: str) -> None:
    source = folder / "as-written" / "arm.yaml"
    arm = read_arm(source)
    table = folder / "sweep" / "chosen.csv"
    row = Filed({row["id"]: row for row in read_csv(table)}, table)[identifier]
    unit = shown_unit("length", arm.units)
    sizes = {name: inside(float(row[f"{name}_{unit}"]), unit, "length") for name in spans(arm)}
    target = folder / "designs" / identifier / "arm.yaml"
    target.parent.mkdir(parents=True, exist_ok=True)
    file = read_yaml(source)
    text = without_found(file, source.read_text())
    made = written(sizes, text) if text else ""
    file.data.pop(FOUND, None)
    target.write_text(made or anew(sizes, file.data, identifier))
    read_arm(target)


if __name__ == "__main__":
    with plainly():
        main(Path(sys.argv[1]), sys.argv[2])
