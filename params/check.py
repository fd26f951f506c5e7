"""`python -m params.check FILE...` prints `ok` with the derived sizes, or every problem at once."""

from __future__ import annotations

import argparse
import math
import sys
from pathlib import Path

import numpy as np

from params.arm import Arm
from params.caution import CAUTION
from params.linkage import poses
from params.problems import ParameterError
from params.read import read_arm
from params.units import show


def derived(arm: Arm) -> list[tuple[str, str]]:
    """Sizes that follow from the file, as pairs of name and text with unit."""
    geometry, drive = arm.geometry, arm.drive
    moved = poses(arm, np.linspace(0.0, 1.0, 41))
    between = math.sqrt(
        geometry.input_arm**2
        + geometry.output_arm**2
        - 2.0 * geometry.input_arm * geometry.output_arm * math.cos(geometry.included_angle)
    )
    extend = math.pi / 4.0 * drive.cylinder_bore**2 * drive.relief_pressure
    retract = math.pi / 4.0 * (drive.cylinder_bore**2 - drive.rod**2) * drive.relief_pressure
    along, turned = np.abs(moved.cylinder_length), np.abs(moved.push_arm)

    def span(values: np.ndarray) -> str:
        return f"{show(float(values.min()), 'length', arm.units)} to {show(float(values.max()), 'length', arm.units)}"

    walls = ((name, getattr(geometry, name)) for name in ("pivot", "input", "output"))
    return [
        ("pin to pin, input to output", show(between, "length", arm.units)),
        ("overall length, boss to boss", show(between + (geometry.input.outside + geometry.output.outside) / 2.0, "length", arm.units)),
        ("swing", show(drive.raised - drive.lowered, "angle", arm.units)),
        ("cylinder, pin to pin over the swing", span(along)),
        ("cylinder's moment arm over the swing", span(turned)),
        ("cylinder force at relief, extending", show(extend, "force", arm.units)),
        ("cylinder force at relief, retracting", show(retract, "force", arm.units)),
        *((f"wall beside the {name} bore", show((bore.outside - bore.bore) / 2.0, "length", arm.units)) for name, bore in walls),
    ]


def main() -> int:
    parser = argparse.ArgumentParser(description="Check parameter files.")
    parser.add_argument("files", type=Path, nargs="+")
    parser.add_argument("--file-as", type=Path, help="write the checked file here too")
    options = parser.parse_args()
    bad = 0
    for path in options.files:
        try:
            arm = read_arm(path)
        except ParameterError as error:
            print(error, file=sys.stderr)
            bad += 1
            continue
        print(f"{path}: ok")
        for name, text in derived(arm):
            print(f"  {name:<38}{text}")
        if options.file_as:
            options.file_as.parent.mkdir(parents=True, exist_ok=True)
            options.file_as.write_bytes(path.read_bytes())
    print(CAUTION)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
