"""What of the owner's own files a vendor gets: no prices, no penalties, no days of the owner's plan."""

from __future__ import annotations

import json
import re
from pathlib import Path

from analysis.package.finding import Finding
from analysis.tables.files import read_json
from params.files.readroute import extract
from params.schema.route import Process

PLAN_KEYS = ("caution", "cuts", "pieces")  # the days that the owner reckons with stay behind
KEY = re.compile(rb"^([A-Za-z_][A-Za-z0-9_]*)\s*:", re.MULTILINE)


def route_text(path: Path) -> bytes:
    """The route file as a vendor gets it: the keys of `Process`, each with its meaning."""
    return extract(path).encode()


def plan_text(path: Path) -> bytes:
    """Where the near-net solid is cut, and the pieces."""
    plan = read_json(path)
    kept = {key: plan[key] for key in PLAN_KEYS if key in plan}
    return (json.dumps(kept, indent=1, sort_keys=True) + "\n").encode()


def owners_own(name: str, data: bytes) -> list[Finding]:
    """A route file with keys that are not for a vendor, such as prices, in one finding; none where it has none."""
    keys = [match[1].decode() for match in KEY.finditer(data)]
    strange = [key for key in dict.fromkeys(keys) if key not in Process.model_fields]
    if not strange:
        return []
    return [Finding(False, f"{name}: holds what stays with the owner: {', '.join(strange)}")]
