"""Translations laid beside their account: by the words they translate, or by their order as long as the account stays as it was."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches

from guidebuild.counting import count_of
from guidebuild.guide.accounts import Account, Translation
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.reading.notes import Notes

_DIGITS = 6


def with_translations(account: Account, translations: Sequence[Translation], notes: Notes) -> Account:
    """The account with its translations; marks and notes on the law that do not pair up are a finding."""
    tied = [_tie_order(account, translation, notes) for translation in translations]
    tied = [translation if not translation.marks_of else _tie_marks(account, translation, notes) for translation in tied]
    return replace(account, translations=tuple(sorted(tied, key=lambda t: t.language)))


def digest_order(account: Account, translation: Translation) -> str:
    """A short digest of what the account says where a translation counts by its order; it changes with any word and with the order."""
    listed = (
        [mark.mark for mark in account.diagnostics] if _lists_marks(translation) else [],
        [note.text for note in account.law] if translation.law else [],
    )
    told = "\n\n".join("\n".join(_plain(text.words) for text in texts) for texts in listed)
    return hashlib.sha256(told.encode()).hexdigest()[:_DIGITS]


def _lists_marks(translation: Translation) -> bool:
    return bool(translation.marks) and not translation.marks_of


def _tie_order(account: Account, translation: Translation, notes: Notes) -> Translation:
    """The translation with its lists, where they are as long as the account's and what they translate is still so."""
    by_order = _lists_marks(translation)
    if not by_order and not translation.law:
        return translation
    if _tells_lengths(account, translation, notes):
        return translation
    digest, places = digest_order(account, translation), translation.positions
    if translation.compared_with == digest:
        return translation
    what = " and ".join([*(["field marks"] if by_order else []), *(["notes on the law"] if translation.law else [])])
    mend = f"Compare each line with the account, then write `compared with: {digest}`"
    if not translation.compared_with:
        told = f"The {what} are translated by their order, so nobody is told once the account's are swapped or changed."
        instead = "; or put the account's words and a colon in front of each mark." if by_order else "."
        at = places.get("marks" if by_order else "law", translation.at)
        notes.add("translation-untied", told, at, mend=f"{mend}{instead}", account=account.id)
        return translation
    told = f"The account's {what} were swapped or changed since they were translated: they are told in the guide's language."
    notes.add("translation-stale", told, places.get("compared with", translation.at), mend=f"{mend}.", account=account.id)
    return replace(translation, marks=() if by_order else translation.marks, law=())


def _tells_lengths(account: Account, translation: Translation, notes: Notes) -> bool:
    """Whether lists are longer or shorter than the account's, which is told."""
    marks = translation.marks if _lists_marks(translation) else ()
    lists: tuple[tuple[Sequence[Inline], int, str, str], ...] = (
        (marks, len(account.diagnostics), "mark is", "marks are"),
        (translation.law, len(account.law), "note on the law is", "notes on the law are"),
    )
    wrong = [(texts, there, one, many) for texts, there, one, many in lists if texts and len(texts) != there]
    for texts, there, one, many in wrong:
        words = f"{count_of(len(texts), one, many)} translated, and the account has {there}."
        notes.add("translation-length", words, translation.at, account=account.id)
    return bool(wrong)


def _tie_marks(account: Account, translation: Translation, notes: Notes) -> Translation:
    """The translation with a text for each mark of the account that it translates in its present words; what does not fit is a finding."""
    texts = {_plain(words): text for words, text in zip(translation.marks_of, translation.marks, strict=True)}
    present = {_plain(mark.mark.text): mark.mark.text for mark in account.diagnostics}
    places = translation.positions
    untold = [words for plain, words in present.items() if plain not in texts]
    for words, text in zip(translation.marks_of, translation.marks, strict=True):
        if _plain(words) not in present:
            near = get_close_matches(words, untold, n=1) or (untold if len(untold) == 1 else [])
            untold = [other for other in untold if other not in near]
            mend = f"If it is “{near[0]}” now, look at the words behind it and write that in front of them." if near else "Take it out."
            notes.add("translation-stale", f"“{words}” is no mark of the account any more.", text.at, mend=mend, account=account.id)
    for words in untold:
        told = f"The mark “{words}” is not translated: it is told in the guide's language."
        notes.add("translation-stale", told, places.get("marks", translation.at), account=account.id)
    marks = tuple(texts.get(_plain(mark.mark.text), NO_TEXT) for mark in account.diagnostics)
    return replace(translation, marks=marks, marks_of=())


def _plain(words: str) -> str:
    """Words as they are compared: line ends and spaces count alike."""
    return " ".join(words.split())
