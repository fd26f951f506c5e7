"""`python -m params.check FILE...` finds in a second what a run would stop at: `ok`, or every problem and exit code 1.

Takes arms, materials, routes and outages, and sees by the keys which one a file is. Of an arm it reads all that a run of it
reads: its material and the old arm's, its routes with their materials, its outage.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from params.files.issued import issued_otherwise
from params.files.read import material_file, placed, read_arm, validated
from params.files.readroute import read_outage, read_route, route_file, route_names
from params.files.yamlfile import YamlFile, read_yaml
from params.rules.derived import derived
from params.rules.route import days_of
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.route import Route
from params.schema.schedule import Outage
from params.schema.units import show
from params.steps.arguments import Parser
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.library import ARM_FILE, library_of
from params.steps.problems import Fault, ParameterError, Problem

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


def report(path: Path, alone: bool = False) -> str:
    """`ok` and what follows from one file; `alone` leaves out the files that an arm names.

    Raises
    ------
    ParameterError
        with every problem of the file and, of an arm, of the files that it names.
    """
    kind = kind_of(read_yaml(path))
    if kind == "arm":
        return "\n".join([f"{path}: ok", *of_arm(path, alone)])
    lines = {"material": of_material, "route": of_route, "outage": of_outage}[kind](path)
    return "\n".join([f"{path}: ok ({kind})", *lines])


def of_arm(path: Path, alone: bool = False) -> list[str]:
    arm = read_arm(path)
    problems = [*issued_otherwise(arm, path), *(() if alone else set(problems_of_files(arm, path)))]
    if problems:
        raise ParameterError(problems)
    return [*(f"  {name:<38}{text}" for name, text in derived(arm)), f"  {arm.caution}"]


def of_material(path: Path) -> list[str]:
    material = material_file(path)
    strengths = (show(size, "stress", "si") for size in (material.yield_strength, material.tensile_strength))
    return [f"  {material.title}: yield strength {', tensile strength '.join(strengths)}"]


def of_route(path: Path) -> list[str]:
    route = read_route(path)
    files = (library_of(path) / "materials" / f"{name}.yaml" for name in route.materials)
    problems = [problem for file in files for problem in problems_in(material_file, file)]
    if problems:
        raise ParameterError(problems)
    return [f"  {route.title}", f"  {len(route.tasks)} tasks; materials {', '.join(route.materials)}"]


def of_outage(path: Path) -> list[str]:
    outage, _ = read_outage(path)
    lines = [f"  order on {outage.order}, open from {outage.opens} to {outage.closes}"]
    return [*lines, *of_work(outage)]


def of_work(outage: Outage) -> list[str]:
    """What the work in the outage takes, and whether it may be more than the outage has; nothing where there is none."""
    if not outage.work:
        return ["  no work in the outage is given: the part must be ready before it opens"]
    low, likely, high = (
        sum(getattr(stage, name) for stage in outage.work.values()) for name in ("low", "likely", "high")
    )
    room = days_of(outage.opens, outage.closes)
    text = f"  work in the outage {low:g} to {high:g} d, likely {likely:g} d, in an outage of {room} d"
    return [text + ("; at its longest it does not fit" if high > room else "")]


def problems_of_files(arm: Arm, path: Path) -> Iterator[Problem]:
    """What is wrong in the files that an arm names, and between them and the arm."""
    names = {arm.material} | ({arm.cracks.old_arm.material} if arm.cracks and arm.cracks.old_arm else set())
    for name in sorted(names):
        yield from problems_in(material_file, arm.library / "materials" / f"{name}.yaml")
    for name in route_names(arm):
        yield from problems_in(of_route, route_file(arm, name))
    if arm.outage:
        source = arm.library / "outages" / f"{arm.outage}.yaml"
        broken = problems_in(read_outage, source)
        outage = None if broken else read_outage(source)[0]
        yield from broken
        yield from [*too_early(arm, outage, path), *too_late(arm, outage, path)] if outage else ()


def problems_in(read: Callable[[Any], Any], source: Any) -> list[Problem]:
    try:
        read(source)
    except ParameterError as error:
        return error.problems
    return []


def too_early(arm: Arm, outage: Outage, path: Path) -> list[Problem]:
    """Cracks found on the day that the outage opens or later: there is no time until then that they must last."""
    file, limit = read_yaml(path), f"before {outage.opens}, when params/outages/{outage.name}.yaml opens"
    mend = "check the day, or name the next outage"
    return [
        placed(
            Fault(
                ("found_cracks", index, "found"), str(crack.found), "is not before the outage", limit, mend
            ),
            file,
        )
        for index, crack in enumerate(arm.found_cracks)
        if crack.found >= outage.opens
    ]


def too_late(arm: Arm, outage: Outage, path: Path) -> list[Problem]:
    """A drawing issued after the day on which it is ordered by: nothing can be ordered by it then."""
    issued = arm.drawing.issued
    if issued is None or issued <= outage.order:
        return []
    limit = f"on {outage.order} or before, when params/outages/{outage.name}.yaml has the order placed"
    mend = "issue it earlier, or order later"
    fault = Fault(("drawing", "issued"), str(issued), "is after the order", limit, mend)
    return [placed(fault, read_yaml(path))]


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="Check parameter files: arms, materials, routes, outages.")
    parser.add_argument("files", type=Path, nargs="+", help="files to check")
    parser.add_argument(
        "--file-as",
        type=Path,
        help=f"write the checked file here too, such as results/ARM/as-written/{ARM_FILE}",
    )
    options = parser.parse_args(arguments)
    bad = 0
    for path in options.files:
        try:
            print(report(path, alone=options.file_as is not None))
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
    with one_line_errors():
        sys.exit(main())
