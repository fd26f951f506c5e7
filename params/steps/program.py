"""Which program makes a result: a digest of the sources that a step can reach, their data files and the locked libraries.

Results of another program than that which stands here are made again, and are called so where they are shown.
"""

from __future__ import annotations

import hashlib
import re
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
ROOMS = ("params", "geometry", "analysis")
LOCK = TOP / "requirements.lock"
IMPORT = re.compile(
    r"^\s*(?:from\s+((?:params|geometry|analysis)[\w.]*)\s+import\s+(\([^)]*\)|[^\n]*)|import\s+((?:params|geometry|analysis)[\w.]*))",
    re.MULTILINE,
)
MODULE = re.compile(r"python -m ([\w.]+)")
# Steps that say which program made them; without the room's name, so that nothing here is taken for a module that is run.
SAYS_WHICH = {f"analysis.{name}" for name in ("tables.overview", "page.page", "page.index", "record")}
STRING = re.compile(
    r"""["']((?:params|geometry|analysis)(?:\.\w+)+)["']"""
)  # a module that a step runs in a process of its own


@cache
def digest(*modules: str) -> str:
    """Digest of all that these modules import within the project, directly or not; of the whole project without modules."""
    sources = set().union(*map(reached, modules)) if modules else set(every())
    total = hashlib.sha256(LOCK.read_bytes())
    for path in sorted(sources):
        total.update(f"{path.relative_to(TOP).as_posix()}\0".encode() + _bytes(path))
    return total.hexdigest()


def of_command(command: str) -> str:
    """Digest of what a rule's command reaches; of the whole project where its step says which program made it."""
    modules = MODULE.findall(command)
    return digest() if SAYS_WHICH & set(modules) else digest(*modules)


@cache
def _bytes(path: Path) -> bytes:
    return hashlib.sha256(path.read_bytes()).digest()


def every() -> list[Path]:
    """All sources and data files of the project's code."""
    return [path for room in ROOMS for path in (TOP / room).rglob("*") if counts(path)]


def counts(path: Path) -> bool:
    """Whether a file is code or its data, not a file that people write or scan, a cache or a workflow rule."""
    place = path.relative_to(TOP).parts
    written = place[0] == "params" and len(place) > 2 and (path.suffix == ".yaml" or place[1] == "surveys")
    return (
        path.is_file() and not written and "__pycache__" not in place and path.suffix not in (".smk", ".md")
    )


def reached(module: str) -> frozenset[Path]:
    """Files of a module, of all it imports and of the packages above them, with the data files beside them."""
    sources: set[Path] = set()
    waiting = [path for path in (*on_the_way(module), file_of(f"{module}.__main__")) if path]
    while waiting:
        path = waiting.pop()
        if path not in sources:
            sources.add(path)
            waiting += imports(path)
    data = {other for path in sources for other in beside(path.parent)}
    return frozenset(sources | data)


@cache
def beside(folder: Path) -> tuple[Path, ...]:
    """Data files of a room: what is not Python in it or in its folders that hold no Python."""
    files: list[Path] = []
    for path in folder.iterdir():
        if path.is_dir() and not any(path.glob("*.py")) and folder != TOP / "params":
            files += [one for one in path.rglob("*") if counts(one)]
        elif path.suffix != ".py" and counts(path):
            files.append(path)
    return tuple(files)


def on_the_way(module: str) -> list[Path | None]:
    """Files of the packages above a module and its own: Python runs all of them."""
    parts = module.split(".")
    return [file_of(".".join(parts[: count + 1])) for count in range(len(parts))]


@cache
def imports(path: Path) -> tuple[Path, ...]:
    """Files of the project that a file imports, with the packages that Python runs on the way to them."""
    text = path.read_text(encoding="utf-8")
    files = [path for module in STRING.findall(text) for path in on_the_way(module)]
    for source, names, plain in IMPORT.findall(text):
        module = source or plain
        files += on_the_way(module)
        files += [file_of(f"{module}.{name}") for name in re.findall(r"\w+", names)]
    return tuple(dict.fromkeys(one for one in files if one))


@cache
def file_of(module: str) -> Path | None:
    """The file of a module or package; None where there is none."""
    place = TOP.joinpath(*module.split("."))
    candidates = (place.with_suffix(".py"), place / "__init__.py")
    return next((path for path in candidates if path.is_file()), None)
