"""Pieces of view that the site, the cards and the scripts share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from guidebuild.guide.names import NamePiece
from guidebuild.guide.text.plain_text import escape_signs
from guidebuild.views.pieces.credits import Attribution, LicenceView

NOTHING, PRESENT, MOST_SEEN = 0, 1, 2
"""What a cell of a season bar says; its height carries it, so it reads in grey."""


@dataclass(frozen=True, slots=True)
class NameView:
    """A taxon's names. `runs` are the scientific name in italic and upright pieces, without the authority."""

    vernacular: str
    runs: tuple[NamePiece, ...]
    authority: str = ""
    language: str = ""  # of the vernacular name

    @property
    def plain(self) -> str:
        """The scientific name as plain text."""
        return "".join(run.text for run in self.runs)

    @property
    def short(self) -> str:
        """The vernacular name, or the scientific one where there is none."""
        return self.vernacular or self.plain


@dataclass(frozen=True, slots=True)
class LinkView:
    """A way to another page: `path` counts from the site's root and may end in `#part`; `name` where it is a taxon."""

    path: str
    text: str
    name: NameView | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class ProseView:
    """A piece of Markdown with what its references point at.

    `targets` maps `account:parent-bug` and the like to a page path and a title; `prefix` keeps footnote ids of several
    accounts in one document apart; `language` is set where the text is not in the page's language.
    """

    text: str
    heading: str = ""
    targets: tuple[tuple[str, LinkView], ...] = ()
    photos: tuple[PhotoView, ...] = ()
    prefix: str = ""
    language: str = ""


@dataclass(frozen=True, slots=True)
class Wording:
    """Words of the guide's author as a reader gets them, wholly in one language; `language` where that is not the page's.

    `marked` are the same words with their italics and links, where they have any. Without it being asked for, they are plain words.
    """

    words: str = ""
    marked: ProseView | None = None
    language: str = ""

    def __bool__(self) -> bool:
        """Whether anything is said."""
        return bool(self.words)

    def __str__(self) -> str:
        """The plain words."""
        return self.words

    @property
    def markdown(self) -> str:
        """The words as Markdown that says them."""
        return self.marked.text if self.marked else escape_signs(self.words)

    def between(self, before: str = "", after: str = "") -> Wording:
        """The same with plain words before and after."""
        return join_wordings("", (Wording(before), self, Wording(after)), self.language)

    def without_stop(self) -> Wording:
        """The same without a full stop at its end."""
        marked = replace(self.marked, text=self.marked.text.rstrip(".")) if self.marked else None
        return replace(self, words=self.words.rstrip("."), marked=marked)

    def as_sentence(self) -> Wording:
        """The same with a capital at its start and a full stop at its end."""
        if not self.words:
            return self
        first = self.words[:1]
        marked = replace(self.marked, text=self.marked.text.replace(first, first.upper(), 1)) if self.marked else None
        return replace(self, words=first.upper() + self.words[1:], marked=marked).between(after=".")


NO_WORDS = Wording()
"""Nothing said."""


def join_wordings(joint: str, wordings: Sequence[Wording], language: str = "") -> Wording:
    """Words of one language, one after the other with something between them."""
    given = [one for one in wordings if one]
    words = joint.join(one.words for one in given)
    marked = [one.marked for one in given if one.marked]
    if not marked:
        return Wording(words, None, language)
    targets = dict(target for one in marked for target in one.targets)
    text = escape_signs(joint).join(one.markdown for one in given)
    return Wording(words, ProseView(text, targets=tuple(targets.items())), language)


@dataclass(frozen=True, slots=True)
class FactPart:
    """One value in a row of facts: words, or a link, or a scientific name; and a note beside it.

    `marked` and `marked_note` are the same words with their italics and links, where they have any.
    """

    text: str = ""
    link: LinkView | None = None
    name: NameView | None = None
    note: str = ""
    marked: ProseView | None = None
    marked_note: ProseView | None = None


@dataclass(frozen=True, slots=True)
class FactRow:
    """A line of facts: its key in the facts block, its heading in the reader's language, its values and what stands between them."""

    key: str
    label: str
    parts: tuple[FactPart, ...] = ()
    joint: str = ", "
    listed: bool = False  # each value on a line of its own
    language: str = ""  # of the values, where it is not the page's


@dataclass(frozen=True, slots=True)
class MarkView:
    """A numbered field mark; `point` is per cent across and down its photo, None where it cannot be pointed at.

    `stage` and `sex` are all that show it, in the reader's words; `whose` is what of that must be said with it, and `said_sex` the
    sex, both in the language of the mark.
    """

    number: int
    words: str
    point: tuple[float, float] | None = None
    photo: str = ""
    stage: str = ""
    sex: str = ""
    view: str = ""
    language: str = ""  # of the words, where they are not in the page's
    whose: str = ""
    said_sex: str = ""
    wide: float = 0.0  # of the mark on its photo, per cent of the photo's width; 0: not said
    marked: ProseView | None = None  # the words with their italics and links, where they have any

    @property
    def wording(self) -> Wording:
        """The mark alone."""
        return Wording(self.words, self.marked, self.language)

    @property
    def said(self) -> Wording:
        """The mark, and of whom it is true: `black patch on the belly (breeding plumage)`."""
        return self.wording.without_stop().between(after=f" ({self.whose})") if self.whose else self.wording

    @property
    def of_sex(self) -> Wording:
        """The mark where its stage is named beside it: `longest bill (female)`."""
        return self.wording.without_stop().between(after=f" ({self.said_sex})") if self.said_sex else self.wording


