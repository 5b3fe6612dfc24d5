"""What the author writes does not give a secret place away: told with file and line, before anything is rendered."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.fieldwork.leaks import leaks_in, secrets_of, secrets_with
from guidebuild.fieldwork.unsaid import unsaid_of
from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import find_account


def _written(guide: Guide) -> Iterator[tuple[str, At, str]]:
    """Every text that will be published: the text, where it stands, whose account it is ("" for the guide's own)."""
    for account in guide.accounts.values():
        yield from _of_account(account)
    for photo in guide.photos.values():
        for text in (photo.title.text, photo.caption.text, photo.alt.text, photo.id):
            yield text, photo.at, photo.account if photo.account in guide.accounts else ""
    for plant in guide.plants.values():
        yield f"{plant.note.text}\n{plant.caution.text}", plant.at, ""
    for place in guide.places.values():
        if not place.sensitivity:
            yield "\n".join((place.note.text, place.access.text, place.caution.text)), place.at, ""
    for term in guide.terms.values():
        yield term.meaning.text, term.at, ""
    for walk in guide.walks.values():
        yield "\n".join((walk.title, walk.meet, walk.note.text, walk.id.replace("-", " "))), walk.at, ""
        yield from ((stop.note.text, stop.at, "") for stop in walk.stops)
    for episode in guide.episodes.values():
        yield from ((section.text, section.at, "") for section in episode.sections)


def _of_account(account: Account) -> Iterator[tuple[str, At, str]]:
    sections = (*account.sections, *(s for t in account.translations for s in t.sections))
    yield from ((section.text, section.at, account.id) for section in sections)
    yield from ((stage.text.text, stage.at, account.id) for stage in account.stages)
    yield from ((mark.mark.text, mark.at, account.id) for mark in account.diagnostics)
    yield from ((similar.note.text, similar.at, account.id) for similar in account.similar)
    yield from ((getattr(account, field.attribute).text, account.where(field.key), account.id) for field in INLINE_FIELDS)
    yield from ((words.text, words.at, account.id) for t in account.translations for _, words in t.facts)


def _secret_written(guide: Guide) -> Iterator[Finding]:
    secrets = secrets_of(guide)
    for text, at, account in _written(guide) if secrets else ():
        for leak in leaks_in(text, secrets):
            # Prose keeps its lines; texts of YAML are folded, so their key is as near as can be told.
            line = At(at.file, at.line + leak.line) if leak.line and at.file.endswith(".md") else at
            yield SECRET_WRITTEN.finding(f"{leak}.", line, account=account)


def _sensitive_placed(guide: Guide) -> Iterator[Finding]:
    secret = {place.name for place in guide.places.values() if place.sensitivity}
    for account in (account for account in guide.accounts.values() if account.sensitivity):
        unsaid = unsaid_of(secrets_with(guide, account))
        for text, at in _all_words_of(guide, account):
            for number, line in enumerate(text.split("\n")):
                for place in unsaid.places_in(line):
                    if place not in secret:  # that is an error already
                        name = account.vernacular or account.name.plain
                        message = f"“{place}” is named with the {name}, which is kept secret."
                        where = At(at.file, at.line + number) if number and at.file.endswith(".md") else at
                        yield SENSITIVE_PLACED.finding(message, where, account=account.id)


def _all_words_of(guide: Guide, account: Account) -> Iterator[tuple[str, At]]:
    """What is published of one account: its own texts, its scripts, and the words beside its pictures."""
    yield from ((text, at) for text, at, _ in _of_account(account))
    for episode in guide.episodes.values():
        if find_account(guide, episode.account) is account:
            yield from ((section.text, section.at) for section in episode.sections)
    for photo in guide.photos.values():
        if photo.account == account.id:
            yield from ((text, photo.at) for text in (photo.title.text, photo.caption.text, photo.alt.text))


def _walk_to_secret(guide: Guide) -> Iterator[Finding]:
    for walk in guide.walks.values():
        for stop in walk.stops:
            place = guide.places.get(stop.place)
            if place and place.sensitivity:
                yield WALK_TO_SECRET.finding(f"The walk “{walk.title}” stops at “{place.name}”, which is kept secret.", stop.at)


def _review_passed(guide: Guide) -> Iterator[Finding]:
    held = [(a.vernacular or a.name.plain, a.sensitivity, a.where("sensitive"), a.id) for a in guide.accounts.values()]
    held += [(place.name, place.sensitivity, place.at, "") for place in guide.places.values()]
    for name, secret, at, account in held:
        if secret and secret.review and guide.as_of and secret.review <= guide.as_of:
            message = f"Whether “{name}” must still be kept secret was to be looked at again on {secret.review.isoformat()}."
            yield SECRECY_REVIEW.finding(message, at, account=account)


SECRET_WRITTEN = Rule(
    "secret-place-named",
    "No text names a place that is kept secret",
    Level.ERROR,
    "Publishing would give the place away, so it stops.",
    "Name the wider area instead, or take the position out.",
    _secret_written,
)
SENSITIVE_PLACED = Rule(
    "sensitive-species-placed",
    "No text names a place where a sensitive species lives",
    Level.WARNING,
    "The pages keep silent about its places, and the text would tell one.",
    "Name the wider area instead; drafts of scripts and posts leave the sentence out.",
    _sensitive_placed,
)
WALK_TO_SECRET = Rule(
    "walk-to-secret-place",
    "No guided walk stops at a place that is kept secret",
    Level.WARNING,
    "Its time and meeting point lead people there.",
    "Leave the stop out of the published walk.",
    _walk_to_secret,
)
SECRECY_REVIEW = Rule(
    "secrecy-review-due",
    "Secrecy is looked at again when its date has come",
    Level.NOTE,
    "Chapman (2020) asks for a review date: what was sensitive may no longer be, or may need more care.",
    "Decide again and give a later date under “review:”.",
    _review_passed,
)

RULES = (SECRET_WRITTEN, SENSITIVE_PLACED, WALK_TO_SECRET, SECRECY_REVIEW)
