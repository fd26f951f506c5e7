"""Scans read by kept libraries: each setup as points in mm. What cannot be an arm's scan is told in one line.

Readers: plyfile, trimesh (STL, OBJ), pye57, laspy with lazrs, numpy (text). They belong to the extra `survey` of this project.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

import numpy as np

from geometry.datums import Floats
from params.schema.survey import ScanFile
from params.schema.units import factor
from params.steps.problems import ParameterError, Problem, one_line

FEWEST = 200  # points of a setup
SMALLEST, LARGEST = (
    150.0,
    60_000.0,
)  # mm: extent of a scan of an arm with what lies about it (common practice, no source)
UNITS = ("mm", "cm", "m", "in", "ft")
SAMPLED = 200_000  # points on a mesh of few large facets
FACETS = 20_000  # facets from which a mesh's corners are themselves the points
EXTRA = "install the readers: `uv pip install --group survey`"


@dataclass(frozen=True)
class Setup:
    """One setup: its name, points (n, 3) in mm in its own axes, targets by name, and points that were no numbers."""

    name: str
    points: Floats
    targets: dict[str, Floats]
    dropped: int = 0


def problem(
    path: Path, wrong: str, limit: str = "", mend: str = "", field: str = "file", value: str = ""
) -> ParameterError:
    return ParameterError([Problem(str(path), 1, field, value, one_line(wrong), limit, mend)])


def setups(folder: Path, file: ScanFile) -> Iterator[Setup]:
    """The setups of one file, in mm.

    Raises
    ------
    ParameterError
        where the file is none, cut off, of too few points, or of a size that no arm has.
    """
    path = folder / file.file
    read = READERS.get(path.suffix.lower())
    if read is None:
        raise problem(
            path, f"has the ending {path.suffix or 'none'}", f"one of {' '.join(READERS)}", "export it so"
        )
    if not path.is_file():
        raise problem(path, "is not there", "", "check the name in survey.yaml")
    unit = file.unit or ("m" if path.suffix.lower() == ".e57" else None)
    if unit is None:
        raise problem(
            path,
            "does not tell its unit",
            f"one of {', '.join(UNITS)}",
            "write unit: beside the file",
            "unit",
        )
    times = factor(unit, "length")[0]
    for number, points in enumerate(arrays(path, read)):
        whole = np.isfinite(points).all(axis=1)
        lost = int(len(points) - whole.sum())
        kept = points[whole] if lost else points
        sound(path, kept, lost)
        extent(path, kept, unit)
        targets = {name: np.array(place) * times for name, place in file.targets.items()}
        yield Setup(
            f"{path.stem}{'' if number == 0 else f' {number + 1}'}", scaled(kept, times), targets, lost
        )


def scaled(points: Floats, times: float) -> Floats:
    made = np.asarray(points, dtype=float)
    return made if times == 1.0 else made * times


def arrays(path: Path, read: Callable[[Path], Iterator[Floats]]) -> Iterator[Floats]:
    """What a reader gives, its own errors as one line of ours."""
    try:
        yield from read(path)
    except ImportError as error:
        raise problem(path, f"needs the package {error.name}", "", EXTRA) from None
    except ParameterError:
        raise
    except (
        ValueError,
        OSError,
        EOFError,
        KeyError,
        IndexError,
        struct.error,
        MemoryError,
        RuntimeError,
        AssertionError,
    ) as error:
        raise problem(
            path, f"cannot be read: {error or type(error).__name__}", "", "export it again, whole"
        ) from None
    except Exception as error:  # the readers' errors have no common base
        raise problem(
            path, f"cannot be read: {error or type(error).__name__}", "", "export it again, whole"
        ) from None


def sound(path: Path, points: Floats, lost: int) -> None:
    if lost > len(points):
        raise problem(
            path, f"has {lost} points that are no numbers among {lost + len(points)}", "", "export it again"
        )
    if len(points) < FEWEST:
        raise problem(path, f"has {len(points)} points", f"at least {FEWEST}", "scan it again, finer")


def extent(path: Path, points: Floats, unit: str) -> None:
    """Refuse a size that is absurd, with the units that would fit."""
    step = max(1, len(points) // 100_000)
    low, high = np.percentile(points[::step], [2.0, 98.0], axis=0)
    size = float(np.linalg.norm(high - low))
    fits = [name for name in UNITS if SMALLEST <= size * factor(name, "length")[0] <= LARGEST]
    if unit in fits:
        return
    mend = f"the unit may be {' or '.join(fits)}" if fits else "check the file"
    raise problem(
        path,
        f"is {size:.4g} {unit} across",
        f"between {SMALLEST / 1000:g} m and {LARGEST / 1000:g} m",
        mend,
        "unit",
        unit,
    )


def ply(path: Path) -> Iterator[Floats]:
    from plyfile import PlyData

    data = PlyData.read(str(path))
    if "vertex" not in data or any(axis not in data["vertex"] for axis in "xyz"):
        raise problem(path, "has no points x, y, z", "", "export points")
    vertex = data["vertex"]
    yield np.column_stack([np.asarray(vertex[axis]) for axis in "xyz"])


def mesh(path: Path) -> Iterator[Floats]:
    """Corners of a fine mesh, or points spread over one of few facets (seeded)."""
    import trimesh

    body: Any = trimesh.load(path, process=False, force="mesh")
    faces = getattr(body, "faces", None)
    if faces is None or len(faces) == 0:
        yield np.asarray(body.vertices)
    elif len(faces) > FACETS:
        yield np.unique(np.asarray(body.vertices), axis=0)
    else:
        yield np.asarray(trimesh.sample.sample_surface(body, SAMPLED, seed=1)[0])


def e57(path: Path) -> Iterator[Floats]:
    """Every scan of the file, in the file's common axes."""
    import pye57

    file = pye57.E57(str(path))
    for number in range(file.scan_count):
        data = file.read_scan(number, ignore_missing_fields=True)
        yield np.column_stack([data[f"cartesian{axis}"] for axis in "XYZ"])


def las(path: Path) -> Iterator[Floats]:
    import laspy

    with laspy.open(path) as file:
        chunks = cast(Iterator[Any], file.chunk_iterator(2_000_000))
        parts = [np.column_stack([part.x, part.y, part.z]) for part in chunks]
    if not parts:
        raise problem(path, "has no points", "", "export it again")
    yield np.vstack(parts)


def text(path: Path) -> Iterator[Floats]:
    """Three numbers a line, between commas, semicolons or spaces; lines that begin otherwise are a heading."""
    with path.open(encoding="utf-8", errors="strict") as stream:
        head = 0
        for line in stream:
            cells = line.replace(",", " ").replace(";", " ").split()
            if len(cells) >= 3 and number(cells[0]):
                break
            head += 1
            if head > 100:
                raise problem(path, "has no lines of three numbers", "", "write x, y, z on each line")
        else:
            raise problem(path, "has no lines of three numbers", "", "write x, y, z on each line")
    mark = "," if "," in line else ";" if ";" in line else None
    yield np.loadtxt(path, delimiter=mark, skiprows=head, usecols=(0, 1, 2), ndmin=2, comments="#")


def number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


READERS: dict[str, Callable[[Path], Iterator[Floats]]] = {
    ".ply": ply,
    ".stl": mesh,
    ".obj": mesh,
    ".e57": e57,
    ".las": las,
    ".laz": las,
    ".xyz": text,
    ".csv": text,
    ".txt": text,
}
