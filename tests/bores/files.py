"""A valid section `bores:` as text, with things changed, and what the reader says of it."""

from __future__ import annotations

from pathlib import Path

from params.files.read import placed, read_arm, validated
from params.files.yamlfile import read_yaml
from params.rules.bores import fitting
from params.schema.bores import Bores
from params.steps.problems import ParameterError
from tests.arms import ARMS

VALID = """\
fits:
  pivot:
    fit: {fit: H7/s6}
    compare: {fit: H7/f7}
    shaft: {inside: 0 mm, elastic_modulus: 205 GPa, poisson_ratio: 0.3, expansion: 11.7 um/m/K}
    friction: {least: 0.15, most: 0.2}
    service: [20 degC, 20 degC]
    assembly: {room: 20 degC, clearance: 0.05 mm, hub_limit: 250 degC}
surfaces:
  - {region: pivot_bore, finish: machined}
  - {region: outside, finish: as-deposited}
welds:
  - {region: outside, category: 90, assessment: safe life, consequence: high, arm: output, station: 500 mm}
fretting: {used: 0.6}
mean_stress: {rule: goodman}
histories:
  - {title: pressure log, from_case: hold, to_case: raise, values: [0, 1, 0.5, 1, 0], times_per_year: 100}
"""


def edited(old: str = "", new: str = "") -> str:
    """The valid text with one thing changed."""
    assert old in VALID, f"{old!r} is not in the valid text"
    return VALID.replace(old, new, 1)


def read(folder: Path, text: str) -> Bores:
    path = folder / "bores.yaml"
    path.write_text(text)
    return validated(Bores, read_yaml(path))


def messages(folder: Path, text: str) -> list[str]:
    """One line for every problem, without the folder's name."""
    arm = read_arm(ARMS / "linkspan-rocker.yaml")
    try:
        bores = read(folder, text)
    except ParameterError as error:
        return str(error).replace(f"{folder}/", "").split("\n")
    file = read_yaml(folder / "bores.yaml")
    changed = arm.model_copy(update={"bores": bores})
    return [str(placed(fault, file)).replace(f"{folder}/", "") for fault in fitting(changed)]
