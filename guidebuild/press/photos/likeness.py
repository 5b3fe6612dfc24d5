"""How like a compressed picture is to what it was made of: a quick reckoning of the structural similarity.

Wang, Bovik, Sheikh and Simoncelli, “Image quality assessment: from error visibility to structural similarity” (2004), equation 13, over
squares that stand side by side in bands of the picture, in place of a window that is moved over every pixel.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Plane = NDArray[np.float32]
_SQUARE, _BANDS = 8, 24
"""Pixels of a square, and the most bands of squares that are looked at."""
_C1, _C2 = (0.01 * 255) ** 2, (0.03 * 255) ** 2


def reckon_likeness(one: Image.Image, other: Image.Image) -> float:
    """1 for equal pictures, less for others, both as large as each other; what is smaller than a square tells nothing and counts as 1."""
    if min(one.size) < _SQUARE:
        return 1.0
    x, y = _squares(one), _squares(other)
    mean_x, mean_y = x.mean(axis=(1, 3)), y.mean(axis=(1, 3))
    spread_x, spread_y = (x * x).mean(axis=(1, 3)) - mean_x**2, (y * y).mean(axis=(1, 3)) - mean_y**2
    together = (x * y).mean(axis=(1, 3)) - mean_x * mean_y
    likeness = (2 * mean_x * mean_y + _C1) * (2 * together + _C2) / ((mean_x**2 + mean_y**2 + _C1) * (spread_x + spread_y + _C2))
    return float(likeness.mean())


def _squares(picture: Image.Image) -> Plane:
    """Bands of squares in lightness: by band, row, square and column."""
    light = np.asarray(picture.convert("L"))
    rows, columns = light.shape[0] // _SQUARE, light.shape[1] // _SQUARE
    bands = light[: rows * _SQUARE, : columns * _SQUARE].reshape(rows, _SQUARE, columns, _SQUARE)
    return bands[:: max(1, rows // _BANDS)].astype(np.float32)
