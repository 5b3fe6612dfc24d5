"""One page of the site: view and pictures → bytes of HTML."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from html import escape
from pathlib import Path
from typing import Any

from guidebuild.guide.ids import make_id
from guidebuild.press.engine.made import Made
from guidebuild.press.media.drawn_sound import DrawnSound
from guidebuild.press.outputs.site.closer import tell_beside, tell_picture
from guidebuild.press.outputs.site.cuts import state_picture_html
from guidebuild.press.outputs.site.plate import Pictures, PlateDrawing, bar_path, draw_plate, find_poster, picture_html, small_picture_html
from guidebuild.press.outputs.site.sharing import NO_FILES, sharing_html
from guidebuild.press.outputs.site.side_plates import draw_side_by_side
from guidebuild.press.outputs.site.sounds_on_page import NO_SOUNDS, DrawnSounds, describe_sound
from guidebuild.press.outputs.site.spool import PagePlace
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.prose import Html, inline_html, prose_html
from guidebuild.press.theme.sandbox import make_environment
from guidebuild.press.theme.trust import POLICY
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.credits import CreditPart
from guidebuild.views.site.page import PIECE, PageView, PiecePages, PlainPiece
from guidebuild.words import Words, words

SCRIPT_WORDS = (
    *("Close", "Larger", "Smaller", "Before", "Next", "Pointers", "Beside …", "Beside its look-alike", "How much of each is seen"),
    "Not at one scale: one of the two is not measured.",
    *("Kept for the field", "Getting it …", "Not enough room on this device."),
    "What you keep for the field has been brought up to date.",
)
"""Words that the script of every page needs, in the reader's language."""

PIECE_ROOT = "%root%"
"""Stands in pieces for the way to the site's root, which only the page knows that shows them."""

_FILTERS = (("as_id", make_id),)


@dataclass(frozen=True, slots=True)
class PageWork:
    """What rendering one page needs."""

    place: PagePlace
    pictures: tuple[tuple[str, PictureSet], ...]
    theme_folders: tuple[Path, ...]
    sizes: tuple[tuple[str, int], ...] = ()
    """Files that the page offers, by their paths from the site's root, with their bytes."""
    sounds: tuple[tuple[str, DrawnSound], ...] = ()
    """Sounds that play on it, by their ids."""


def make_page(work: PageWork) -> Made:
    """One page's bytes."""
    page = render_page(work.place.page(), dict(work.pictures), work.theme_folders, dict(work.sizes), dict(work.sounds))
    return Made((page,))


def render_page(
    page: PageView,
    pictures: Pictures,
    theme_folders: tuple[Path, ...],
    sizes: Mapping[str, int] = NO_FILES,
    sounds: DrawnSounds = NO_SOUNDS,
) -> bytes:
    """The HTML of one page, UTF-8. `sizes` are the bytes of files that it offers, by their paths, `sounds` those that play on it.

    `theme_folders` are searched in order for templates: the guide's own `theme/` first, then the shipped theme. Any template
    of the site's may be replaced there by one of the same name.
    """
    fill_in = partial(_fill_in, pictures=pictures, theme_folders=theme_folders, sizes=sizes, sounds=sounds)
    if isinstance(page.data, PlainPiece):
        return _wrap_piece(page.path, page.data.json)
    if isinstance(page.data, PiecePages):
        return _wrap_piece(page.path, _write_json({name: find_main(fill_in(one)) for name, one in page.data.pages}))
    html = fill_in(page)
    return _wrap_piece(page.path, _write_json(html)) if page.kind == PIECE else html.encode()


def _fill_in(page: PageView, pictures: Pictures, theme_folders: tuple[Path, ...], sizes: Mapping[str, int], sounds: DrawnSounds) -> str:
    template = make_environment(theme_folders, _FILTERS).get_template(f"site/{page.template}")
    return str(template.render(_context(page, pictures, sizes, sounds)))


