"""A speaker's pace from a timed take: rate and pauses by least squares with bounds, and how well they do on parts held out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import fmean, median

from guidebuild.guide.findings import At, Finding
from guidebuild.speech.codes import PACE_AT_BOUND, TAKE_TIMED_FOR_READING, TAKE_TOO_SHORT, TAKE_WITHOUT_PUNCTUATION
from guidebuild.speech.cues import Cue
from guidebuild.speech.language import DEFAULT
from guidebuild.speech.least_squares import Unknown, solve_least_squares
from guidebuild.speech.loads import get_word_loads, list_latin_words
from guidebuild.speech.rolling import unroll_cues
from guidebuild.speech.script import Script
from guidebuild.speech.stretches import Stretch, find_tight_cues, has_punctuation, measure_own_stretches, measure_script_stretches
from guidebuild.speech.timing import DEFAULT_PACE, Pace

# The noise of a cue's times, in seconds, and how far a speaker's pauses may be expected from the defaults: together they say how
# many cues it takes to move a pause (common practice, no source). Bounds are the slowest and fastest that can be followed.
_NOISE = 0.3
_UNKNOWNS = (
    Unknown("syllables", 1 / 9, 1 / 2, 1 / DEFAULT_PACE.syllables, (_NOISE / 0.1) ** 2),
    Unknown("comma", 0.0, 2.0, DEFAULT_PACE.comma, (_NOISE / 0.2) ** 2),
    Unknown("sentence", 0.0, 3.0, DEFAULT_PACE.sentence, (_NOISE / 0.4) ** 2),
    Unknown("paragraph", 0.0, 5.0, DEFAULT_PACE.paragraph, (_NOISE / 0.6) ** 2),
    Unknown("say", 0.0, 3.0, DEFAULT_PACE.say, (_NOISE / 0.3) ** 2),
)
_FOLDS = 5
_LEAST_CUES = 8
_LEAST_SPREAD = 0.03
_MOSTLY = 0.75


@dataclass(frozen=True, slots=True)
class PaceFit:
    """A fitted pace and how far to trust it.

    Of the take's cues `used` were, `left_out` did not agree with the script, were silent, or have no sure end. `held_out` is the mean
    error of the length predicted for a fifth of the take from the other four, as a share; `worst` the largest of these;
    `standing_error` that of the pace that stands in the guide on the same fifths; `default_error` that of the default pace on the
    whole take. `off` is the usual error on a single cue in seconds. `fitted` names what the take speaks of; the rest stayed at the
    default. `at_bounds` names what ran into the bounds.
    """

    pace: Pace
    used: int
    left_out: int
    words: int
    seconds: float
    held_out: float
    worst: float
    standing_error: float
    default_error: float
    off: float
    fitted: tuple[str, ...]
    at_bounds: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def is_better(self) -> bool:
        """Whether it foretells parts of the take that it was not fitted to better than the pace that stands."""
        return bool(self.fitted) and self.held_out < self.standing_error

    def describe(self) -> dict[str, object]:
        """Plain data, rounded for people: what `guidebuild pace` prints and, under `pace`, what guide.yaml takes."""
        return {
            "pace": {name: round(getattr(self.pace, name), 2) for name in ("syllables", "comma", "sentence", "paragraph")},
            "words a minute": round(self.words * 60 / self.seconds) if self.seconds else 0,
            "cues used": self.used,
            "cues left out": self.left_out,
            "words": self.words,
            "seconds": round(self.seconds, 1),
            "error on held-out parts": f"{self.held_out:.1%}",
            "error of the standing pace on them": f"{self.standing_error:.1%}",
            "largest error": f"{self.worst:.1%}",
            "error of the default pace": f"{self.default_error:.1%}",
            "error on one cue": f"{self.off:.2f} s",
            "fitted": list(self.fitted),
            "at bounds": list(self.at_bounds),
        }


def fit_take(  # noqa: PLR0913 - a take, and all that it may be read beside, each by its name
    cues: Sequence[Cue],
    script: Script | None = None,
    *,
    code: str = DEFAULT,
    names: Iterable[str] = (),
    file: str = "take",
    standing: Pace = DEFAULT_PACE,
) -> PaceFit:
    """Fits a pace to the cues of a recorded episode, with its script where there is one.

    With the script the pauses are those of its punctuation, paragraphs and marks; without, those of the cues' own text. A take
    too short to fit gives the default pace and an error among the findings. `standing` is the pace that the fit is held against.
    """
    loads = get_word_loads(code, list_latin_words(names))
    spoken = unroll_cues(sorted((cue for cue in cues if cue.text.strip()), key=lambda cue: cue.start))
    stretches = measure_own_stretches(spoken, loads) if script is None else measure_script_stretches(spoken, script, loads)
    used = sum(stretch.cues for stretch in stretches)
    if used < _LEAST_CUES:
        return _unfitted(stretches, len(spoken), file)
    fit = replace(_fitted(stretches, standing, file), left_out=len(spoken) - used)
    if sum(find_tight_cues(spoken)) > _MOSTLY * len(spoken):
        fit = _timed_for_readers(fit, file)
    return fit if script is not None or has_punctuation(spoken, loads) else _without_commas(fit, file)


def _timed_for_readers(fit: PaceFit, file: str) -> PaceFit:
    """The fit to captions that trail the words nearly everywhere: its pauses and its rate cannot be told apart well."""
    message = "Most cues are shown only as long as they take to read: they trail the words, and the rate may be off by a tenth."
    finding = TAKE_TIMED_FOR_READING.finding(message, At(file))
    return replace(fit, findings=(*fit.findings, finding))


def _without_commas(fit: PaceFit, file: str) -> PaceFit:
    """The fit to a take that has no punctuation: its commas are in the rate already, and may not count twice."""
    pace = replace(fit.pace, comma=0.0, paragraph=fit.pace.sentence)
    message = "The take has no punctuation: short pauses are counted into the rate, gaps between cues as ends of sentences."
    finding = TAKE_WITHOUT_PUNCTUATION.finding(message, At(file))
    return replace(fit, pace=pace, findings=(*fit.findings, finding))


def _unfitted(stretches: Sequence[Stretch], cues: int, file: str) -> PaceFit:
    used = sum(stretch.cues for stretch in stretches)
    message = f"Of the take's {cues} cues {used} can be used; a pace needs {_LEAST_CUES}."
    mend = "Give a longer take, or check that the script is that of the take." if used < cues else ""
    finding = TAKE_TOO_SHORT.finding(message, At(file), mend=mend)
    words, seconds = sum(s.load.words for s in stretches), sum(s.seconds for s in stretches)
    off = _ratio_error(DEFAULT_PACE, stretches)
    return PaceFit(DEFAULT_PACE, used, cues - used, words, seconds, off, off, off, off, 0.0, (), (), (finding,))


def _fitted(stretches: Sequence[Stretch], standing: Pace, file: str) -> PaceFit:
    values = _solve(stretches)
    errors = _held_out_errors(stretches)
    pace = replace(_pace(values), spread=max(_LEAST_SPREAD, *errors))
    spoken_of = tuple(unknown.name for i, unknown in enumerate(_UNKNOWNS) if sum(stretch.row[i] for stretch in stretches))
    bound = tuple(unknown.name for unknown, value in zip(_UNKNOWNS, values, strict=True) if value in (unknown.low, unknown.high))
    findings = []
    # A pause of nothing is a way of speaking; a rate at its bound is a take with wrong times.
    if "syllables" in bound:
        message = f"The rate came out at its bound, {pace.syllables:.1f} syllables a second: the take's times and words disagree."
        findings.append(PACE_AT_BOUND.finding(message, At(file)))
    return PaceFit(
        pace=pace,
        used=sum(stretch.cues for stretch in stretches),
        left_out=0,
        words=sum(stretch.load.words for stretch in stretches),
        seconds=sum(stretch.seconds for stretch in stretches),
        held_out=fmean(errors),
        worst=max(errors),
        standing_error=fmean(_ratio_error(standing, part) for _, part in _folds(stretches)),
        default_error=_ratio_error(DEFAULT_PACE, stretches),
        off=median(abs(pace.seconds(stretch.load) - stretch.seconds) for stretch in stretches),
        fitted=spoken_of,
        at_bounds=bound,
        findings=tuple(findings),
    )


def _pace(values: Sequence[float]) -> Pace:
    a_beat, comma, sentence, paragraph, say = values
    return Pace(1 / a_beat, comma, sentence, paragraph, say)


def _solve(stretches: Sequence[Stretch]) -> list[float]:
    """Least squares in which a slip of the tongue counts for less: stretches far off are weighed down, three times over."""
    rows = [stretch.row for stretch in stretches]
    seconds = [stretch.seconds - stretch.load.silence for stretch in stretches]
    # What is off in one cue adds to what is off in the next: a stretch of many tells less than as many stretches.
    shares = [1 / stretch.cues for stretch in stretches]
    values = solve_least_squares(rows, seconds, _UNKNOWNS, shares)
    for _ in range(3):
        off = [
            abs(sum(a * b for a, b in zip(row, values, strict=True)) - time) * share**0.5
            for row, time, share in zip(rows, seconds, shares, strict=True)
        ]
        # Huber's weights: full up to about twice the usual error (1.345 of a standard deviation), then falling.
        usual = max(1.345 * 1.4826 * median(off), 0.05)
        weights = [share * (min(1.0, usual / error) if error else 1.0) for error, share in zip(off, shares, strict=True)]
        values = solve_least_squares(rows, seconds, _UNKNOWNS, weights)
    return values


def _held_out_errors(stretches: Sequence[Stretch]) -> list[float]:
    """The error of the length of each fifth, predicted from the rest by what of a pace can be kept in guide.yaml."""
    return [_ratio_error(replace(_pace(_solve(rest)), say=DEFAULT_PACE.say), part) for rest, part in _folds(stretches)]


def _folds(stretches: Sequence[Stretch]) -> Iterator[tuple[list[Stretch], Sequence[Stretch]]]:
    """Each fifth of a take, after the rest of it."""
    size = len(stretches)
    cuts = [round(size * i / _FOLDS) for i in range(_FOLDS + 1)]
    for start, end in pairwise(cuts):
        if end > start:
            yield [*stretches[:start], *stretches[end:]], stretches[start:end]


def _ratio_error(pace: Pace, stretches: Sequence[Stretch]) -> float:
    taken = sum(stretch.seconds for stretch in stretches)
    return abs(sum(pace.seconds(stretch.load) for stretch in stretches) / taken - 1) if taken else 0.0
