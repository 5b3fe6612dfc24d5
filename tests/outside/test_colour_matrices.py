"""The matrices of colour spaces, computed here from chromaticities, against those that the standards print.

Sources: IEC 61966-2-1:1999 (sRGB: primaries, and the matrix with four decimals; from memory); SMPTE EG 432-1 for the primaries of
Display P3; the sample code of CSS Color 4 (conversions.js of the W3C's drafts) for Display P3 and Adobe RGB as exact fractions
and for the Bradford change from D65 to D50.
"""

from __future__ import annotations

import numpy as np
import pytest

from guidebuild.press.photos import colour
from guidebuild.press.photos.colour import ADOBE_RGB, D50_XYZ, D65, DISPLAY_P3

SRGB = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
TO_XYZ = {
    "sRGB": (SRGB, [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]], 6e-5),
    "Display P3": (
        DISPLAY_P3,
        [
            [608311 / 1250200, 189793 / 714400, 198249 / 1000160],
            [35783 / 156275, 247089 / 357200, 198249 / 2500400],
            [0, 32229 / 714400, 5220557 / 5000800],
        ],
        1e-9,
    ),
    "Adobe RGB": (
        ADOBE_RGB,
        [
            [573536 / 994567, 263643 / 1420810, 187206 / 994567],
            [591459 / 1989134, 6239551 / 9945670, 374412 / 4972835],
            [53769 / 1989134, 351524 / 4972835, 4929758 / 4972835],
        ],
        1e-9,
    ),
}
BRADFORD_TO_D50 = [
    [1.0479297925449969, 0.022946870601609652, -0.05019226628920524],
    [0.02962780877005599, 0.9904344267538799, -0.017073799063418826],
    [-0.009243040646204504, 0.015055191490298152, 0.7518742814281371],
]


def computed(primaries: tuple[tuple[float, float], ...]) -> np.ndarray:
    """RGB to XYZ under the light of the white point: each primary's column is as bright as makes the three add up to white."""
    columns = np.array([[x / y, 1, (1 - x - y) / y] for x, y in primaries]).T
    x, y = D65
    return columns * np.linalg.solve(columns, [x / y, 1, (1 - x - y) / y])


@pytest.mark.parametrize("name", TO_XYZ)
def test_primaries_and_white_point_give_the_published_matrix(name: str) -> None:
    primaries, published, most = TO_XYZ[name]
    assert np.abs(computed(primaries) - published).max() < most


@pytest.mark.parametrize("name", TO_XYZ)
def test_ours_is_the_published_matrix_seen_under_d50(name: str) -> None:
    primaries, published, most = TO_XYZ[name]
    ours = np.array(colour._to_d50(primaries))
    # The D50 of CSS is that of its chromaticities, with a Z of 0.8251; the white of ICC profiles has 0.8249.
    assert np.abs(ours - np.array(BRADFORD_TO_D50) @ published).max() < most + 2.1e-4
    # ICC.1:2010, 7.2.16: the white of the profile connection space.
    assert ours.sum(axis=1) == pytest.approx(D50_XYZ, abs=1e-9)
