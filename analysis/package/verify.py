"""A package taken apart again: every entry against its hash, all solids and plates against the files inside they are made from.

Nothing in the package is trusted: names are judged before anything is read, only parameter and route files, cuts and STEP are
written out, under names of our own in a folder that is deleted, and the CAD room compares them in a process of its own.
"""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from analysis.package import archive
from analysis.package.finding import Finding, agreement
from analysis.package.made_again import remade
from analysis.package.package import MANIFEST, SHEETS, SOLID
from analysis.package.revision import PARAMETERS
from params.steps.library import FILED
from params.steps.problems import one_line

TIMEOUT = 600.0  # seconds for the CAD kernel


def verified(path: Path) -> list[Finding]:
    """Everything that was looked at, in order; the package holds where all of it is good."""
    try:
        entries, faults = archive.read(path)
    except archive.BadArchive as refusal:
        return [Finding(False, str(refusal))]
    findings = [Finding(False, fault) for fault in faults]
    listed, told = listing(entries)
    findings += told
    if listed is not None:
        findings += hashes(entries, listed)
        findings += lacking(listed)
    if PARAMETERS in entries and SOLID in entries:
        findings += regenerated(entries[PARAMETERS], entries[SOLID])
    return findings + remade(entries)


def listing(entries: dict[str, bytes]) -> tuple[dict[str, str] | None, list[Finding]]:
    """Name and SHA-256 of every file in the manifest."""
    if MANIFEST not in entries:
        return None, [Finding(False, f"{MANIFEST}: is missing, nothing can be checked by hash")]
    try:
        files = json.loads(entries[MANIFEST])["files"]
        return {str(name): str(file["sha256"]) for name, file in files.items()}, []
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        return None, [Finding(False, f"{MANIFEST}: cannot be read ({one_line(str(error))})")]


def hashes(entries: dict[str, bytes], listed: dict[str, str]) -> list[Finding]:
    """Every listed file there and unchanged, and no file that is not listed."""
    findings = []
    known = {hashlib.sha256(data).hexdigest(): name for name, data in entries.items()}
    for name, wanted in listed.items():
        data = entries.get(name)
        if data is None:
            moved = known.get(wanted)
            told = f"is missing; its content is there as {moved}" if moved else "is missing or unreadable"
            findings.append(Finding(False, f"{one_line(name)}: {told}"))
        elif hashlib.sha256(data).hexdigest() != wanted:
            findings.append(Finding(False, f"{one_line(name)}: differs from its SHA-256"))
        else:
            findings.append(Finding(True, f"{name}: as listed"))
    extra = sorted(set(entries) - set(listed) - {MANIFEST})
    return findings + [Finding(False, f"{name}: is not in the manifest") for name in extra]


def lacking(listed: dict[str, str]) -> list[Finding]:
    """What every package has: without it nothing may be said of the part, however well the rest agrees."""
    needed = (PARAMETERS, SOLID, *SHEETS)
    return [
        Finding(False, f"{name}: is not in the package, which must have it")
        for name in needed
        if name not in listed
    ]


def regenerated(parameters: bytes, step: bytes) -> list[Finding]:
    """The solid made again from the parameter file, beside the one in the package."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / FILED).write_bytes(parameters)
        (folder / "arm.step").write_bytes(step)
        command = [sys.executable, "-m", "geometry.compare", str(folder / FILED), str(folder / "arm.step")]
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=TIMEOUT, check=False)
        except subprocess.TimeoutExpired:
            return [Finding(False, f"solid: not regenerated within {TIMEOUT:.0f} s")]
    if done.returncode:
        told = one_line((done.stderr.strip().splitlines() or ["no reason given"])[-1])
        return [Finding(False, f"solid: cannot be compared: {told}")]
    return compared(json.loads(done.stdout.strip().splitlines()[-1]))


def compared(figures: dict[str, Any]) -> list[Finding]:
    """Volume, area, faces, and each named group of faces."""
    made, read = figures["parameters"], figures["step"]
    findings = [
        agreement("volume", made["volume_mm3"], read["volume_mm3"], "mm3"),
        agreement("area", made["area_mm2"], read["area_mm2"], "mm2"),
        agreement("number of faces", made["faces"], read["faces"], ""),
    ]
    for name, group in made["named"].items():
        other, labelled = read["named"][name], name in figures["labels"]
        same = group["faces"] == other["faces"]
        finding = agreement(name, group["area_mm2"], other["area_mm2"], "mm2")
        told = "" if same else f", {other['faces']} faces for {group['faces']}"
        told += "" if labelled else ", its name is not in the STEP"
        findings.append(Finding(finding.good and same and labelled, finding.text + told))
    return findings
