"""A text as bare letters and figures: what is left when case, accents, signs, spaces and unseen characters are taken off.

Two ways to write the same name have the same letters, however its words are joined. Letters come as UTF-8 bytes, for these are cheap to
make and to search.
"""

from __future__ import annotations

import codecs
import unicodedata

import regex

_UNSEEN = regex.compile(r"(?V1)[^\p{L}\p{N}\p{M}]|[\p{M}&&[\p{Script=Inherited}\p{Script=Hebrew}]]|\u0640")
"""All that is no letter or figure, and what stands above or below letters: accents, vowel points; the long stroke of Arabic. The vowels of
Thai or Tamil are marks too, but say what word it is, and stay."""
_ALIKE = str.maketrans(
    # Cyrillic and Greek letters that look like Latin ones, small capitals, and letters that do not come apart into a letter and an accent.
    "аеорсухіјѕһԁквмнтҽαορνυικτχεβıøłđðħŧɑɡ" + "ᴀʙᴄᴅᴇꜰɢʜɪᴊᴋʟᴍɴᴏᴘʀꜱᴛᴜᴠᴡʏᴢ",
    "aeopcyxijshdkbmhteaopvuiktxebiolddhtag" + "abcdefghijklmnoprstuvwyz",
    "ʼʹ",
) | {ord("æ"): "ae", ord("œ"): "oe", ord("þ"): "th"}
_FOLDED = "guidebuild_letters"
_SMALL = bytes(range(256)).lower()
_SIGNS = bytes(code for code in range(128) if not chr(code).isalnum())
_BORDERED = regex.compile(r"[\p{Latin}\p{Greek}\p{Cyrillic}\p{Armenian}\p{Georgian}\p{Nd}]")


class _Letters(dict[int, str]):
    """The letters of each character, found out when first asked for."""

    def __missing__(self, code: int) -> str:
        small = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", chr(code)).casefold())
        bare = _UNSEEN.sub("", small).translate(_ALIKE)
        if len(bare) > 1 and unicodedata.category(chr(code)).startswith("S"):
            bare = ""  # `™` stands beside a name and is no letter of it, as `Ⓦ` is
        self[code] = "".join(str(figure) if (figure := unicodedata.decimal(sign, None)) is not None else sign for sign in bare)
        return self[code]


_LETTERS = _Letters()


def _fold(error: UnicodeError) -> tuple[bytes, int]:
    """What stands for a run of characters that are not ASCII."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return error.object[error.start : error.end].translate(_LETTERS).encode("utf-8", "ignore"), error.end


codecs.register_error(_FOLDED, _fold)


def letters_of(text: str) -> bytes:
    """The letters and figures of a text."""
    return text.encode("ascii", _FOLDED).translate(_SMALL, _SIGNS)


def placed_letters(text: str) -> tuple[bytes, list[int]]:
    """The letters and figures of a text, and for each byte of them where its character stands in the text."""
    pieces = [letters_of(sign) for sign in text]
    return b"".join(pieces), [place for place, piece in enumerate(pieces) for _ in piece]


def has_borders(sign: str) -> bool:
    """Whether a character is of a script that sets all its words apart; Chinese or Thai do not, Arabic ties small words to long ones."""
    return bool(_BORDERED.match(sign))
