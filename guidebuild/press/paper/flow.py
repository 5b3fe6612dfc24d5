"""What stands in the flow of a laid-out page, and how far down it reaches."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidebuild.press.paper.typesetter import boxes


def walk(box: Any, *, flow: bool) -> Iterator[Any]:
    """All boxes within one; with `flow` without those that were taken out of the flow."""
    waiting = [*reversed(getattr(box, "children", ()))]
    while waiting:
        child = waiting.pop()
        inner = getattr(child, "_box", child)
        if flow and not inner.is_in_normal_flow():
            continue
        yield inner
        waiting.extend(reversed(getattr(inner, "children", ())))


def foot_of(box: Any) -> float:
    """Where a box ends with its margins, in CSS pixels from the top of the page."""
    return float(box.position_y + box.margin_height())


def used_of(page: Any, *, lines: bool = False) -> float:
    """CSS pixels from the top of a page's area to the foot of what stands in the flow; with `lines` of its lines and pictures alone.

    A block that goes on to the next page reaches down to the end of this one, whatever a break left empty.
    """
    top = float(page.content_box_y())
    boxes_in_flow = (box for box in _in_flow(page) if not lines or isinstance(box, boxes.LineBox | boxes.ReplacedBox))
    return max((foot_of(box) for box in boxes_in_flow), default=top) - top


def _in_flow(page: Any) -> Iterator[Any]:
    """Boxes in the flow, leaving out what stands in the page's margins, and the root's own boxes, which are as tall as the page."""
    areas = (child for child in page.children if not isinstance(child, boxes.MarginBox))
    return (box for area in areas for box in (area, *walk(area, flow=True)) if box.element_tag not in ("html", "body", "main"))
