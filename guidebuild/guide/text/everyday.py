"""What nearly every text of a guide looks like: plain words, names between stars, links with their words.

Such a text is understood by a few patterns, many times faster than by the library for Markdown. Whatever else stands in it is for
the library (`reader.py`); tests compare the two.
"""

from __future__ import annotations

import re

from guidebuild.guide.text.typed_signs import MOST_MARKS

# Without any of these signs, and no line that begins as a list, an underline or a rule does, a text is its own words.
_SIGNS = re.compile(r"[*_\[\]<>`#|&\\!~\ue000-\uf8ff\U000f0000-\U0010ffff\x02\x03]")
_SIGNS_OF_LINES = re.compile(r"\n(?:[ \t]*(?:[-+=]|\d+[.)])|[ \t]{4})")  # begins with a plain sign: found many times faster
_LINK = r"\[([^\[\]<>()*_`&\\\n!]*+)\]\(([a-z]++:[\w.-]++|[\w./-]++)\)"
EVERYDAY_LINK = re.compile(_LINK)  # begins with a plain sign: found many times faster
"""A link: its words, then where it leads."""
_LINK_OR_PICTURE = re.compile(rf"(!?){_LINK}")
_NAME = re.compile(r"\*(?<![^\s(]\*)(?=[^\W_])([^*\n]*[^\W_][.!?]?)\*(?![^\s).,;:!?])")


def has_signs(markdown: str) -> bool:
    """Whether anything stands in a text that Markdown could take for a mark. Without any, the text is its own words."""
    if _SIGNS.search(markdown) is not None:
        return True
    may_begin_a_line = "\n" in markdown or markdown[:1] in " \t-+=" or markdown[:1].isdecimal()
    return may_begin_a_line and _SIGNS_OF_LINES.search(f"\n{markdown}") is not None


def read_everyday(markdown: str, picture: str) -> str | None:
    """An everyday text with the words of its links in their places and a sign for each picture; None where it is no such text."""
    if len(markdown) > MOST_MARKS:  # it may have more marks than are read
        return None
    bare = markdown
    if "![" in bare:
        bare = _LINK_OR_PICTURE.sub(lambda match: picture if match[1] else match[2], bare)
    elif "[" in bare:
        bare = EVERYDAY_LINK.sub(r"\1", bare)
    return None if has_signs((drop_stars(bare) if "*" in bare else bare).replace("!", "")) else bare


def drop_stars(text: str) -> str:
    """A text without the stars of its everyday names."""
    return _NAME.sub(r"\1", text)
