"""The parts of the desk, in the order of its menu. The first is the page that is opened."""

from __future__ import annotations

from guidebuild.desk.part import Part
from guidebuild.desk.parts import account, calendar, guide, pictures, plate, scores, scripts, seasons, sightings, translation, week

PARTS: tuple[Part, ...] = (
    week.PART, calendar.PART, account.PART, pictures.PART, plate.PART, scores.PART, seasons.PART, sightings.PART, scripts.PART,
    translation.PART, guide.PART,
)  # fmt: skip
