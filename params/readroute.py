"""Route and outage files read and checked; every problem at once, with file and line."""

from __future__ import annotations

from pathlib import Path

from params.files.read import (
    HERE,
    Model,
    material_names,
    misnamed,
    names_in,
    placed,
    read_material,
    validated,
)
from params.files.yamlfile import YamlFile, read_yaml
from params.rules.route import broken_outage, broken_route
from params.schema.material import Material
from params.schema.route import Route
from params.schema.schedule import Outage
from params.steps.problems import Fault, ParameterError


def read_route(path: Path | str) -> Route:
    """Read and check a route file.

    Raises
    ------
    ParameterError
        with a line for every problem of the file.
    """
    file = read_yaml(Path(path))
    route = validated(Route, file)
    forms = {name: read_material(name).form for name in material_names()}
    return checked(route, file, broken_route(route, forms))


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


def checked(model: Model, file: YamlFile, faults: list[Fault]) -> Model:
    problems = [placed(fault, file) for fault in faults] + misnamed(file, getattr(model, "name", ""))
    if problems:
        raise ParameterError(problems)
    return model


def route_names() -> list[str]:
    """Names of the route files."""
    return names_in("routes")


def route_for(material: Material) -> Route | None:
    """The first route, by name, that lists this material."""
    routes = (read_route(HERE / "routes" / f"{name}.yaml") for name in route_names())
    return next((route for route in routes if material.name in route.materials), None)


def route_of(source: Path, material: Material) -> Route | None:
    """The route whose best design a parameter file is (results/ARM/making/ROUTE/best), else the first that lists the material."""
    name = source.parent.parent.name
    if source.parent.name == "best" and name in route_names():
        return read_route(HERE / "routes" / f"{name}.yaml")
    return route_for(material)
