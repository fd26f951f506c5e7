"""Route and outage files read and checked; every problem at once, with file and line."""

from __future__ import annotations

from pathlib import Path

from params.files.commented import commented
from params.files.read import Model, material_names, misnamed, names_in, placed, read_material, validated
from params.files.yamlfile import YamlFile, read_yaml
from params.rules.route import broken_outage, broken_route
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.route import Process, Route
from params.schema.schedule import Outage
from params.steps.library import OUTAGE, is_copy, library_of
from params.steps.problems import Fault, ParameterError

EXTRACT = "How the part is made: what solids, plates and requirements of this package follow from."


def read_route(path: Path | str) -> Route:
    """Read and check a route file.

    Raises
    ------
    ParameterError
        with a line for every problem of the file.
    """
    file = read_yaml(Path(path))
    route = validated(Route, file)
    return checked(
        route, file, broken_route(route, None if is_copy(file.path) else forms(route, library_of(file.path)))
    )


def read_process(path: Path | str) -> Process:
    """Read and check a vendor's extract of a route file.

    Raises
    ------
    ParameterError
        with a line for every problem, and for every key of the owner's own.
    """
    file = read_yaml(Path(path))
    return checked(validated(Process, file), file, [])


def extract(path: Path) -> str:
    """Text of a route file's keys that a vendor needs; its comments stay with the owner too, who may have written prices there."""
    data = read_yaml(path).data
    kept = {key: data[key] for key in Process.model_fields if key in data}
    return commented(kept, Process, EXTRACT)


def forms(route: Route, library: Path) -> dict[str, str]:
    """Form of each material of a route that the library has."""
    names = sorted(set(route.materials) & set(material_names(library)))
    return {name: read_material(name, library).form for name in names}


def read_outage(path: Path | str) -> tuple[Outage, YamlFile]:
    """Read and check an outage file; the file comes along for the lines of its keys.

    Raises
    ------
    ParameterError
        with a line for every problem of the file.
    """
    file = read_yaml(Path(path))
    outage = validated(Outage, file)
    return checked(outage, file, broken_outage(outage)), file


def outage_of(arm: Arm) -> Outage | None:
    """The outage in which the arm is changed: the run's copy, else the one its file names; None where there is none."""
    copy = arm.library / OUTAGE
    if copy.is_file():
        return read_outage(copy)[0]
    return read_outage(arm.library / "outages" / f"{arm.outage}.yaml")[0] if arm.outage else None


def checked(model: Model, file: YamlFile, faults: list[Fault]) -> Model:
    problems = [placed(fault, file) for fault in faults] + misnamed(file, getattr(model, "name", ""))
    if problems:
        raise ParameterError(problems)
    return model


def route_names(arm: Arm) -> list[str]:
    """Names of the routes by which the arm may be made."""
    return sorted(arm.routes or names_in(arm.library)["routes"])


def route_file(arm: Arm, name: str) -> Path:
    return arm.library / "routes" / f"{name}.yaml"


def route_for(arm: Arm, material: Material) -> Route | None:
    """The route that the arm's file names, else the first, by name, that lists this material."""
    if arm.route:
        return read_route(route_file(arm, arm.route))
    routes = (read_route(route_file(arm, name)) for name in route_names(arm))
    return next((route for route in routes if material.name in route.materials), None)


def route_of(source: Path, arm: Arm, material: Material) -> Route | None:
    """The route whose best design a parameter file is (results/ARM/making/ROUTE/best), else the first that lists the material."""
    name = source.parent.parent.name
    if source.parent.name == "best" and name in route_names(arm):
        return read_route(route_file(arm, name))
    return route_for(arm, material)
