"""How like one picture is to another: the structural similarity of Wang, Bovik, Sheikh and Simoncelli (2004).

“Image quality assessment: from error visibility to structural similarity”, IEEE Transactions on Image Processing 13(4), 600-612:
equation 13 with its constants K1 = 0.01 and K2 = 0.03, local means, variances and covariance under a Gaussian window of 11 by 11
pixels with a deviation of 1.5, and the mean over all windows that lie wholly in the picture (equation 17).
"""

from __future__ import annotations

import numpy as np
from PIL import Image

Plane = np.ndarray[tuple[int, int], np.dtype[np.float32]]
_WINDOW, _DEVIATION = 11, 1.5
_C1, _C2 = (0.01 * 255) ** 2, (0.03 * 255) ** 2


def measure_likeness(one: Image.Image, other: Image.Image) -> float:
    """1 for equal pictures, less for others; both as large as each other, compared by their lightness."""
    x, y = (np.asarray(picture.convert("L"), dtype=np.float32) for picture in (one, other))
    mean_x, mean_y = _weigh(x), _weigh(y)
    spread_x, spread_y = _weigh(x * x) - mean_x**2, _weigh(y * y) - mean_y**2
    together = _weigh(x * y) - mean_x * mean_y
    likeness = (2 * mean_x * mean_y + _C1) * (2 * together + _C2) / ((mean_x**2 + mean_y**2 + _C1) * (spread_x + spread_y + _C2))
    return float(likeness.mean())


def _weigh(plane: Plane) -> Plane:
    """The mean round each pixel, nearer ones counting more."""
    weights = np.exp(-((np.arange(_WINDOW) - _WINDOW // 2) ** 2) / (2 * _DEVIATION**2))
    weights = (weights / weights.sum()).astype(np.float32)
    for _ in range(2):  # down, then across
        rows = plane.shape[0] - _WINDOW + 1
        plane = sum((weight * plane[n : n + rows] for n, weight in enumerate(weights)), np.zeros_like(plane[:rows])).T
    return plane
