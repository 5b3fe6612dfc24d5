"""The handbook at the desk: its pages, their look, and the rule of a finding."""

from __future__ import annotations

import re
import time
from pathlib import Path

from tests.desk.opened import PATIENCE, open_desk


def test_the_handbook_stands_at_the_desk_and_findings_lead_to_their_rules(starter: Path) -> None:
    account = starter / "accounts/common-frog.md"
    account.write_text(account.read_text("utf-8").replace("family: Ranidae\n", ""), "utf-8")
    with open_desk(starter) as desk:
        week = ""
        end = time.monotonic() + PATIENCE
        while "#no-family" not in week and time.monotonic() < end:  # the checks follow the page
            week = desk.look("/-desk/week/").body.decode()
        assert 'href="/-desk/handbook/index.html"' in week
        rules = desk.look("/-desk/handbook/rules.html")
        assert rules.status == 200
        for code in re.findall(r"/-desk/handbook/rules\.html#([a-z-]+)", week):
            assert f'id="{code}"'.encode() in rules.body
        assert "#no-family" in week
        assert desk.look("/-desk/handbook/handbook.css").headers["content-type"].startswith("text/css")
        assert desk.look("/-desk/handbook/nothing.html").status == 404
        face = desk.look("/-desk/handbook/serif-400.woff2")
        assert (face.status, face.headers["location"]) == (307, "/assets/serif-400.woff2")


def test_the_handbook_is_for_the_author_alone(starter: Path) -> None:
    with open_desk(starter, entered=False) as desk:
        assert b"The desk is closed here" in desk.look("/-desk/handbook/index.html").body