@dataclass(frozen=True, slots=True)
class PhotoView:
    """One picture and what must stand beside it. Its size in pixels is known only to the press."""

    id: str
    alt: str
    caption: str = ""
    credit: str = ""
    title: str = ""
    licence: LicenceView | None = None
    stage: str = ""
    sex: str = ""
    view: str = ""
    source: str = ""
    changes: str = ""
    focus: tuple[float, float] | None = None
    marks: tuple[MarkView, ...] = ()
    length: float | None = None  # mm of the line `measured`
    measured: tuple[float, float, float, float] | None = None  # per cent: x1, y1, x2, y2
    reach: tuple[float, float] | None = None  # per cent of that line, past its ends and to its sides
    unshown: tuple[tuple[float, float], ...] = ()  # per cent: where marks are that are not pointed at here
    language: str = ""  # of alt text, title and caption, where it is not in the page's
    alt_language: str = ""  # of the alt text, where it is another than theirs
    marked_caption: ProseView | None = None  # the caption with its italics and links, where it has any

    @property
    def whose(self) -> str:
        """Sex and stage of what it shows: `female, winter plumage`."""
        return ", ".join(filter(None, (self.sex, self.stage)))

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Where marks are on it, which no crop may lose."""
        return (*(mark.point for mark in self.marks if mark.point), *self.unshown)

    @property
    def may_be_cut(self) -> bool:
        """Whether its licence allows changed copies; where it does not, it may still be shown whole, at any size."""
        return self.licence is None or self.licence.derivatives

    @property
    def credit_line(self) -> str:
        """Its credit where there is little room."""
        return self.attribution.brief

    @property
    def attribution(self) -> Attribution:
        """Who is to be named beside it, and how."""
        return Attribution(self.credit, self.title, self.source, self.licence, self.changes)


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """One stage's year: 36 cells from the first month of the guide's year, each NOTHING, PRESENT or MOST_SEEN, and the same in words."""

    label: str
    cells: tuple[int, ...]
    words: str
    stage: str = ""

    def spans(self, level: int) -> tuple[tuple[int, int], ...]:
        """Unbroken pieces (first cell, number of cells) at `level` or above; over its end there are two."""
        pieces: list[tuple[int, int]] = []
        for cell, value in enumerate(self.cells):
            if value < level:
                continue
            if pieces and sum(pieces[-1]) == cell:
                pieces[-1] = (pieces[-1][0], pieces[-1][1] + 1)
            else:
                pieces.append((cell, 1))
        return tuple(pieces)


@dataclass(frozen=True, slots=True)
class SeasonBarView:
    """The year of a taxon, one row a stage, under twelve months."""

    rows: tuple[SeasonRow, ...]
    months: tuple[str, ...]  # narrow names: J F M
    month_names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CautionView:
    """A warning: drawn mark, title, text, and the line that defers to local law or licensed practice.

    `lead` names whom it speaks of, in the reader's language, and stands before the text. Each other value has a language of its own.
    """

    title: str
    text: str
    local: str = ""
    id: str = ""
    short: str = ""  # what to do, in one sentence, for the smallest cards
    language: str = ""  # of the text and its short form, where it is not the page's
    title_language: str = ""  # of the title, likewise
    local_language: str = ""  # of the line that defers to others, likewise
    lead: str = ""
    is_law: bool = False  # what the law says: its title is no hazard
    address: str = ""  # where the law can be read
    marked: ProseView | None = None  # the text with its italics and links, where it has any

    @property
    def wording(self) -> Wording:
        """The text alone."""
        return Wording(self.text, self.marked, self.language)

    @property
    def whole(self) -> Wording:
        """The text after those it speaks of."""
        return self.wording.between(f"{self.lead} ") if self.lead and self.text else self.wording or Wording(self.lead)

    @property
    def deferred(self) -> str:
        """The line that defers to others, with the address, as paper prints it."""
        return " ".join(filter(None, (self.local, self.address)))


@dataclass(frozen=True, slots=True)
class SimilarView:
    """A look-alike and the one thing that separates it."""

    link: LinkView
    note: str
    pairs: tuple[tuple[str, str, str], ...] = ()  # character, here, there
    photo: PhotoView | None = None
    compare: LinkView | None = None
    language: str = ""  # of the note, where it is not in the page's
    marked_note: ProseView | None = None  # the note with its italics and links, where it has any
    beside: tuple[PhotoView, ...] = ()  # its pictures of the stages that this one's pictures show


@dataclass(frozen=True, slots=True)
class SizeView:
    """A size as typed, its overall range in mm for a life-size bar (None: not a length, or open), and what inches are in metric."""

    typed: str
    what: str = ""
    low: float | None = None
    high: float | None = None
    metric: str = ""
    upright: bool = False
    """Whether it is a height, which is drawn standing."""

    @property
    def whole(self) -> str:
        """As typed, with what is measured where that was not typed with it."""
        return self.typed if self.what in self.typed else f"{self.typed} {self.what}"
