"""The arm's file as its next revision: the chosen part, date and row of the revision table; put in place only where it checks."""

from __future__ import annotations

import datetime
import os
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from analysis.adopt.choice import Choice, Refused, parsed_arm
from analysis.adopt.letters import following
from analysis.adopt.part import GONE, Change, agrees, changes, put_in
from analysis.contracts.summary import Summary
from analysis.hand.evaluate import evaluate
from analysis.tables.number import percent
from params.check import report
from params.files.edited import flow
from params.files.issued import issue, issued_as, place
from params.files.messages import fields_at
from params.files.read import read_arm, read_material
from params.files.spliced import with_item, with_remark, with_value
from params.files.yamlfile import YamlFile, read_yaml
from params.schema.arm import Arm
from params.schema.units import outside, shown_unit
from params.steps.problems import ParameterError, one_line

REMARK = "The arm in service has its former sizes and surfaces, not those of this file: what a run says of its cracks"
DIGITS = 2e-5  # relative: tables of designs have six digits, and so have the sizes in them


@dataclass(frozen=True)
class Asked:
    """What whoever decides it says of the revision."""

    revision: str
    date: datetime.date
    reason: str
    by: str | None


def next_revision(arm: Arm, source: Path, asked: str | None) -> str:
    """The revision that comes next, or the one asked for; never one that was issued or is in the revision table.

    Raises
    ------
    Refused
        where there is none.
    """
    revision = asked or following(arm.revision)
    if revision is None:
        raise Refused(f"{source}: revision {arm.revision} has no next one; name it, --revision NEXT")
    if revision == arm.revision or revision in {row.revision for row in arm.revisions}:
        raise Refused(f"{source}: revision {revision} is in the file already; name another, --revision NEXT")
    if taken := issued_as(arm.drawing.number or arm.name, revision, source.parent):
        raise Refused(f"{taken[0]}: was issued as revision {revision}; name another, --revision NEXT")
    return revision


def row_of(asked: Asked, choice: Choice, design: Arm, arm: Arm, written: Summary) -> dict[str, Any]:
    """The row of the revision table, with the figures of the part that is replaced."""
    unit = shown_unit("mass", arm.units)
    figures = {
        "mass": f"{outside(written.mass_kg, unit, 'mass'):.6g} {unit}",
        "hand_margin": float(f"{written.hand_margin:.6g}"),
        "mesh_margin": float(f"{written.mesh_margin:.6g}"),
        "governing": written.least_governing,
    }
    row: dict[str, Any] = {"revision": asked.revision, "date": str(asked.date), "reason": asked.reason}
    row |= {"by": asked.by} if asked.by else {}
    row |= {"design": choice.mark} | ({"route": design.route} if design.route else {})
    row |= {} if choice.summary else {"confirmed": False}
    return row | {"before": figures}


def text_of(
    file: YamlFile, text: str, found: list[Change], asked: Asked, row: dict[str, Any], arm: Arm
) -> tuple[str, list[str]]:
    """The new text of the arm's file, and what is to be known of the old arm."""
    text = put_in(text, found)
    text, notes = with_old_arm(text, file, found, arm)
    text = with_value(text, ("revision",), asked.revision)
    order = fields_at(Arm, ())
    if file.data.get("drawing"):
        text = with_value(text, ("drawing", "issued"), str(asked.date), fields_at(Arm, ("drawing",)))
    else:
        text = with_value(text, ("drawing",), {"issued": str(asked.date)}, order)
    return with_item(text, ("revisions",), row, order, lines=True), notes


def with_old_arm(text: str, file: YamlFile, found: list[Change], arm: Arm) -> tuple[str, list[str]]:
    """Keeps what the file said of the arm in service: its steel, where that was the file's own; a remark that its sizes were."""
    cracks, notes = file.data.get("cracks") or {}, []
    old = cracks.get("old_arm")
    steel = any(change.key[0] == "material" or change.key[:2] == ("cracks", "toughness") for change in found)
    if old is None and arm.found_cracks and steel:
        kept = {name: cracks[name] for name in ("toughness", "residual_stress") if name in cracks}
        old = {"material": arm.material} | kept
        text = with_value(text, ("cracks", "old_arm"), old, fields_at(Arm, ("cracks",)))
        notes.append(
            f"cracks.old_arm: steel {arm.material} with its toughness, as the file had it of the arm in service"
        )
    sized = any(change.key[0] == "geometry" for change in found)
    if sized and (old or arm.found_cracks) and "geometry" not in (old or {}) and REMARK not in text:
        kept_as = f"{place(file.path, arm.revision).relative_to(file.path.parent)}"
        lines = (
            REMARK,
            f"and its life holds for the file {kept_as} only.",
        )
        text = with_remark(text, ("cracks", "old_arm") if old else ("found_cracks",), lines)
        notes.append(one_line(" ".join(lines)))
    return text, notes


