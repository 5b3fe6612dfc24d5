"""Life stages, seasons, cautions and reviews agree with one another."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from guidebuild.checks.complete import denied_stages
from guidebuild.checks.references import nearest
from guidebuild.checks.rule import Rule
from guidebuild.counting import count_of
from guidebuild.guide.accounts import Account
from guidebuild.guide.dangers import find_hazards_in
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.records import Place, Plant
from guidebuild.words import words


def _stages_named(account: Account) -> Iterator[tuple[str, At]]:
    yield from ((s.stage, s.at) for s in account.seasons)
    yield from ((s.stage, s.at) for s in account.stages)
    yield from ((stage, m.at) for m in account.diagnostics for stage in m.stages)


def _unknown_stage(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        stages = guide.stage_set(account)
        for stage, at in _stages_named(account):
            if stage not in stages.ids:
                known = ", ".join(stages.ids) or "none: give `group:`"
                mend = nearest(stage, stages.ids) or f"Its group's stages are: {known}."
                yield UNKNOWN_STAGE.finding(f"“{stage}” is not a life stage of this group.", at, mend=mend, account=account.id)
    for group in guide.stage_sets.values():
        yield from _unknown_stage_of_group(group)
    for sound in guide.sounds.values():
        heard = [guide.stage_set(guide.accounts[account]).ids for account in sound.accounts if account in guide.accounts]
        if sound.stage and heard and not any(sound.stage in stages for stages in heard):
            mend = nearest(sound.stage, heard[0]) or f"Its group's stages are: {', '.join(heard[0])}."
            yield UNKNOWN_STAGE.finding(f"“{sound.stage}” is not a life stage of this group.", sound.where("stage"), mend=mend)


def _unknown_stage_of_group(group: StageSet) -> Iterator[Finding]:
    named = [("sought", stage) for stage in group.sought] + [("key", group.keyed)]
    for key, stage in named:
        if stage and stage not in group.ids:
            mend = nearest(stage, group.ids) or f"Its stages are: {', '.join(group.ids)}."
            message = f"“{stage}” under `{key}:` is not a stage of the group “{group.id}”."
            yield UNKNOWN_STAGE.finding(message, group.positions.get(key, group.at), mend=mend)


def _season_without_text(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        described = {s.stage for s in account.stages if s.text} | denied_stages(account)
        for season in account.seasons:
            if season.stage not in described and not season.place:
                message = f"The stage “{season.stage}” has a season but is not described under `life stages:`."
                yield SEASON_WITHOUT_TEXT.finding(message, season.at, account=account.id)


def _text_without_season(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        timed = {s.stage for s in account.seasons} | denied_stages(account)
        for stage in account.stages:
            if stage.stage not in timed and stage.stage in guide.stage_set(account).ids:
                message = f"The stage “{stage.stage}” is described but has no season under `seasons:`."
                yield TEXT_WITHOUT_SEASON.finding(message, stage.at, account=account.id)


def _unknown_group(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        group = account.group or guide.settings.group
        if group not in guide.stage_sets:
            mend = nearest(group, guide.stage_sets) or f"Known groups: {', '.join(guide.stage_sets)}."
            message = (
                f"“{group}” is not a group whose life stages are known."
                if group
                else "No group is given, so its life stages are not known."
            )
            yield UNKNOWN_GROUP.finding(message, account.where("group"), mend=mend, account=account.id)
    for own in guide.stage_sets.values():
        if own.like and own.like not in guide.stage_sets:
            mend = nearest(own.like, guide.stage_sets) or f"Known groups: {', '.join(guide.stage_sets)}."
            yield UNKNOWN_GROUP.finding(f"“{own.like}” is not a group that another can be like.", own.at, mend=mend)


def _hazards(guide: Guide) -> Iterator[tuple[str, At, bool, str]]:
    for account in guide.accounts.values():
        yield from ((hazard, account.where("hazards"), bool(account.caution), account.id) for hazard in account.hazards)
    records: tuple[Plant | Place, ...] = (*guide.plants.values(), *guide.places.values())
    for record in records:
        yield from ((hazard, record.at, bool(record.caution), "") for hazard in record.hazards)
    for walk in guide.walks.values():
        yield from ((hazard, walk.at, False, "") for hazard in walk.hazards)


def _hazard_without_caution(guide: Guide) -> Iterator[Finding]:
    for hazard, at, own_words, account in _hazards(guide):
        if hazard not in guide.cautions and not own_words:
            mend = (
                _suggest(guide, hazard)
                or nearest(hazard, guide.cautions)
                or "Add it under `cautions:` in guide.yaml with the words that warn of it."
            )
            yield HAZARD_WITHOUT_CAUTION.finding(f"The hazard “{hazard}” has no caution.", at, mend=mend, account=account)


def _suggest(guide: Guide, hazard: str) -> str:
    """The cautions that a hazard in plain words asks for, all of them: what is poisonous may be plant, fungus or skin."""
    known = find_hazards_in(guide, hazard)
    return f"Did you mean {words('en').either([f'“{k}”' for k in known])}?" if known else ""


def _review_old(guide: Guide) -> Iterator[Finding]:
    if guide.as_of is None:
        return
    limit = guide.settings.review_after_months
    for account in guide.accounts.values():
        review = account.reviewed
        if review is None:
            continue
        if review.on > guide.as_of:
            message = f"The review is dated {review.on.isoformat()}, which is still to come."
            yield REVIEW_OLD.finding(message, review.at, mend="Correct the date.", account=account.id)
        elif months_between(review.on, guide.as_of) >= limit:
            message = f"{account.vernacular} was last reviewed on {review.on.isoformat()}, more than {count_of(limit, 'month')} ago."
            yield REVIEW_OLD.finding(message, review.at, account=account.id)


def months_between(earlier: dt.date, later: dt.date) -> int:
    """Whole months from one day to another."""
    months = (later.year - earlier.year) * 12 + later.month - earlier.month
    return months - (later.day < earlier.day)


def _sensitive_without_reason(guide: Guide) -> Iterator[Finding]:
    kept = [(a.sensitivity, a.where("sensitive"), a.id, a.vernacular) for a in guide.accounts.values()]
    kept += [(p.sensitivity, p.at, "", p.name) for p in guide.places.values()]
    for sensitivity, at, account, who in kept:
        if sensitivity and not (sensitivity.reason and sensitivity.review):
            lacking = " and ".join(w for w, v in (("a reason", sensitivity.reason), ("a review date", sensitivity.review)) if not v)
            yield SENSITIVE_WITHOUT_REASON.finding(f"{who} is kept secret without {lacking}.", at, account=account)


def _place_without_area(guide: Guide) -> Iterator[Finding]:
    for place in guide.places.values():
        if place.sensitivity and not place.area:
            yield PLACE_WITHOUT_AREA.finding(f"The place “{place.id}” is secret but gives no `area:` to be named instead.", place.at)


UNKNOWN_STAGE = Rule(
    "unknown-stage",
    "Every life stage belongs to the group",
    Level.ERROR,
    "A stage that the group does not have is not shown anywhere.",
    "Use one of the group's stages.",
    _unknown_stage,
)
UNKNOWN_GROUP = Rule(
    "unknown-group",
    "Every account's group has life stages",
    Level.ERROR,
    "Seasons and life stages are ordered by the group's set.",
    "Give `group:` here or in guide.yaml.",
    _unknown_group,
)
SEASON_WITHOUT_TEXT = Rule(
    "season-without-stage",
    "Every stage with a season is described",
    Level.WARNING,
    "A reader who is told when to look must be told what for.",
    "Describe it under `life stages:`.",
    _season_without_text,
)
TEXT_WITHOUT_SEASON = Rule(
    "stage-without-season",
    "Every described stage has a season",
    Level.WARNING,
    "A stage without a season is missing from the bars and from what is out now.",
    "Give its months under `seasons:`.",
    _text_without_season,
)
HAZARD_WITHOUT_CAUTION = Rule(
    "hazard-without-caution",
    "Every hazard has a caution",
    Level.ERROR,
    "What can hurt must come with words that say how to avoid it.",
    "Use a known hazard, or write its caution.",
    _hazard_without_caution,
)
REVIEW_OLD = Rule(
    "review-old",
    "Facts are reviewed often enough",
    Level.WARNING,
    "Names, ranges and seasons change.",
    "Check the facts again and write the new date under `reviewed:`.",
    _review_old,
)
SENSITIVE_WITHOUT_REASON = Rule(
    "sensitive-without-reason",
    "What is kept secret says why and until when",
    Level.WARNING,
    "Published practice asks for the reason and a review date (Chapman 2020, GBIF, chapter 300).",
    "Write `sensitive: {category: high, reason: …, review: 2028-01-01}`.",
    _sensitive_without_reason,
)
PLACE_WITHOUT_AREA = Rule(
    "place-without-area",
    "A secret place gives the area to name instead",
    Level.ERROR,
    "Its own name is never published, and a blank would say nothing.",
    "Write `area:` with the wider district.",
    _place_without_area,
)

RULES = (
    UNKNOWN_GROUP,
    UNKNOWN_STAGE,
    SEASON_WITHOUT_TEXT,
    TEXT_WITHOUT_SEASON,
    HAZARD_WITHOUT_CAUTION,
    REVIEW_OLD,
    SENSITIVE_WITHOUT_REASON,
    PLACE_WITHOUT_AREA,
)
