"""The lines of facts on an account's page, in the order in which the fields are declared."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.account_fields import rows_of
from guidebuild.guide.field_declaration import Field, OutputName
from guidebuild.guide.text.inline import Inline
from guidebuild.views.pieces.common import FactPart, FactRow, NameView
from guidebuild.views.pieces.facts import head_plants, name_habitats
from guidebuild.views.pieces.parts import PieceMaker


def account_facts(make: PieceMaker, account: PublicAccount) -> tuple[FactRow, ...]:
    """Every line of facts that the account has something to say in."""
    rows = (_fill_row(FactRow(field.key, make.words(row.label)), field, make, account) for field, row in rows_of(OutputName.SITE))
    return tuple(row for row in rows if row.parts)


def _fill_row(row: FactRow, field: Field, make: PieceMaker, account: PublicAccount) -> FactRow:
    """The row with its values: by the field's own way, else as a text or as words in a list."""
    if fill := OWN_WAY.get(field.key):
        return fill(row, make, account)
    if field.inline:
        text, language = make.told(account, field.key)
        return replace(row, parts=(FactPart(text.words, marked=make.marked(text)),) if text else (), language=language)
    return replace(row, parts=tuple(FactPart(word) for word in getattr(account, field.attribute)), language=make.foreign)


def _fill_hosts(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    hosts = account.host_plants
    uses = ((h.plant, Inline("; ".join(text.text for text in (h.part, h.use) if text))) for h in hosts)
    parts = tuple(FactPart(link=make.map.plant(plant), note=use.words, marked_note=make.marked(use)) for plant, use in uses)
    return replace(row, label=make.words(head_plants(make.guide, [account])), parts=parts, listed=bool(parts), language=make.foreign)


def _fill_habitats(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    parts = tuple(FactPart(h.words, marked=make.marked(h)) for h in name_habitats(make.guide, account))
    return replace(row, parts=parts, language=make.foreign)


def _fill_places(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    links = dict.fromkeys(make.map.locality(locality) for locality in account.localities)
    return replace(row, parts=tuple(FactPart(link=link) for link in links if link.text), language=make.foreign)


def _fill_absent(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    return replace(row, parts=tuple(FactPart(link=make.map.place(place)) for place in account.absent_from), language=make.foreign)


def _fill_secret(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    """Why the places are not told, in the author's words or else in ours."""
    if account.kept_back is None:
        return row
    if account.kept_back.reason:
        return replace(row, parts=(FactPart(account.kept_back.reason),), language=make.foreign)
    return replace(row, parts=(FactPart(make.words("The exact places are not published.")),))


def _fill_status(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    """How common it is and since when it has been here; one line is in one language."""
    texts = [make.told(account, key) for key in ("status", "recent") if getattr(account, key)]
    if len({language for _, language in texts}) > 1:
        texts = [(text, make.foreign) for text in (account.status, account.recent)]
    language = texts[0][1] if texts else ""
    return replace(row, parts=tuple(FactPart(text.words, marked=make.marked(text)) for text, _ in texts), joint="; ", language=language)


def _fill_synonyms(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    return replace(row, parts=tuple(FactPart(name=NameView("", s.pieces(authority=False), s.authority)) for s in account.synonyms))


def _fill_say(row: FactRow, make: PieceMaker, account: PublicAccount) -> FactRow:
    return replace(row, parts=(FactPart(account.say),) if account.say else ())


OWN_WAY: Mapping[str, Callable[[FactRow, PieceMaker, PublicAccount], FactRow]] = MappingProxyType(
    {
        "host plants": _fill_hosts,
        "habitat": _fill_habitats,
        "places": _fill_places,
        "absent from": _fill_absent,
        "sensitive": _fill_secret,
        "status": _fill_status,
        "synonyms": _fill_synonyms,
        "say": _fill_say,
    }
)
"""By key, how a line is filled that is more than words."""
