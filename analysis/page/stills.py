"""Pictures made small for the page; no clock time in them."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from analysis.pictures.view import bare as without_words

WIDE = 1170  # points across
QUALITY = 82  # of 100: lines and letters stay clean


def small(source: Path, target: Path, wide: int = WIDE, bare: bool = False) -> None:
    """A copy at most `wide` points across, as WebP; bare: without the lines of text above and below."""
    picture = Image.open(source).convert("RGB")
    if bare:
        picture = without_words(picture)
    share = min(1.0, wide / picture.width)
    size = round(picture.width * share), round(picture.height * share)
    target.parent.mkdir(parents=True, exist_ok=True)
    picture.resize(size, Image.Resampling.LANCZOS).save(target, quality=QUALITY, method=6)