def proved(path: Path, choice: Choice, design: Arm) -> tuple[float, float]:
    """Mass and least margin by hand of the new file, which are those of the design.

    Raises
    ------
    Refused
        where the file is not the part that was chosen.
    """
    arm = read_arm(path)
    hand = evaluate(arm, read_material(arm.material, arm.library))
    mass, margin = float(hand.mass[0]), float(hand.margin[0])
    near = abs(mass - choice.mass) <= DIGITS * choice.mass
    near &= abs(margin - choice.hand_margin) <= DIGITS * (1.0 + abs(choice.hand_margin))
    if not (near and agrees(arm, design)):
        now, then = (
            f"{size:.6g} kg and {share:+.6g}"
            for size, share in ((mass, margin), (choice.mass, choice.hand_margin))
        )
        raise Refused(
            f"{choice.name}: comes to {now} by hand in the arm's file, {then} in its table; run again, or report it"
        )
    return mass, margin


def put_in_place(
    source: Path, before: bytes, text: str, choice: Choice, design: Arm, revision: str
) -> tuple[float, float]:
    """The new file in place of the old one, which is kept as issued; nothing changes where the new one does not check.

    Raises
    ------
    Refused
        where it does not, or the file was changed meanwhile.
    """
    with tempfile.TemporaryDirectory(prefix=".adopt-", dir=source.parent) as folder:
        new = Path(folder) / source.name
        new.write_text(text, encoding="utf-8", newline="")
        try:
            report(new)
            figures = proved(new, choice, design)
            if source.read_bytes() != before:
                raise Refused(f"{source}: was changed meanwhile; nothing was changed, run it again")
            issue(source, revision)
        except ParameterError as error:
            first, more = str(error.problems[0]).replace(str(new), str(source)), len(error.problems) - 1
            rest = f" (and {more} more)" if more else ""
            raise Refused(
                f"nothing was changed, with {choice.called} the file would not check: {first}{rest}"
            ) from None
        shutil.copymode(source, new)
        os.replace(new, source)
    return figures


def adopt(source: Path, folder: Path, choice: Choice, written: Summary, asked: Asked) -> list[str]:
    """Write the next revision; lines for people of what was done.

    Raises
    ------
    Refused
        where nothing was changed.
    """
    before, file, arm = source.read_bytes(), read_yaml(source), read_arm(source)
    with tempfile.TemporaryDirectory(prefix=".adopt-", dir=folder) as place_:
        path, design = parsed_arm(choice, Path(place_))
        found = changes(file.data, read_yaml(path).data, arm, design)
    if not found:
        raise Refused(f"{choice.name}: is what revision {arm.revision} has already; nothing was changed")
    row = row_of(asked, choice, design, arm, written)
    text, notes = text_of(file, before.decode("utf-8-sig"), found, asked, row, arm)
    mass, margin = put_in_place(source, before, text, choice, design, arm.revision)
    mesh = (
        f"{percent(choice.summary.mesh_margin, 1, minus='-')} by mesh" if choice.summary else "not meshed yet"
    )
    by_hand = f"{percent(margin, 1, minus='-')} by hand ({choice.governing})"
    return [
        f"{source}: revision {asked.revision} of {asked.date} is {choice.called}: {mass:.6g} kg, least margin {by_hand}, {mesh}",
        *(f"  {said(change)}" for change in found),
        *(f"note: {note}" for note in notes),
        f"revision {arm.revision} is kept as {place(source, arm.revision)}",
    ]


def said(change: Change) -> str:
    """One change in words."""
    before, now = (shown(value) for value in (change.before, change.now))
    return f"{'.'.join(map(str, change.key))}: {before} -> {now}"


def shown(value: Any) -> str:
    return "not given" if value is GONE else flow(value)
