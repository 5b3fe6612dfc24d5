"""Single slides of what the guide says: of a species, of look-alikes, of cautions and credits."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from guidebuild.fieldwork.claims import find_marks
from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.life_stages import GROWN
from guidebuild.guide.text.inline import Inline
from guidebuild.views.pieces.common import NO_WORDS, CautionView, NameView, PhotoView, SeasonRow, Wording
from guidebuild.views.pieces.credits import say_change
from guidebuild.views.pieces.facts import head_plants, name_habitats
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.pointers import number_marks
from guidebuild.views.slides.slide import Slide, SlideKind
from guidebuild.views.telling.compare import CompareView
from guidebuild.views.telling.side_by_side import SidePlate

MOST_MARKS = 3
"""So many marks can be pointed at on one slide and still be read on a phone."""
LETTERS = "ABCDEF"
"""What pictures are called until it is said what they show."""
IN_THE_FIELD = "In the field"
_FIELD_SENTENCES = 2


def name_of(make: PieceMaker, account: PublicAccount) -> NameView:
    """How an account is called."""
    return make.map.account(account).name or NameView(account.vernacular, ())


def choose_picture(make: PieceMaker, account: PublicAccount, stages: Collection[str] = ()) -> PhotoView | None:
    """The plate, or where only some stages are out and it shows none of them, the account's first picture of one."""
    plate = make.plate(account)
    if not stages or (plate and make.guide.photos[plate.id].stage in ("", *stages)):
        return plate
    fitting = [photo for photo in make.guide.photos_of(account) if photo.stage in stages and not photo.part]
    return make.photo(fitting[0], account) if fitting else plate


def plate_slide(make: PieceMaker, account: PublicAccount, stages: Collection[str] = (), about: str = "") -> Slide:
    """The picture with pointers at the marks that decide, of the stage and sex that it shows and of no other."""
    name, photo = name_of(make, account), choose_picture(make, account, stages)
    if photo is None:
        return Slide(SlideKind.PLATE, name.short, about, name, marks=number_marks(make.marks(account)[:MOST_MARKS], ""))
    shown = make.guide.photos[photo.id]
    numbers = find_marks(account, shown.stage, shown.sex)
    pointed = [n for n in numbers if (mark := account.diagnostics[n]).photo == photo.id and mark.point]
    chosen = sorted([*pointed, *(n for n in numbers if n not in pointed)][:MOST_MARKS])
    marks = number_marks(make.marks_in_one(account, chosen, beside=photo.id), photo.id)
    on_picture = tuple(mark for mark in marks if mark.number)
    return Slide(SlideKind.PLATE, name.short, about, name, photo=replace(photo, marks=on_picture), marks=marks, note=say_whose(make, photo))


def say_whose(make: PieceMaker, photo: PhotoView) -> str:
    """Of which stage and sex a picture is, where that is not the one grown form."""
    shown = make.guide.photos[photo.id]
    return photo.sex if shown.stage == GROWN else photo.whose


def beside_slide(make: PieceMaker, compared: CompareView, title: str, *, answered: bool = True) -> Slide | None:
    """Look-alikes at one scale, with what tells each from the other; without the answers, for the question alone."""
    side = next((stage.pictures for stage in compared.stages if any(plate.photo for plate in stage.pictures.plates)), None)
    if side is None:
        return None
    if not answered:
        plates = tuple(
            replace(p, photo=replace(p.photo, marks=()) if p.photo else None, marks=(), season=None, link=replace(p.link, text=letter))
            for p, letter in zip(side.plates, LETTERS, strict=False)
        )
        return Slide(SlideKind.QUESTION, title, side=replace(side, plates=plates))
    plates = tuple(_with_first_mark(plate) for plate in side.plates)
    told = compared.answers or (NO_WORDS,) * len(plates)
    return Slide(SlideKind.BESIDE, title, side=replace(side, plates=plates), told=tuple(map(_as_sentence, told)))


def _with_first_mark(plate: SidePlate) -> SidePlate:
    """A species with the one mark that decides, which its picture points at where it can."""
    pointed = plate.photo.marks if plate.photo else ()
    chosen = next((mark for mark in plate.marks if mark in pointed), next(iter(plate.marks), None))
    if chosen is None:
        return plate
    first = replace(chosen, number=1)
    photo = replace(plate.photo, marks=(first,) if chosen in pointed else ()) if plate.photo else None
    return replace(plate, photo=photo, marks=(first,))


