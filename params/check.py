"""`python -m params.check FILE...` finds in a second what a run would stop at: `ok`, or every problem and exit code 1.

Takes arms, materials, routes and outages, and sees by the keys which one a file is. Of an arm it reads all that a run of it
reads: its material and the old arm's, its routes with their materials, its outage.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from params.arguments import Parser
from params.arm import Arm
from params.caution import CAUTION
from params.derived import derived
from params.material import Material
from params.plainly import plainly
from params.problems import Fault, ParameterError, Problem
from params.read import FILED, HERE, material_file, placed, read_arm, read_material, validated
from params.readroute import read_outage, read_route, route_names
from params.route import Route
from params.schedule import Outage
from params.units import show
from params.yamlfile import YamlFile, read_yaml

MODELS = {"arm": Arm, "material": Material, "route": Route, "outage": Outage}


def kind_of(file: YamlFile) -> str:
    """Which of our files it is: the one whose own keys, those that no other has, it has most of.

    Raises
    ------
    ParameterError
        where it has no such key.
    """
    data = validated_keys(file)
    keys = {kind: set(model.model_fields) for kind, model in MODELS.items()}
    own = {
        kind: names.difference(*(keys[other] for other in keys if other != kind))
        for kind, names in keys.items()
    }
    kind = max(own, key=lambda kind: len(own[kind] & data))
    if not own[kind] & data:
        limit = "the keys of one of them"
        fault = Fault(
            (), "", "is not an arm, a material, a route or an outage", limit, "see params/README.md"
        )
        raise ParameterError([placed(fault, file)])
    return kind


def validated_keys(file: YamlFile) -> set[str]:
    if not isinstance(file.data, dict):
        validated(Arm, file)  # whose message says so
    return set(file.data)


def report(path: Path) -> str:
    """`ok` and what follows from one file.

    Raises
    ------
    ParameterError
        with every problem of the file and, of an arm, of the files that it names.
    """
    kind = kind_of(read_yaml(path))
    lines = {"arm": of_arm, "material": of_material, "route": of_route, "outage": of_outage}[kind](path)
    return "\n".join([f"{path}: ok" if kind == "arm" else f"{path}: ok ({kind})", *lines])


def of_arm(path: Path) -> list[str]:
    arm = read_arm(path)
    if problems := sorted(set(problems_of_files(arm, path))):
        raise ParameterError(problems)
    return [*(f"  {name:<38}{text}" for name, text in derived(arm)), f"  {arm.caution}"]


def of_material(path: Path) -> list[str]:
    material = material_file(path)
    strengths = (show(size, "stress", "si") for size in (material.yield_strength, material.tensile_strength))
    return [f"  {material.title}: yield strength {', tensile strength '.join(strengths)}"]


def of_route(path: Path) -> list[str]:
    route = read_route(path)
    problems = [problem for name in route.materials for problem in problems_in(read_material, name)]
    if problems:
        raise ParameterError(problems)
    return [f"  {route.title}", f"  {len(route.tasks)} tasks; materials {', '.join(route.materials)}"]


def of_outage(path: Path) -> list[str]:
    outage, _ = read_outage(path)
    return [f"  order on {outage.order}, open from {outage.opens} to {outage.closes}"]


def problems_of_files(arm: Arm, path: Path) -> Iterator[Problem]:
    """What is wrong in the files that an arm names, and between them and the arm."""
    names = {arm.material} | ({arm.cracks.old_arm.material} if arm.cracks and arm.cracks.old_arm else set())
    for name in sorted(names):
        yield from problems_in(read_material, name)
    for name in arm.routes or route_names():
        yield from problems_in(of_route, HERE / "routes" / f"{name}.yaml")
    if arm.outage:
        source = HERE / "outages" / f"{arm.outage}.yaml"
        broken = problems_in(read_outage, source)
        yield from broken or other_day(arm, read_outage(source)[0], path)


def problems_in(read: Callable[[Any], Any], source: Any) -> list[Problem]:
    try:
        read(source)
    except ParameterError as error:
        return error.problems
    return []


def other_day(arm: Arm, outage: Outage, path: Path) -> list[Problem]:
    """The day that the cracks must reach is the one on which the outage opens."""
    day = arm.cracks.outage if arm.cracks else None
    if day is None or day == outage.opens:
        return []
    wrong, limit = (
        "is not the day on which the outage opens",
        f"{outage.opens} in params/outages/{outage.name}.yaml",
    )
    mend = "write that day, or name another outage"
    return [placed(Fault(("cracks", "outage"), str(day), wrong, limit, mend), read_yaml(path))]


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="Check parameter files: arms, materials, routes, outages.")
    parser.add_argument("files", type=Path, nargs="+", help="files to check")
    parser.add_argument(
        "--file-as",
        type=Path,
        help=f"write the checked file here too, such as results/ARM/as-written/{FILED}",
    )
    options = parser.parse_args(arguments)
    bad = 0
    for path in options.files:
        try:
            print(report(path))
        except ParameterError as error:
            print(error, file=sys.stderr)
            bad += 1
            continue
        if options.file_as:
            options.file_as.parent.mkdir(parents=True, exist_ok=True)
            options.file_as.write_bytes(path.read_bytes())
    print(CAUTION)
    return 1 if bad else 0


if __name__ == "__main__":
    with plainly():
        sys.exit(main())
