"""Published values → the shared pieces of view."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, replace

from guidebuild.fieldwork.claims import must_say_stage
from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import AccountFacts, Translation
from guidebuild.guide.asking import remember
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.findings import NOWHERE
from guidebuild.guide.measure_words import metric_words
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.guide.text.links import links_in
from guidebuild.views.pieces.common import (
    LinkView,
    MarkView,
    PhotoView,
    ProseView,
    SeasonBarView,
    SizeView,
    Wording,
    join_wordings,
)
from guidebuild.views.pieces.credits import LicenceView
from guidebuild.views.pieces.links import SiteMap, site_map
from guidebuild.views.pieces.season_words import season_bar
from guidebuild.views.pieces.sizes import SizesView, is_height, sizes_together
from guidebuild.words import Words, words

_ITEM = "\x1f"


@dataclass(frozen=True, slots=True)
class PieceMaker:
    """Makes pieces of view for one guide in one language."""

    guide: Published
    map: SiteMap
    words: Words
    kept: dict[tuple[str, str], object] = field(default_factory=dict, repr=False, compare=False)
    """Pieces that many pages show, made once: by (what, whose). Only `remember` puts them there and takes them out again."""

    @property
    def language(self) -> str:
        """The reader's language."""
        return self.words.language

    @property
    def main(self) -> str:
        """The language that the guide is written in."""
        return self.guide.settings.language

    @property
    def foreign(self) -> str:
        """The guide's language where it is not the reader's: the `lang` of what its author wrote."""
        return self.main if self.main != self.language else ""

    @property
    def in_main(self) -> PieceMaker:
        """The same pages with all words in the guide's language: for what is wholly said in it on a page in another."""
        return replace(self, words=words(self.main), kept={})

    def stage_word(self, account: PublicAccount, stage: str) -> str:
        """The word for a stage of an account's life; stages outside its set are named as typed."""
        return stage_word(self.guide, account, stage, self.words)

    def translation(self, account: PublicAccount) -> Translation | None:
        """The account's words in the reader's language, where it has any."""
        return next((t for t in account.translations if t.language == self.language), None)

    def told(self, account: PublicAccount, key: str) -> tuple[Inline, str]:
        """A text in the author's words, in the reader's language where it is translated; and its `lang` where it is not."""
        translated = self.translation(account)
        theirs = dict(translated.facts).get(key, NO_TEXT) if translated else NO_TEXT
        own: Inline = getattr(account, key)
        return (theirs, "") if theirs else (own, self.foreign)

    def marks(
        self, account: PublicAccount, photo: str = "", *, beside: str = "", chosen: Collection[int] | None = None
    ) -> tuple[MarkView, ...]:
        """Field marks with their numbers, all of them or those pointed at on one photo.

        `beside` is the photo they stand beside; `chosen` tells where in the account those stand that are said together.
        """
        translated = self.translation(account)
        given = translated.marks if translated and len(translated.marks) == len(account.diagnostics) else ()
        theirs = given or (NO_TEXT,) * len(account.diagnostics)
        near = self.guide.photos.get(photo or beside)
        said = tuple(self._in_its_language(account, number, theirs[number]) for number in range(len(account.diagnostics)))
        together = [number for number in (range(len(said)) if chosen is None else chosen) if number < len(said)]
        open_marks = [account.diagnostics[number] for number in together if not _names(said[number].words, said[number].stage)]
        with_stage = must_say_stage(open_marks, near.stage if near else "")
        return tuple(
            replace(
                said[number],
                stage=self.words.listed([self.stage_word(account, stage) for stage in mark.stages]),
                sex=self.words.listed([self.words(sex) for sex in mark.sexes]),
                whose=", ".join(filter(None, (said[number].sex, said[number].stage if with_stage and mark in open_marks else ""))),
            )
            for number, mark in enumerate(account.diagnostics)
            if (not photo or (mark.photo == photo and mark.point)) and (chosen is None or number in chosen)
        )

    def _in_its_language(self, account: PublicAccount, number: int, theirs: Inline) -> MarkView:
        """A mark with its stage and sex, all in the language in which it is written; whose it is is not said yet."""
        mark, text = account.diagnostics[number], theirs or account.diagnostics[number].mark
        say = self.words if theirs or not self.foreign else words(self.main)
        sex = say.listed([say(sex) for sex in mark.sexes])
        return MarkView(
            number=number + 1,
            words=text.words,
            point=mark.point if mark.photo in self.guide.photos else None,
            wide=mark.wide or 0.0,
            photo=mark.photo,
            stage=say.listed([stage_word(self.guide, account, stage, say) for stage in mark.stages]),
            sex=sex,
            said_sex=sex,
            view=self.words(mark.view),
            language="" if theirs else self.foreign,
            marked=self.marked(text),
        )

    def marks_in_one(self, account: PublicAccount, chosen: Collection[int], *, beside: str = "") -> tuple[MarkView, ...]:
        """Marks that are said in one breath: where one of them is not translated, all in the guide's language."""
        shown = self.marks(account, beside=beside, chosen=chosen)
        if len({mark.language for mark in shown}) < 2:
            return shown
        return tuple(replace(mark, language=self.foreign) for mark in self.in_main.marks(account, beside=beside, chosen=chosen))

    def photo(self, photo: PublicPhoto, account: PublicAccount | None = None) -> PhotoView:
        """A picture with its marks, where it belongs to the account that is shown."""
        owner = account or self.guide.accounts.get(photo.account)
        return PhotoView(
            id=photo.id,
            alt="" if photo.decorative else photo.alt.words,
            caption=photo.caption.words,
            marked_caption=self.marked(photo.caption),
            credit=photo.credit,
            title=photo.title.words,
            licence=self.licence(photo.licence),
            stage=self.stage_word(owner, photo.stage) if owner else photo.stage,
            sex=self.words(photo.sex),
            view=self.words(photo.view),
            source=photo.source,
            changes=photo.changes,
            focus=photo.focus,
            marks=self.marks(account, photo.id) if account else (),
            length=photo.length.middle if photo.length and photo.measured else None,
            measured=photo.measured,
            reach=photo.reach,
            language=self.foreign,
        )

    def photo_of(self, photo_id: str, account: PublicAccount | None = None) -> PhotoView | None:
        """The picture of an id, or None where there is no such picture."""
        photo = self.guide.photos.get(photo_id)
        return self.photo(photo, account) if photo else None

    def plate(self, account: PublicAccount) -> PhotoView | None:
        """The picture that answers "is it this one?": the first of the account's that a mark points at, else its first."""
        return remember(self.kept, ("plate", account.id), lambda: self._plate(account))

    def _plate(self, account: PublicAccount) -> PhotoView | None:
        pointed = [m.photo for m in account.diagnostics if m.point and m.photo in self.guide.photos]
        listed = [p for p in account.photos if p in self.guide.photos]
        best = [p for p in listed if p in pointed]
        return next((self.photo_of(p, account) for p in (*best, *pointed, *listed)), None)

    def small_plate(self, account: PublicAccount) -> PhotoView | None:
        """The plate as a small picture beside the account's name."""
        plate = self.plate(account)
        return self.small_photo(self.guide.photos[plate.id]) if plate else None

    def small_photo(self, photo: PublicPhoto) -> PhotoView:
        """A small picture: no marks, and no alt text, because a name stands beside it."""
        owner = self.guide.accounts.get(photo.account)
        return PhotoView(
            photo.id,
            "",
            credit=photo.credit,
            title=photo.title.words,
            licence=self.licence(photo.licence),
            source=photo.source,
            changes=photo.changes,
            focus=photo.focus,
            length=photo.length.middle if photo.length and photo.measured else None,
            measured=photo.measured,
            reach=photo.reach,
            unshown=tuple(mark.point for mark in owner.diagnostics if mark.point and mark.photo == photo.id) if owner else (),
        )

    def licence(self, licence_id: str) -> LicenceView | None:
        """A licence's title and address; an id that is not in the list is shown as typed."""
        if not licence_id:
            return None
        known = self.guide.licences.get(licence_id)
        if known is None:
            return LicenceView(licence_id, licence_id)
        return LicenceView(known.id, self.words(known.title), known.address, known.derivatives)

    def season_bar(self, account: PublicAccount) -> SeasonBarView | None:
        """The year of an account, region-wide rows in order of life first, then those of single places."""
        order = {stage: n for n, stage in enumerate(self.guide.stage_set(account).ids)}
        rows = [
            (row.stage, self._row_label(account, row.stage, row.place), row.season)
            for row in sorted(account.seasons, key=lambda r: (bool(r.place), order.get(r.stage, len(order))))
        ]
        return season_bar(rows, self.words, self.guide.settings) if rows else None

    def _row_label(self, account: PublicAccount, stage: str, place: str) -> str:
        label = self.stage_word(account, stage)
        return self.words("{stage}, at {place}", stage=label, place=self.map.place(place).text) if place else label

    def word(self, text: Inline, language: str | None = None) -> Wording:
        """A text as a page shows it; in the guide's language where no other is said."""
        return Wording(text.words, self.marked(text), self.foreign if language is None else language)

    def marked(self, text: Inline) -> ProseView | None:
        """A text of the facts with its italics and links, where it has any: most have none."""
        return self.prose(text.text, pictures=False) if text.has_marks else None

    def prose(self, text: str, *, heading: str = "", prefix: str = "", language: str = "", pictures: bool = True) -> ProseView:
        """Markdown with the answers to the cross-references in it."""
        targets: dict[str, LinkView] = {}
        photos: dict[str, PhotoView] = {}
        for link_written in links_in(text, NOWHERE):
            kind, wanted = link_written.kind, link_written.target
            if kind == "photo":
                found = self.photo_of(wanted) if pictures else None
                if found:
                    photos[wanted] = found
                continue
            link = self.map.target(kind, wanted)
            if link:
                targets[f"{kind}:{wanted}"] = link
        return ProseView(
            text=text,
            heading=heading,
            targets=tuple(targets.items()),
            photos=tuple(photos.values()),
            prefix=prefix,
            language=language if language != self.language else "",
        )

    def size(self, account: PublicAccount) -> SizeView | None:
        """An account's size as typed, with numbers only where it is a length."""
        measure = account.size
        if measure is None:
            return None
        low, high = (measure.low, measure.high) if measure.unit == "mm" else (None, None)
        measured = measure.what or self.guide.stage_set(account).measured
        return SizeView(measure.typed, measure.what, low, high, metric_words(measure.typed), is_height(measured))