def find_main(html: str) -> str:
    """What stands in the main part of a page."""
    return html.partition("<main")[2].partition(">")[2].rpartition("</main>")[0].strip()


def _wrap_piece(path: str, value: str) -> bytes:
    """A piece as a script that hands it to the page which asked for it: pages from disk may fetch nothing else."""
    return f"guidePiece({_write_json(path)},{value})\n".encode()


def _write_json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def _context(page: PageView, pictures: Pictures, sizes: Mapping[str, int], sounds: DrawnSounds) -> dict[str, Any]:
    w = words(page.language)
    root = PIECE_ROOT if page.kind == PIECE else page.root
    draw = _prose_picture(pictures, root, "" if page.language == page.site.main else page.language)
    return {
        "page": page,
        "site": page.site,
        "root": root,
        "policy": POLICY,
        "_": w,
        "count": w.count,
        "script_words": _script_words(w),
        "rest": Html(f'<link rel="stylesheet" href="{root}assets/guide.css">'),
        "sharing": sharing_html(page, pictures, sizes, sounds.keys()),
        "prose": lambda view: prose_html(view, root=root, draw=draw),
        "inline": lambda view: inline_html(view, root=root),
        "picture": lambda photo, sizes, first: picture_html(photo, pictures, root=root, sizes=sizes, first=first),
        "small_picture": lambda photo: small_picture_html(photo, pictures, root=root),
        "state_picture": lambda shown: state_picture_html(shown, pictures, root=root),
        "plate_of": _plates(pictures),
        "poster_of": lambda photo: find_poster(photo, pictures),
        "look_at": tell_picture(pictures, root),
        "beside": tell_beside(pictures, root),
        "draw_side": draw_side_by_side(pictures, root),
        "bar_path": bar_path,
        "drawn_of": lambda sound: describe_sound(sound, sounds, w),
        "size_of": lambda path: w.size(sizes[path]) if path in sizes else "",
        # Facts stay in the language that the guide is written in.
        "own": Html("" if page.language == page.site.main else f' lang="{escape(page.site.main)}"'),
        "theirs": Html("" if page.language == page.site.main else f' lang="{escape(page.language)}"'),
        "in_language": lambda language: Html(f' lang="{escape(language)}"' if language and language != page.language else ""),
        "as_data": lambda text: Html(text.replace("<", "\\u003c")),
    }


def _plates(pictures: Pictures) -> Callable[[PhotoView], PlateDrawing | None]:
    return lambda photo: draw_plate(photo, pictures)


def _prose_picture(pictures: Pictures, root: str, language: str) -> Callable[[PhotoView, bool], str]:
    # It may stand in a text that is in the guide's language.
    in_language, look_at = f' lang="{escape(language)}"' if language else "", tell_picture(pictures, root)

    def draw(photo: PhotoView, alone: bool) -> str:
        picture = picture_html(photo, pictures, root=root, sizes="(min-width: 64em) 34rem, 94vw", first=False).text
        if not alone or not picture:
            return picture
        said = " · ".join(_credit_part(part, photo.language) for part in photo.attribution.parts)
        credit = f'<figcaption{in_language}><span class="credit">{said}</span></figcaption>' if said else ""
        copies = pictures[photo.id]
        opens = f'<a class="enlarge" href="{root}{copies.largest.path}">{picture}</a>'
        return f'<figure class="plate"{look_at(photo)}><div class="frame">{opens}</div>{credit}</figure>'

    return draw


def _credit_part(part: CreditPart, language: str) -> str:
    if part.is_title and language:
        return f'<span lang="{escape(language)}">{escape(part.words)}</span>'
    if not part.address:
        return escape(part.words)
    rel = ' rel="license"' if part.is_licence else ""
    return f'<a href="{escape(part.address)}"{rel}>{escape(part.words)}</a>'


def _script_words(w: Words) -> str:
    return json.dumps({word: w(word) for word in SCRIPT_WORDS}, ensure_ascii=False) if w.language != "en" else "{}"