def _as_sentence(told: Wording) -> Wording:
    return told if told.words.endswith(".") else told.as_sentence()


def when_slide(make: PieceMaker, accounts: Sequence[PublicAccount]) -> Slide:
    """The year of each, of the stages that one looks for, and where they live."""
    say = make.words
    rows: list[SeasonRow] = []
    months: tuple[str, ...] = ()
    for account in accounts:
        bar, sought = make.season_bar(account), sought_stages(make.guide, account)
        places = {row.stage for row in account.seasons if not row.place}
        kept = [row for row in (bar.rows if bar else ()) if row.stage in sought and row.stage in places][: len(sought)]
        months = months or (bar.months if bar else ())
        several = len(accounts) > 1
        rows += [replace(row, label=f"{name_of(make, account).short}, {row.label}" if several else row.label) for row in kept]
    lines = [line for account in accounts for line in _where(make, account, named=len(accounts) > 1)]
    return Slide(SlideKind.WHEN, say("When and where"), _names(make, accounts), lines=tuple(lines), months=months, seasons=tuple(rows))


def _where(make: PieceMaker, account: PublicAccount, *, named: bool) -> Iterable[Wording]:
    say = make.words
    habitats = name_habitats(make.guide, account)
    places = [make.word(habitat).words for habitat in habitats]
    plants = [make.map.plant(host.plant).text for host in account.host_plants]
    before = f"{name_of(make, account).short}: " if named else ""
    if places:
        yield Wording(f"{before}{say.listed(places)}" if named else say("Where: {places}", places=say.listed(places))).as_sentence()
    if plants and not named:
        yield Wording(f"{say(head_plants(make.guide, [account]))}: {say.listed(plants)}").as_sentence()


def _names(make: PieceMaker, accounts: Sequence[PublicAccount]) -> str:
    return make.words.listed([name_of(make, account).short for account in accounts])


def care_slide(make: PieceMaker, about: str, cautions: Sequence[CautionView], accounts: Sequence[PublicAccount] = ()) -> Slide:
    """How to look without harm, and every caution that must be there."""
    say = make.words
    own = _field_sentences(make, accounts[0]) if len(accounts) == 1 else ()
    lines = own or (Wording(say("Look, take a picture, and leave everything as it was.")),)
    law = Wording(say("Ask whoever owns the land, keep to local law, and handle nothing that is protected."))
    return Slide(SlideKind.CARE, say("Look without harm"), about, lines=(*lines, law), cautions=tuple(cautions))


def _field_sentences(make: PieceMaker, account: PublicAccount) -> tuple[Wording, ...]:
    number = next((n for n, s in enumerate(account.sections) if s.heading.casefold() == IN_THE_FIELD.casefold()), None)
    if number is None:
        return ()
    return tuple(map(make.word, Inline(account.sections[number].text).sentences[:_FIELD_SENTENCES]))


def name_makers(make: PieceMaker, slides: Iterable[Slide]) -> tuple[str, ...]:
    """Who made the pictures, each once, and that they were cut where the licence asks that to be said."""
    licences, say = make.guide.licences, make.words
    shown = [photo for slide in slides for photo in slide.photos if photo.credit]
    made = (say_change(licences.get(photo.licence.id) if photo.licence else None, say) for photo in shown)
    return tuple(dict.fromkeys(photo.attribution.short_sentence(say, change) for photo, change in zip(shown, made, strict=True)))


def credits_slide(make: PieceMaker, slides: Sequence[Slide], path: str, sources: Sequence[PublicAccount] = ()) -> Slide:
    """Who made the pictures, and where more can be read."""
    say, settings = make.words, make.guide.settings
    root = settings.address.rstrip("/")
    given = name_makers(make, slides)
    reviewed = [account.reviewed.on for account in sources if account.reviewed]
    facts = (say("Facts of {date}", date=say.date(min(reviewed))),) if reviewed else ()
    is_named = not settings.publisher or any(settings.publisher in words for words in (settings.title, *given))
    publisher = () if is_named else (settings.publisher,)
    return Slide(
        SlideKind.CREDITS,
        settings.title,
        say("Read on"),
        credits=(*given, *publisher, *facts),
        address=f"{root}/{path}" if root else "",
    )
