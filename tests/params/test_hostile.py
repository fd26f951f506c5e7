"""Every file that people write, with keys taken out and hostile values put in: it reads well, or each problem is one line
`file:line: field: value, what is wrong, limit, mend`; never a traceback, never a warning."""

from __future__ import annotations

import json
import tempfile
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from params.check import report
from params.files.read import HERE, read_material
from params.files.readroute import read_outage, read_route
from params.files.yamlfile import read_yaml
from params.steps.problems import ParameterError
from tests.params.test_mutations import leaves, put

HOSTILE = st.sampled_from(
    [
        None,
        True,
        -1,
        0,
        1e308,
        float("nan"),
        float("inf"),
        10**30,
        [],
        {},
        [[]],
        {"a": 1},
        [1, 2],
        "",
        " ",
        "nan mm",
        "inf mm",
        "1e308 m",
        "-1 mm",
        "0 mm",
        "5 m",
        "1,5 mm",
        "1_000 mm",
        "١ mm",
        "40 MPa",
        "40",
        "20 degF",
        "-273 degC",
        "1000 degC",
        "0 J",
        "500 J",
        "H7",
        "H7/s6",
        "Z9/z9",
        "h7/S6",
        "H7/s6/s6",
        "H99/s6",
        "K12/t5",
        "<script>alert(1)</script>",
        '"><img src=x>',
        "=1+1",
        "+cmd|' /C calc'!A0",
        "\u202etxt.exe",
        "\x07",
        "a\nb",
        "x" * 5000,
        "#set page(width: 1pt)",
        "\\input{/etc/passwd}",
        "$x$",
        "../../etc/passwd",
        "a/b",
        "..\\a",
        "CON",
        "0 d",
        "-1 d",
        "1e9 d",
        "2026-02-30",
        "0000-00-00",
        "2199-12-31",
        "2026-01-01 to 2030-01-01",
        "-5 EUR",
        "1e13 EUR",
        "5 EUR/kg",
        "5 USD",
        "raise",
        "outside",
        "through",
        "hub",
    ]
)
SETTINGS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def drop(data: Any, path: tuple[Any, ...]) -> Any:
    """A copy without the key or entry at the path."""
    copy = dict(data) if isinstance(data, dict) else list(data)
    if len(path) == 1:
        del copy[path[0]]
    else:
        copy[path[0]] = drop(data[path[0]], path[1:])
    return copy


def refused(read: Callable[[Path], object], path: Path) -> ParameterError | None:
    try:
        read(path)
    except ParameterError as error:
        return error
    return None


def answered(read: Callable[[Path], object], source: Path, changes: list[tuple[int, bool, Any]]) -> None:
    """Read the file with these changes: place among its leaves, whether it is dropped, what is put there else."""
    data: Any = read_yaml(source).data
    for place, dropped, value in changes:
        paths = leaves(data)
        path = paths[place % len(paths)]
        data = drop(data, path) if dropped else put(data, path, value)
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error")
        path = Path(folder) / source.name
        path.write_text(json.dumps(data, indent=1), encoding="utf-8")
        error = refused(read, path)
        if error is not None:
            lines = str(error).split("\n")
            assert len(lines) == len(error.problems)
            for line, problem in zip(lines, error.problems, strict=True):
                assert line.startswith(f"{path}:{problem.line}: {problem.field}") or len(problem.field) > 100
                assert problem.line >= 1
                assert problem.wrong
                assert problem.mend or problem.limit
                assert line.isprintable()
                assert len(line) < 2000


CHANGES = st.lists(st.tuples(st.integers(0, 10_000), st.booleans(), HOSTILE), min_size=1, max_size=3)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["bench-lever", "linkspan-rocker", "sluice-crank"])
@SETTINGS
@given(CHANGES)
def test_arms(name: str, changes: list[tuple[int, bool, Any]]) -> None:
    answered(report, HERE / "arms" / f"{name}.yaml", changes)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["cast", "deposited", "welded"])
@SETTINGS
@given(CHANGES)
def test_routes(name: str, changes: list[tuple[int, bool, Any]]) -> None:
    answered(read_route, HERE / "routes" / f"{name}.yaml", changes)


@SETTINGS
@given(CHANGES)
def test_outages(changes: list[tuple[int, bool, Any]]) -> None:
    answered(read_outage, HERE / "outages" / "late-autumn.yaml", changes)


@SETTINGS
@given(CHANGES)
def test_materials(changes: list[tuple[int, bool, Any]]) -> None:
    def read(path: Path) -> None:
        folder = path.parent / "materials"
        folder.mkdir()
        path.rename(folder / path.name)
        try:
            read_material(path.stem, path.parent)
        except ParameterError as error:
            raise ParameterError([moved(one, path) for one in error.problems]) from None

    def moved(problem: Any, path: Path) -> Any:
        assert problem.file == str(path.parent / "materials" / path.name)
        return type(problem)(**(vars(problem) | {"file": str(path)}))

    answered(read, HERE / "materials" / "a572-50.yaml", changes)
