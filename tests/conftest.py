"""What every test shares: repeatable property tests, and no window system for the pictures."""

import os

import pytest
from hypothesis import settings

from params.steps.kernels import refresh

os.environ.setdefault("MPLBACKEND", "Agg")
os.environ.setdefault("PYVISTA_OFF_SCREEN", "true")

# The same examples in every run, and no time limit for a single one: machines have slow spells.
settings.register_profile("repeatable", derandomize=True, deadline=None, database=None)
settings.load_profile("repeatable")


def pytest_configure(config: pytest.Config) -> None:
    """Once, before the processes of a run begin: no kernel of other sources."""
    if not hasattr(config, "workerinput"):
        refresh()
