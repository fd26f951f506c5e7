"""Arrays as compact text for the browser: whole numbers in base64, low byte first, with the range they are spread over."""

from __future__ import annotations

import base64
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray


def packed(values: ArrayLike, bits: int = 16) -> dict[str, Any]:
    """Finite numbers of any shape, spread evenly over `bits` (8 or 16); the largest error is half of range / (2^bits - 1)."""
    array = np.asarray(values, dtype=float).ravel()
    low, high = float(array.min()), float(array.max())
    step = (high - low) / (2**bits - 1) or 1.0
    whole = np.rint((array - low) / step).astype(f"<u{bits // 8}")
    return {"bits": bits, "low": low, "high": high, "data": text(whole)}


def counted(values: NDArray[np.integer]) -> dict[str, Any]:
    """Whole numbers from zero as they are, in 16 or 32 bits."""
    bits = 16 if values.size == 0 or values.max() < 2**16 else 32
    return {"bits": bits, "data": text(np.asarray(values).ravel().astype(f"<u{bits // 8}"))}


def text(array: NDArray[np.generic]) -> str:
    return base64.b64encode(array.tobytes()).decode("ascii")
