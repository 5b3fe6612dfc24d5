"""What becomes of files that were offered: said first, then done."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guidebuild.bringing.planning import Planned
from guidebuild.desk.desk import Desk


def say_plan(desk: Desk, _: Mapping[str, Any]) -> Mapping[str, Any]:
    """What bringing all that lies here comes to; nothing is written."""
    return _say(desk, desk.offers.plan())


def bring_offers(desk: Desk, _: Mapping[str, Any]) -> Mapping[str, Any]:
    """Bring all that lies here."""
    return _say(desk, desk.offers.bring())


def clear_offers(desk: Desk, _: Mapping[str, Any]) -> Mapping[str, Any]:
    """Let go of all that lies here."""
    desk.offers.clear()
    return {}


def _say(desk: Desk, planned: Planned) -> Mapping[str, Any]:
    plan, aside = planned.plan, f"{desk.offers.aside}/"
    return {
        "files": [{"file": file.file, "told": file.told, "source": file.source.name if file.source else ""} for file in plan.files],
        "rows": [{"file": count.file, "rows": count.rows, "counted": count.counted} for count in planned.counts],
        "unused": [{"offered": one.offered.removeprefix(aside), "why": one.why.replace(aside, "")} for one in plan.unused],
        "advice": list(plan.advice),
        "changed": [*plan.added, *plan.changed],
    }
