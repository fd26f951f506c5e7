"""Kept kernels go with the sources of all kernels, also of those that another file calls into."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from params.steps.kernels import refresh

INNER = "from numba import njit\n\n@njit\ndef factor():\n    return {}\n"
OUTER = "from numba import njit\nfrom analysis.inner import factor\n\n@njit(cache=True)\ndef twice():\n    return 2 * factor()\n"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    (tmp_path / "analysis").mkdir()
    (tmp_path / "analysis" / "inner.py").write_text(INNER.format(3))
    (tmp_path / "analysis" / "outer.py").write_text(OUTER)
    (tmp_path / "analysis" / "plain.py").write_text("A = 1\n")
    return tmp_path


def twice(project: Path) -> int:
    command = [sys.executable, "-c", "from analysis.outer import twice; print(twice())"]
    surroundings = os.environ | {"PYTHONPATH": str(project)}
    said = subprocess.run(command, env=surroundings, cwd=project, capture_output=True, text=True, check=True)
    return int(said.stdout)


def test_a_changed_function_that_a_kept_kernel_calls_counts(project: Path) -> None:
    """2 x 3, then 2 x 5: by pen."""
    refresh(project)
    assert twice(project) == 6
    (project / "analysis" / "inner.py").write_text(INNER.format(5))
    assert refresh(project)
    assert twice(project) == 10


def test_kernels_of_the_same_sources_stay(project: Path) -> None:
    refresh(project)
    twice(project)
    kept = sorted(project.rglob("*.nbi"))
    assert kept
    (project / "analysis" / "plain.py").write_text("A = 2\n")  # has no kernel
    assert not refresh(project)
    assert sorted(project.rglob("*.nbi")) == kept
