"""What puts a post right: on which day what was written, and what it is; a text for each place that the guide posts to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.guide import PostLimit
from guidebuild.views.pieces.facts import head_plants
from guidebuild.views.pieces.said_facts import MARK
from guidebuild.views.posts.lengths import perceived_length
from guidebuild.views.posts.posted_facts import ChangedFact, find_changed_facts
from guidebuild.views.posts.texts import Material, PostText, tell_cares
from guidebuild.words import Words, words

_LABELS = {"size": "Size", "name": "Name", "scientific name": "Scientific name", "family": "Family", "hazards": "Take care"}
_SEASON, _DIFFERENCE = "season of ", "difference from "


def write_corrections(material: Material, limits: Iterable[PostLimit]) -> tuple[PostText, ...]:
    """The corrections that are due of an account: for each limit one text, or several where not all that has changed goes into one."""
    changes = find_changed_facts(material.guide, material.account)
    return tuple(text for limit in limits for text in _write_for(material, changes, limit)) if changes else ()


def _write_for(material: Material, changes: Sequence[ChangedFact], limit: PostLimit) -> Iterator[PostText]:
    say = words(material.guide.settings.language)

    def fits(sentences: Sequence[str]) -> bool:
        return _length(_join(material, sentences, say), limit) <= limit.characters

    for number, sentences in enumerate(_share_out([_ways_to_say(material, change, say) for change in changes], fits), start=1):
        text = _add_while_it_fits(material, _join(material, sentences, say), limit, say)
        suffix = f"-{number}" if number > 1 else ""
        title = say("Correction, {name}", name=f"{limit.name}{suffix}")
        yield PostText(f"correction-{limit.name}{suffix}", text, _length(text, limit), limit.characters, title)


def _length(text: str, limit: PostLimit) -> int:
    return perceived_length(text, limit.link_cost, limit.counted)


def _share_out(changes: Iterable[Sequence[str]], fits: Callable[[Sequence[str]], bool]) -> Iterator[Sequence[str]]:
    """The sentences in as many texts as it takes; each in the longest of its ways that fits a text of its own."""
    shared: list[str] = []
    for ways in changes:
        sentence = next((way for way in ways if fits([way])), ways[-1])
        if shared and not fits([*shared, sentence]):
            yield shared
            shared = []
        shared = [*shared, sentence]
    yield shared


def _join(material: Material, sentences: Sequence[str], say: Words) -> str:
    """What always stands: whose facts, what has changed, what can hurt, and where all is told."""
    _, brief = tell_cares(material)
    head = say("Correction: {name}.", name=material.head)
    told = " ".join((head, *sentences, *(piece.text for piece in brief)))
    return "\n\n".join(part for part in (told, material.link) if part)


def _add_while_it_fits(material: Material, text: str, limit: PostLimit, say: Words) -> str:
    """The text with as many sources, and then as many tags, as there is room for."""
    guide = material.guide
    cited = [guide.sources[source].cite.rstrip(".") for source in material.account.sources if source in guide.sources]
    sources = [f"{say('Sources')}: {'; '.join(cited[:number])}." for number in range(len(cited), 0, -1)]
    allowed = material.tags[: limit.hashtags]
    tags = [" ".join(allowed[:number]) for number in range(len(allowed), 0, -1)]
    for ways in (sources, tags):
        longer = (f"{text}\n\n{way}" for way in ways)
        text = next((one for one in longer if _length(one, limit) <= limit.characters), text)
    return text


def _ways_to_say(material: Material, change: ChangedFact, say: Words) -> tuple[str, ...]:
    """A change in a sentence or two, the longest way first: both facts, today's alone, and where to read it."""
    label = _label(material, change.slot, say)
    days = say.listed([say.date(day) for day in change.days])
    then, now = (text.rstrip(".") for text in (change.then, change.now))
    wrote = f"{label}: {then}" if label else then
    anew = f"{label}: {now}" if label else now
    last = say("Something that we wrote on {days} has changed.", days=days)
    if not now:
        return say("On {days} we wrote “{then}”. We no longer say so.", days=days, then=wrote), last
    return (
        say("On {days} we wrote “{then}”. It is “{now}”.", days=days, then=wrote, now=now),
        say("On {days} we wrote otherwise. It is “{now}”.", days=days, now=anew),
        last,
    )


def _label(material: Material, slot: str, say: Words) -> str:
    """What stands before a fact in a post; nothing where a fact is a sentence."""
    guide, account = material.guide, material.account
    stages = dict(guide.stage_set(account).stages)
    if slot.startswith((MARK, _DIFFERENCE)):
        return say("How to know it") if slot.startswith(MARK) else ""
    if slot == "host plants":
        return say(head_plants(guide, [account]))
    stage = slot.removeprefix(_SEASON)
    if stage in stages:
        return say(stages[stage]).capitalize()
    declared = next((field.row.label for field in ACCOUNT_FIELDS if field.slot == slot and field.row), "")
    return say(_LABELS.get(slot, declared))
