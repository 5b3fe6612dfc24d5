"""What a page says of the picture of a sound."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guidebuild.press.media.drawn_sound import HEIGHT, WIDTH, DrawnSound, list_steps
from guidebuild.views.site.sounds import SoundView
from guidebuild.words import Words

DrawnSounds = Mapping[str, DrawnSound]
"""The sounds that play on the site, by their ids, with what is known of their pictures."""
NO_SOUNDS: DrawnSounds = {}
HEARD = 20_000.0
"""Hertz above which people hear nothing: ISO 226 ends at 12.5 kHz, and textbooks give 20 kHz for the young (common practice, no source)."""
HUM = 300.0
"""Hertz below which the loudspeaker of a phone gives next to nothing (common practice, no source)."""
AS_IT_IS = (1.0, "1×")
SLOWER = (AS_IT_IS, (0.5, "½×"))
"""No slower than half as fast: browsers are silent where it is much slower, some below a quarter (HTMLMediaElement.playbackRate,
developer.mozilla.org), older ones sooner (common practice, no source)."""
QUICKER = (AS_IT_IS, (2.0, "2×"), (4.0, "4×"))


@dataclass(frozen=True, slots=True)
class SoundDrawing:
    """How a sound is shown on a page: its picture with the figures along both axes, and words for it.

    `end` is where the axis of time ends, in seconds; `too_high` says that no one hears it.
    """

    length: str
    picture: str = ""
    alt: str = ""
    times: tuple[str, ...] = ()
    pitches: tuple[str, ...] = ()
    unit: str = ""
    time_unit: str = ""
    end: float = 0.0
    rates: tuple[tuple[float, str], ...] = SLOWER
    slower: bool = True
    too_high: bool = False
    width: int = WIDTH
    height: int = HEIGHT


def picture_path(ident: str) -> str:
    """Where the picture of a sound stands."""
    return f"sounds/{ident}.webp"


def describe_sound(sound: SoundView, drawn: DrawnSounds, w: Words) -> SoundDrawing | None:
    """What a page shows of a sound; None where it does not play here."""
    found = drawn.get(sound.id)
    if found is None or not sound.file:
        return None
    length = w("{n} s", n=w.number(found.seconds, 1 if found.seconds < 100 else 0)) if found.seconds else ""
    if not found.kind:
        return SoundDrawing(length)
    too_high, is_hum = found.low > HEARD, 0 < found.high < HUM
    scale, unit = (1000.0, "Hz") if found.top < 1 else (1.0, "kHz")
    return SoundDrawing(
        length=length,
        picture=picture_path(sound.id),
        alt=_say_what_is_seen(found, w, length),
        times=tuple(w.number(step, 3) for step in list_steps(found.end)),
        pitches=tuple(w.number(step * scale, 3) for step in reversed(list_steps(found.top))) if found.top else (),
        unit=unit,
        time_unit="s",
        end=found.end,
        rates=(AS_IT_IS,) if too_high else QUICKER if is_hum else SLOWER,
        slower=not is_hum,
        too_high=too_high,
    )


def _say_what_is_seen(found: DrawnSound, w: Words, length: str) -> str:
    """Measured figures alone; what it sounds like is for its author to say."""
    if found.kind == "waveform":
        return w("Waveform, {length}.", length=length)
    low, high = _pitch(found.low, w), _pitch(found.high, w)
    if low == high:
        return w("Sonogram, {length}. Most of the sound lies near {pitch}.", length=length, pitch=low)
    return w("Sonogram, {length}. Most of the sound lies between {low} and {high}.", length=length, low=low, high=high)


def _pitch(hertz: float, w: Words) -> str:
    """A pitch with two figures."""
    rounded = float(f"{hertz:.2g}")
    return f"{w.number(rounded / 1000, 2)}\u00a0kHz" if rounded >= 1000 else f"{w.number(rounded, 0)}\u00a0Hz"
