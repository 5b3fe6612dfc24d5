"""What the author writes does not give a secret place away: told with file and line, before anything is rendered."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Walk
from guidebuild.guide.texts import find_texts
from guidebuild.later import imported_when_used

with imported_when_used():  # names, grids and codes: a guide without secrets need not wait for them
    from guidebuild.fieldwork import decisions, leaks, map_squares, names_kept, telling_texts, unsaid, walk_ways


def _secret_written(guide: Guide) -> Iterator[Finding]:
    told = [one for one in telling_texts.find_telling_texts(guide) if one.leak.place] if guide.keeps_secrets else []
    found: dict[tuple[At, str], set[str]] = {}
    for _, leak, at in told:
        found.setdefault((at, leak.what), set()).add(leak.found)
    reported: set[tuple[str, At]] = set()
    for text, leak, at in told:
        # A name stands in what was typed and again in its parts, and a position may be near several places: the first is told. Halves
        # of two positions, with whole ones between them, are none more.
        if (leak.found, at) in reported or any(other in leak.found for other in found[at, leak.what] - {leak.found}):
            continue
        reported.add((leak.found, at))
        yield SECRET_WRITTEN.finding(f"{leak}.", at, account=text.account)


def _position_not_public(guide: Guide) -> Iterator[Finding]:
    reported: set[tuple[str, At]] = set()
    for text, leak, at in telling_texts.find_telling_texts(guide) if guide.keeps_secrets else ():
        if not leak.place and (leak.found, at) not in reported:
            reported.add((leak.found, at))
            mend = f'If all may know it, write - "{leak.where}" under “public positions:” in guide.yaml; else take it out.'
            yield POSITION_NOT_PUBLIC.finding(f"{leak}.", at, mend=mend, account=text.account)


def _public_position_secret(guide: Guide) -> Iterator[Finding]:
    if not (guide.keeps_secrets and guide.settings.public_positions):
        return
    allowed = set(leaks.find_allowed(guide, leaks.secrets_of(guide).places))
    at = guide.settings.positions.get("public positions", guide.settings.at)
    for position in guide.settings.public_positions:
        if position not in allowed:
            message = f"The public position {position.latitude}, {position.longitude} is that of a place that is kept secret."
            yield PUBLIC_POSITION_SECRET.finding(message, at)


def _names_said(guide: Guide) -> Iterator[Finding]:
    """Names of secret places that stand where they cannot be left out: in the names of other places, in the title, as a wider area."""
    settings = guide.settings
    for secret in guide.places.values():
        if not secret.sensitivity or secret.public_name:
            continue
        said = [("the guide's title", settings.title), ("the region", settings.region)]
        said += [(f"the open place “{place.name}”", place.name) for place in guide.places.values() if not place.sensitivity]
        said += [(f"the area of the place “{place.name}”", place.area) for place in guide.places.values()]
        for what, text in said:
            if text and names_kept.holds_name(text, secret.name):
                yield SECRET_NAME_SAID.finding(f"The name of the secret place “{secret.name}” stands in {what}.", secret.at)


def _everyday_names(guide: Guide) -> Iterator[Finding]:
    for secret in guide.places.values():
        if secret.sensitivity and not secret.public_name and names_kept.is_everyday(secret.name):
            yield SECRET_NAME_EVERYDAY.finding(f"The secret place “{secret.name}” is called by a word of every day.", secret.at)


def _sensitive_placed(guide: Guide) -> Iterator[Finding]:
    hidden = {a.id: (a, unsaid.Unsaid(leaks.secrets_with(guide, a))) for a in guide.accounts.values() if a.sensitivity}
    secret = {place.name for place in leaks.secrets_of(guide).places} if hidden else set()
    for text in find_texts(guide) if hidden else ():
        if text.account not in hidden:
            continue
        account, kept = hidden[text.account]
        for number, line in enumerate(text.text.split("\n")):
            for place in kept.places_in(line):
                if place not in secret:  # that is an error already
                    name = account.vernacular or account.name.plain
                    message = f"“{place}” is named with the {name}, which is kept secret."
                    yield SENSITIVE_PLACED.finding(message, text.line(number), account=account.id)


def _species_at_places(guide: Guide) -> Iterator[Finding]:
    """Sensitive species that the words of a place or a walk name: that ties the two as well."""
    if not guide.keeps_secrets:
        return
    species = unsaid.Unsaid(leaks.Secrets(tuple(leaks.species_as_secrets(a for a in guide.accounts.values() if a.sensitivity)), ()))
    reported: set[tuple[str, At]] = set()
    for text in find_texts(guide) if species.secrets else ():
        if not isinstance(text.record, Place | Walk) or (isinstance(text.record, Place) and text.record.sensitivity):
            continue
        whose = f"the walk “{text.record.title}”" if isinstance(text.record, Walk) else f"the place “{text.record.name}”"
        for name in species.places_in(text.text):
            message = f"The {name}, which is kept secret, is named in the words of {whose}."
            if (message, text.at) not in reported:
                reported.add((message, text.at))
                yield SENSITIVE_PLACED.finding(message, text.at)


def _walk_to_secret(guide: Guide) -> Iterator[Finding]:
    for walk in guide.walks.values():
        for stop in walk.stops:
            place = guide.places.get(stop.place)
            if place and place.sensitivity:
                yield WALK_TO_SECRET.finding(f"The walk “{walk.title}” stops at “{place.name}”, which is kept secret.", stop.at)


def _way_held_back(guide: Guide) -> Iterator[Finding]:
    """Tracks, meeting points and lines of the map that are not published, by the same decisions as on the pages."""
    ways = any(walk.track or walk.meet_at for walk in guide.walks.values()) or (guide.region and guide.region.lines)
    if not (guide.keeps_secrets and ways):
        return
    made = decisions.decide_secrets(guide)
    for walk in guide.walks.values():
        if walk.track and not walk_ways.tell_track(made, walk):
            message = f"The track of the walk “{walk.title}” passes what is kept secret, so none of it is shown."
            yield WAY_HELD_BACK.finding(message, walk.positions.get("track", walk.at))
        if walk.meet_at and walk_ways.tell_meeting_point(made, walk) is None:
            message = f"The meeting point of the walk “{walk.title}” may tell what is kept secret, so its position is not shown."
            mend = "Meet at a place that places.yaml lists as open, or write the position under “public positions:” in guide.yaml."
            yield WAY_HELD_BACK.finding(message, walk.positions.get("meet at", walk.at), mend=mend)
    region, secrets = guide.region, made.anywhere.secrets
    if region and (leading := sum(map_squares.leads_to(line, secrets) for line in region.lines)):
        words = "One line of the map leads" if leading == 1 else f"{leading} lines of the map lead"
        message = f"{words} to what is kept secret, or round it, so no line is drawn."
        yield WAY_HELD_BACK.finding(message, region.at, mend="Take such lines out, or let them end elsewhere.")


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
    "It would give the place away: an account that does is not published, and of other texts the sentence is left out.",
    "Name the wider area instead, or take the position out. If a place of sightings is no secret, list it in places.yaml.",
    _secret_written,
)
POSITION_NOT_PUBLIC = Rule(
    "position-not-public",
    "In a guide that keeps something secret, every position is of a place that is known to be public",
    Level.WARNING,
    "It may be one that no places.yaml lists. Until you allow it, its sentence is left out of all that is published.",
    "List the place in places.yaml, or the position under “public positions:” in guide.yaml.",
    _position_not_public,
)
PUBLIC_POSITION_SECRET = Rule(
    "public-position-secret",
    "No position that all may know is that of a secret place",
    Level.ERROR,
    "It lies within 100 m of a place that is kept secret, or of a sighting of a sensitive species, so it is not counted as public.",
    "Take it out of “public positions:”, or open the place.",
    _public_position_secret,
)
SENSITIVE_PLACED = Rule(
    "sensitive-species-placed",
    "No text names a place where a sensitive species lives",
    Level.WARNING,
    "The pages keep silent about its places, and the text would tell one.",
    "Name the wider area instead; until then the sentence is left out of all that is published.",
    lambda guide: chain(_sensitive_placed(guide), _species_at_places(guide)),
)
SECRET_NAME_SAID = Rule(
    "secret-name-said",
    "No open place, area or title holds the name of a place that is kept secret",
    Level.ERROR,
    "Readers learn the name there, and what is near it.",
    "Call the one or the other by another name; or write “public name: yes” at the secret place, if its name may be known.",
    _names_said,
)
SECRET_NAME_EVERYDAY = Rule(
    "secret-name-everyday",
    "A place that is kept secret has a name that can be looked for",
    Level.WARNING,
    "To look for “meadow” would stop every guide, so it is not looked for, and a text that names the place so is published.",
    "Give it a fuller name, such as “Brackenwick Meadow”; or write “public name: yes”, if its name may be known.",
    _everyday_names,
)
WALK_TO_SECRET = Rule(
    "walk-to-secret-place",
    "No guided walk stops at a place that is kept secret",
    Level.WARNING,
    "Its time and meeting point lead people there.",
    "Leave the stop out of the published walk.",
    _walk_to_secret,
)
WAY_HELD_BACK = Rule(
    "way-held-back",
    "Tracks, meeting points and lines of the map keep away from what is kept secret",
    Level.WARNING,
    "They would lead there, so pages, packs and calendars leave the whole of them out.",
    "Give a track that keeps away, or leave it out.",
    _way_held_back,
)
SECRECY_REVIEW = Rule(
    "secrecy-review-due",
    "Secrecy is looked at again when its date has come",
    Level.NOTE,
    "Chapman (2020) asks for a review date: what was sensitive may no longer be, or may need more care.",
    "Decide again and give a later date under “review:”.",
    _review_passed,
)

RULES = (
    SECRET_WRITTEN,
    POSITION_NOT_PUBLIC,
    PUBLIC_POSITION_SECRET,
    SENSITIVE_PLACED,
    SECRET_NAME_SAID,
    SECRET_NAME_EVERYDAY,
    WALK_TO_SECRET,
    WAY_HELD_BACK,
    SECRECY_REVIEW,
)
