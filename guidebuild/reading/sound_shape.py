"""The shape of a sound in sounds.yaml."""

from __future__ import annotations

from typing import Annotated

from guidebuild.guide.sound_fields import SOUND_FIELDS
from guidebuild.guide.sounds import KINDS
from guidebuild.reading.kinds import Address, Day, LicenceWord, Sex, Shape, Text, Words, YesNo
from guidebuild.reading.markers import OneOf

SoundWord = Annotated[str, OneOf(*KINDS)]


class SoundShape(Shape):
    """A sound."""

    declared = SOUND_FIELDS

    title: Text
    file: Text = ""
    address: Address = ""
    kind: SoundWord = ""
    accounts: Words = ()
    stage: Text = ""
    sex: Sex = ""
    recordist: Text = ""
    licence: LicenceWord = ""
    day: Day | None = None
    place: Text = ""
    note: Text = ""
    card: YesNo = False
