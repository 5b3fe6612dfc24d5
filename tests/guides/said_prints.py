"""What scripts and prints say, taken from their views and templates: nothing is laid out on paper and nothing timed, which takes long.

Cards are read with all that they say where there is room. Of scripts every line that may be said is listed: which of them are said
hangs on the dictionary that counts their syllables.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from markupsafe import Markup

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.press.outputs.cards.booklet.alike import alike_html
from guidebuild.press.outputs.cards.booklet.ends import Ends, back_html, front_html
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.card import card_html
from guidebuild.press.outputs.cards.first_setting import first_setting
from guidebuild.press.outputs.cards.fitting import CardFitting
from guidebuild.press.outputs.cards.key import KeyWork, key_html
from guidebuild.press.outputs.cards.walk_sheets import SoughtFace
from guidebuild.press.outputs.walks.pack import PackWork, pack_html
from guidebuild.press.paper.drawing import caution_mark
from guidebuild.press.paper.formats import Area, format_named
from guidebuild.press.paper.setup import make_setup
from guidebuild.press.paper.theme import read_theme
from guidebuild.session import open_session
from guidebuild.shipped import on_disk, themes
from guidebuild.speech.script import join_text
from guidebuild.views.booklet.book import booklet_view
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.cards.printed import checklist_view
from guidebuild.views.cards.walk_sheets import spotting_view
from guidebuild.views.outdoors.walk import walk_pack_views
from guidebuild.views.scripts.draft import draft_script
from guidebuild.views.scripts.script import make_script_views
from guidebuild.views.telling.key_sheet import key_sheet

THEME = (on_disk(themes()) / "plate",)
A4 = Area(210, 297)


def read_published(folder: Path) -> Published:
    """The guide of a folder, as its readers may know it."""
    guide = open_session(folder).guide
    assert guide is not None
    return make_published(guide)


def list_scripts(guide: Published) -> Iterator[tuple[str, list[str]]]:
    """Each script's name with its headings and lines; a line is followed by what is to be seen."""
    for account in guide.accounts.values():
        lines = []
        for section in draft_script(guide, account):
            lines.append(f"## {section.heading}")
            lines += [_with_shot(join_text(d.line.pieces), d.line.detail or d.line.shot) for d in section.lines]
        yield f"scripts/{account.id}, draft", lines
    for view in make_script_views(guide):
        if not view.drafted:
            yield f"scripts/{view.id}, own", [line for line in view.markdown.splitlines() if line.strip()]


def _with_shot(said: str, shot: str) -> str:
    return f"{said} [{shot}]" if shot else said


def list_prints(guide: Published) -> Iterator[tuple[str, str]]:
    """Each print's name with its HTML."""
    theme = read_theme(THEME)
    for card in card_views(guide):
        yield f"cards/{card.id}", _card(card)
    sheet = key_sheet(guide)
    if sheet.key.bracketed:
        yield "cards/key", key_html(KeyWork(sheet, A4, THEME))
    yield from _list_booklet(guide)
    for walk in guide.walks.values():
        view = checklist_view(guide, walk)
        shown = {"language": view.language, "caution_mark": caution_mark(view.words.card.caution)}
        values = {"points": 10, "spare": 1, "box": "", "line": "", "rule": "", "words": view.words}
        yield f"cards/{walk.id}, checklist", theme.page("checklist.html", view=view, **shown, **values)
        large = {**values, "words": view.words, **shown}
        yield f"cards/{walk.id}, large print", theme.page("large_print.html", view=view, **large)
        if sheet_view := spotting_view(guide, walk):
            easy, harder = ([SoughtFace(one, Markup(""), 40.0) for one in side] for side in (sheet_view.easy, sheet_view.harder))
            filled = theme.page("spotting.html", view=sheet_view, contrast=False, box="", rule="", easy=easy, harder=harder, **shown)
            yield f"cards/{walk.id}, children's sheet", filled
    for pack in walk_pack_views(guide):
        yield f"walks/{pack.id}, pack", pack_html(PackWork(pack, (210, 297), THEME))


def _list_booklet(guide: Published) -> Iterator[tuple[str, str]]:
    """What a booklet says beyond the words of its cards; all species on one page, as numbers say nothing."""
    view, leaf = booklet_view(guide), Leaf(format_named("booklet"))
    setup, pages = make_setup({}, leaf.format, THEME), dict.fromkeys(guide.accounts, 10)
    ends = Ends(view, setup, leaf, pages, THEME)
    yield "cards/booklet, front", front_html(ends)
    for alike in view.alikes:
        yield f"cards/booklet, {alike.id}", alike_html(alike, setup, leaf, pages, (9.0, True, True))
    yield "cards/booklet, back", back_html(ends)


def _card(card: CardView) -> str:
    fitting = CardFitting(card, make_setup({}, format_named("a6"), THEME))
    return card_html(fitting, first_setting(fitting))[0]
