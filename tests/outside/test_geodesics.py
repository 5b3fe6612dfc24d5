"""Lengths of ways against published geodesics: the first lines of Karney's test set for WGS 84, as PROJ's geodtest.c prints them.

https://github.com/OSGeo/PROJ, src/tests/geodtest.c (MIT): latitude and longitude of both ends, and the length s12 in metres.
"""

from __future__ import annotations

import pytest

from guidebuild.guide.projection import measure_along

CASES = [
    (35.60777, -139.44815, -11.17491, -69.95921, 8935244.5604818305),
    (55.52454, 106.05087, 77.03196, 197.18234, 4105086.1713924406),
    (-21.97856, 142.59065, 41.84138, 98.56635, 8394328.894657671),
    (-66.99028, 112.2363, -12.70631, 285.90344, 11150344.2312080241),
    (-17.42761, 173.34268, -15.84784, 5.93557, 16076603.1631180673),
]


@pytest.mark.parametrize(("lat1", "lon1", "lat2", "lon2", "metres"), CASES)
def test_a_way_is_as_long_as_published(lat1: float, lon1: float, lat2: float, lon2: float, metres: float) -> None:
    assert measure_along(((lon1, lat1), (lon2, lat2))) == pytest.approx(metres, abs=0.001)


def test_a_way_of_several_stretches_is_the_sum_of_them() -> None:
    there = ((0.0, 50.0), (0.0, 51.0), (1.0, 51.0))
    assert measure_along(there) == pytest.approx(measure_along(there[:2]) + measure_along(there[1:]))
    assert measure_along(there[:1]) == 0
