"""What is claimed of the stages that are out, in words: the mark of each beside its own name, and beside no other."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from guidebuild.fieldwork.claims import find_deciding_marks, is_mark_of
from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.views.pieces.common import NO_WORDS, Wording, join_wordings
from guidebuild.views.pieces.parts import PieceMaker


@dataclass(frozen=True, slots=True)
class StageClaim:
    """Stages in words, and the mark that decides for all of them; empty where they have none."""

    stages: str
    ids: tuple[str, ...] = ()
    mark: Wording = NO_WORDS
    numbers: tuple[int, ...] = ()  # of the marks, from 0 and in the author's order
    whole: bool = False  # whether it is true of every stage that was asked for


def find_claims(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> tuple[StageClaim, ...]:
    """What is said of each of these stages, in their order; those that follow one another and show the same marks stand together."""
    runs = [(numbers, list(run)) for numbers, run in groupby(stages or ("",), partial(find_deciding_marks, account))]
    return tuple(_claim(make, account, numbers, list(filter(None, named)), whole=len(runs) == 1) for numbers, named in runs)


def find_first_claim(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> StageClaim | None:
    """What the author says first of any of these stages; None where they have no mark."""
    claims = [claim for claim in find_claims(make, account, stages) if claim.numbers]
    first = min(claims, key=lambda claim: claim.numbers, default=None)
    if first is None:
        return None
    # Stages that share the first mark may differ in the second.
    marks = [account.diagnostics[number] for number in first.numbers]
    sharing = [stage for stage in stages if all(is_mark_of(mark, (stage,)) for mark in marks)]
    return _claim(make, account, first.numbers, sharing, whole=len(sharing) == len(stages))


def tell_stages(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> tuple[StageClaim, ...]:
    """The claims of these stages; where none has a mark, what the account says of their life, a sentence each."""
    claims = find_claims(make, account, stages)
    if any(claim.mark for claim in claims):
        return claims
    lives = describe_stages(make, account, stages)
    silent = [stage for stage in stages if stage not in lives]
    told = [StageClaim(make.stage_word(account, stage), (stage,), words.without_stop()) for stage, words in lives.items()]
    return (*told, *(find_claims(make, account, silent) if silent else ()))


def describe_stages(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> Mapping[str, Wording]:
    """The first sentence on the life of each stage that the account describes; those one looks for first."""
    translated = make.translation(account)
    theirs: dict[str, Inline] = {s.stage: s.text for s in translated.stages} if translated else {}
    texts = {s.stage: s.text for s in account.stages} | theirs
    sought = sought_stages(make.guide, account)
    found: dict[str, Wording] = {}
    for stage in sorted(stages, key=lambda stage: stage not in sought):
        sentences = texts.get(stage, NO_TEXT).sentences
        if sentences:
            found[stage] = make.word(sentences[0], "" if stage in theirs else None)
    return found


def _claim(make: PieceMaker, account: PublicAccount, numbers: tuple[int, ...], stages: Collection[str], *, whole: bool) -> StageClaim:
    shown = make.marks_in_one(account, numbers)
    return StageClaim(
        stages=make.words.listed([make.stage_word(account, stage) for stage in stages]),
        ids=tuple(stages),
        mark=join_wordings("; ", [mark.of_sex for mark in shown], shown[0].language if shown else ""),
        numbers=numbers,
        whole=whole,
    )
