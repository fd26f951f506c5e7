"""Scripts, styles and pictures put into a page so that it needs no network and runs nothing else."""

from __future__ import annotations

import base64
import hashlib
from importlib.resources import files
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

PARTS = Path(__file__).parent / "parts"
SCRIPTS = ("text.js", "unpack.js", "choose.js", "weight.js", "arm.js", "linkage.js", "dates.js", "start.js")
KINDS = {".webp": "image/webp", ".svg": "image/svg+xml"}


def render(template: str, **content: Any) -> str:
    """A template of parts/ with the content, every text escaped."""
    room = Environment(
        loader=FileSystemLoader(PARTS),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return room.get_template(template).render(style=(PARTS / "page.css").read_text(), **content)


def library() -> str:
    """The chart library as one script; the copy that its Python package carries."""
    return (files("plotly") / "package_data" / "plotly.min.js").read_text(encoding="utf-8")


def program() -> str:
    """The page's own scripts as one, closed in itself."""
    return (
        "(() => {\n'use strict';\n" + "\n".join((PARTS / name).read_text() for name in SCRIPTS) + "\n})();\n"
    )


def policy(*scripts: str) -> str:
    """Content security policy: these scripts by their hashes, styles and data pictures of the page, nothing else."""
    hashes = (
        " ".join(
            f"'sha256-{base64.b64encode(hashlib.sha256(one.encode()).digest()).decode()}'" for one in scripts
        )
        or "'none'"
    )
    return (
        f"default-src 'none'; script-src {hashes}; style-src 'unsafe-inline'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )


def picture(path: Path) -> str:
    """A picture as a data address."""
    return f"data:{KINDS[path.suffix]};base64,{base64.b64encode(path.read_bytes()).decode('ascii')}"