def sizes_of_guide(make: PieceMaker) -> SizesView:
    """What the sizes of all accounts have in common, which stand together in a deck, a booklet or a leaflet."""
    return remember(make.kept, ("sizes", ""), lambda: sizes_of(make, make.guide.accounts.values()))


def sizes_of(make: PieceMaker, accounts: Iterable[PublicAccount]) -> SizesView:
    """What the sizes of these accounts have in common."""
    return sizes_together(map(make.size, accounts), make.guide.settings.size_beside, make.words)


def list_wordings(say: Words, wordings: Sequence[Wording], language: str = "") -> Wording:
    """Words of one language as a list in it: `a, b and c`."""
    joints = say.listed([_ITEM] * len(wordings)).split(_ITEM)
    pieces = (piece for joint, one in zip(joints, wordings, strict=False) for piece in (Wording(joint), one))
    return join_wordings("", tuple(pieces), language)


def _names(words: str, stage: str) -> bool:
    """Whether a mark already says whose it is: `black edge of the nymph`."""
    return bool(stage) and re.search(rf"\b{re.escape(stage)}s?\b", words, re.IGNORECASE) is not None


def stage_word(guide: AnyGuide, account: AccountFacts, stage: str, say: Words) -> str:
    """The word for a stage of an account's life; stages outside its set are named as typed."""
    return say(next((word for known, word in guide.stage_set(account).stages if known == stage), stage))


def make_pieces(guide: Published, language: str = "") -> PieceMaker:
    """The maker of views of a guide in a language (by default the guide's first)."""
    language = language or guide.settings.language
    return PieceMaker(guide, site_map(guide, language), words(language))
