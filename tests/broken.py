"""One formula broken on purpose in a copy of the project, and whether its test notices."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
ROOMS = ("params", "geometry", "analysis", "tests", "pyproject.toml")


@dataclass(frozen=True)
class Mutation:
    """One broken formula: the file, the text to replace, its replacement, and the test that must fail."""

    file: str
    text: str
    broken: str
    test: str


def noticed(mutation: Mutation) -> bool:
    """Whether the named test fails once the formula is broken, in a copy of the tree."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for room in ROOMS:
            source = ROOT / room
            if source.is_dir():
                shutil.copytree(
                    source, copy / room, ignore=shutil.ignore_patterns("__pycache__", "*.nbi", "*.nbc")
                )
            else:
                shutil.copy(source, copy / room)
        target = copy / mutation.file
        target.write_text(target.read_text().replace(mutation.text, mutation.broken, 1))
        command = [
            sys.executable,
            *["-m", "pytest", "-n", "0", "-x", "-q", "-p", "no:cacheprovider"],
            mutation.test,
        ]
        return subprocess.run(command, cwd=copy, capture_output=True, check=False).returncode == 1


def survivors(mutations: tuple[Mutation, ...], word: str = "") -> int:
    """Break each that has the word in file, text or test; how many no test noticed."""
    survived = 0
    for mutation in mutations:
        if word in mutation.file + mutation.text + mutation.test:
            seen = noticed(mutation)
            survived += not seen
            print(f"{'noticed ' if seen else 'SURVIVED'}  {mutation.file}: {mutation.text}", flush=True)
    return survived
