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
from analysis.package.extracts import owners_own
from analysis.package.finding import Finding, agreement
from analysis.package.package import MANIFEST, SHEETS, SOLID
from analysis.package.regenerate import ROUTE_FILE, blank_findings
from analysis.package.revision import PARAMETERS
from params.steps.library import ARM_FILE
from params.steps.problems import one_line

TIMEOUT = 600.0  # seconds for the CAD kernel


def verified(path: Path) -> list[Finding]:
    """Everything that was looked at, in order; the package holds where all of it is good."""
    try:
        entries, faults = archive.read(path)
    except archive.BadArchive as refusal:
        return [Finding(False, str(refusal))]
    findings = [Finding(False, fault) for fault in faults]
    listed, problems = listing(entries)
    findings += problems
    if listed is not None:
        findings += hashes(entries, listed)
        findings += lacking(listed)
    for name in sorted(name for name in entries if ROUTE_FILE.fullmatch(name)):
        findings += owners_own(name, entries[name])
    if PARAMETERS in entries and SOLID in entries:
        findings += regenerated(entries[PARAMETERS], entries[SOLID])
    return findings + blank_findings(entries)


def listing(entries: dict[str, bytes]) -> tuple[dict[str, str] | None, list[Finding]]:
    """Name and SHA-256 of every file in the manifest."""
    if MANIFEST not in entries:
        return None, [
            Finding(False, f"{MANIFEST}: is missing, so no file can be checked against its SHA-256")
        ]
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
            problem = (
                f"is missing; a file with its content is there as {moved}"
                if moved
                else "is missing or unreadable"
            )
            findings.append(Finding(False, f"{one_line(name)}: {problem}"))
        elif hashlib.sha256(data).hexdigest() != wanted:
            findings.append(
                Finding(False, f"{one_line(name)}: its SHA-256 differs from the one in the manifest")
            )
        else:
            findings.append(Finding(True, f"{name}: SHA-256 as listed in the manifest"))
    extra = sorted(set(entries) - set(listed) - {MANIFEST})
    return findings + [Finding(False, f"{name}: is not in the manifest") for name in extra]


def lacking(listed: dict[str, str]) -> list[Finding]:
    """What every package has: without it nothing may be said of the part, however well the rest agrees."""
    needed = (PARAMETERS, SOLID, *SHEETS)
    return [
        Finding(False, f"{name}: is missing; every package must have it")
        for name in needed
        if name not in listed
    ]


def regenerated(parameters: bytes, step: bytes) -> list[Finding]:
    """The solid made again from the parameter file, beside the one in the package."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / ARM_FILE).write_bytes(parameters)
        (folder / "arm.step").write_bytes(step)
        command = [sys.executable, "-m", "geometry.compare", str(folder / ARM_FILE), str(folder / "arm.step")]
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=TIMEOUT, check=False)
        except subprocess.TimeoutExpired:
            return [Finding(False, f"solid: not regenerated within {TIMEOUT:.0f} s")]
    if done.returncode:
        reason = one_line((done.stderr.strip().splitlines() or ["no reason given"])[-1])
        return [Finding(False, f"solid: cannot be compared: {reason}")]
    return compared(json.loads(done.stdout.strip().splitlines()[-1]))


def compared(figures: dict[str, Any]) -> list[Finding]:
    """Volume, area, faces, and each named group of faces."""
    expected, read = figures["parameters"], figures["step"]
    findings = [
        agreement("volume", expected["volume_mm3"], read["volume_mm3"], "mm3"),
        agreement("area", expected["area_mm2"], read["area_mm2"], "mm2"),
        agreement("number of faces", expected["faces"], read["faces"], ""),
    ]
    for name, group in expected["named"].items():
        other, labelled = read["named"][name], name in figures["labels"]
        same = group["faces"] == other["faces"]
        finding = agreement(name, group["area_mm2"], other["area_mm2"], "mm2")
        addition = "" if same else f", {other['faces']} faces for {group['faces']}"
        addition += "" if labelled else ", its name is not in the STEP file"
        findings.append(Finding(finding.good and same and labelled, finding.text + addition))
    return findings
