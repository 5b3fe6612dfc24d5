"""What is cut out of a picture so that its subject fills a frame: round the measured line, or else round the point of interest."""

from __future__ import annotations

from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.one_scale import Box, measure_subject

_LEAST = 30.0
"""The narrowest part that is shown, per cent of the picture's width: less would be coarse."""
_ROUND_POINT = 70.0
"""Per cent of the picture's width and height that are shown round a point of interest, where nothing says how large the subject is."""


def cut_to_subject(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """The part to show in a frame `ratio` times as wide as high, in hundredths of the picture's width; None for all of it.

    `shape` is the picture's height over its width. The part has the frame's shape and may be larger than the picture where the
    subject is: then tone stands beside.
    """
    measured = measure_subject(photo, shape)
    if measured:
        subject = measured.subject.scaled(100 / measured.whole.width)
    elif photo.focus:
        wide = min(max(_ROUND_POINT, _ROUND_POINT * shape * ratio), 100.0, 100.0 * shape * ratio)
        subject = Box(photo.focus[0] - wide / 2, photo.focus[1] * shape - wide / ratio / 2, wide, wide / ratio)
    else:
        return None
    width = max(subject.width, subject.height * ratio, _LEAST)
    height = width / ratio
    across, down = subject.middle
    return Box(_slide(across, width, 100.0), _slide(down, height, 100.0 * shape), width, height)


def _slide(middle: float, size: float, whole: float) -> float:
    """Where a part round `middle` begins, kept inside the picture where it is not larger than it."""
    return min(max(middle - size / 2, 0.0), whole - size) if size <= whole else (whole - size) / 2
