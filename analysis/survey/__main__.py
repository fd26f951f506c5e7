"""`python -m analysis.survey params/surveys/NAME OUT_DIR` reads a scan and writes what was found, the arm's file among it.

`python -m analysis.survey adopt OUT_DIR` copies the arm's file to params/arms, never over another.
"""

from __future__ import annotations

import sys
from pathlib import Path

from analysis.survey import armfile, as_made, reduced, writing
from analysis.survey.file import nominal_of, read_survey
from analysis.survey.found import found
from params.files.read import HERE
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors


def main(source: Path, folder: Path) -> int:
    survey = read_survey(source / "survey.yaml")
    arm = nominal_of(survey)
    made = found(source, survey, None if arm is None else as_made.nominal(arm))
    writing.write(made, folder)
    (folder / "arm.yaml").write_text(armfile.text(made), encoding="utf-8", newline="\n")
    as_made.write(made, arm, folder)
    reduced.write(made, folder)
    for line in told(made):
        print(f"survey: {line}")
    print(CAUTION)
    return 0


def told(made) -> list[str]:
    summary = writing.summary(made)
    lines = [
        f"{summary['points_read']} points in {summary['setups']} setups, {summary['points_fitted']} fitted,"
        f" noise {summary['noise_mm']:.3g} mm, section {summary['kind']}"
    ]
    if not summary["settled"]:
        lines.append("the fit has not settled: its figures are not to be used")
    if summary["to_be_given"]:
        lines.append(f"not determined, to be given: {', '.join(summary['to_be_given'])}")
    lines.append(f"{summary['areas']} areas differ from the fitted shape")
    return lines


def adopt(folder: Path) -> int:
    """Copy the arm's file; where one of this name is there, nothing is written."""
    text = (folder / "arm.yaml").read_text(encoding="utf-8")
    name = next(line.split(":", 1)[1].strip() for line in text.splitlines() if line.startswith("name:"))
    path = HERE / "arms" / f"{name}.yaml"
    try:
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError:
        print(f"{path}: is there already, nothing was written, rename it or the survey", file=sys.stderr)
        return 1
    print(f"{path}: written; next: python -m params.check {path}")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        source, folder = arguments(__doc__, source=Path, folder=Path)
        sys.exit(adopt(folder) if str(source) == "adopt" else main(source, folder))
