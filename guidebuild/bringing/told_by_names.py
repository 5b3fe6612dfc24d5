"""Which account, life stage and sex the names of a file and of its folders say: `redshank/`, `Tringa totanus 2.jpg`, `nymph 3`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from slugify import slugify

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import names_of
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.reading.sighting_stages import StageReader
from guidebuild.reading.sighting_words import shipped_words

Words = tuple[str, ...]
_SEXES = {"♂": " male ", "♀": " female "}
_OF_CAMERAS = frozenset(
    {
        "img", "imgp", "dsc", "dscf", "dscn", "pxl", "pict", "photo", "picture", "pic", "image", "p", "copy", "edit", "edited",
        "final", "small", "large", "crop", "cropped", "no", "nr", "jpg", "jpeg", "of", "the", "a", "my", "mvimg", "scan",
        "resized",
    }
)  # fmt: skip
"""Words that cameras and picture programs put into names, and that say nothing of what is shown."""
_NUMBER = re.compile(r"[a-z]{0,4}\d[\da-z]*")
_LONGEST_NAME = 6


@dataclass(frozen=True, slots=True)
class Said:
    """What names say of a picture. `likely` is an account that they name among words which may make it another species."""

    account: str = ""
    stage: str = ""
    sex: str = ""
    likely: str = ""
    by: str = ""
    """The name that says so, as it stands on the disk."""


class NameReader:
    """Reads the names of files for one guide."""

    def __init__(self, guide: Guide) -> None:
        """Gather the names that the guide's species have."""
        self._guide = guide
        self._words: SightingWords = guide.sighting_words or shipped_words()
        self._stages = StageReader(guide, self._words)
        self._places = {word for place in guide.places.values() for word in (*_words_of(place.id), *_words_of(place.name))}
        self._accounts: dict[Words, set[str]] = {}
        for account in guide.accounts.values():
            for name in (account.id, *names_of(account)):
                words = _words_of(name)
                for form in (words, (*words[:-1], f"{words[-1]}s")) if words else ():
                    self._accounts.setdefault(form, set()).add(account.id)

    def read(self, names: Sequence[str]) -> Said:
        """What the names say, that of the file before those of its folders."""
        said = next((found for name in names if (found := self._account_in(name))), Said())
        account = self._guide.accounts.get(said.account or said.likely)
        if account is None:
            return said
        for name in names:
            said = self._with_stage(said, account, _words_of(name))
        return said

    def _account_in(self, name: str) -> Said | None:
        """The account of the longest name of a species in a name, unless it may be part of a longer one."""
        words = _words_of(name)
        for length in range(min(len(words), _LONGEST_NAME), 0, -1):
            for start in range(len(words) - length + 1):
                found = self._accounts.get(words[start : start + length])
                if found is None:
                    continue
                account = min(found)
                if len(found) > 1:
                    return Said(likely=account, by=name)
                before, after = words[:start], words[start + length :]
                whole = self._is_idle(account, before) and (self._is_english or self._is_idle(account, after))
                return Said(account=account, by=name) if whole else Said(likely=account, by=name)
        return None

    @property
    def _is_english(self) -> bool:
        """In English, what makes a name that of another species stands before it; elsewhere it may follow."""
        return self._guide.settings.language.partition("-")[0] == "en"

    def _is_idle(self, account: str, words: Words) -> bool:
        """Whether words name no other species: figures, words of cameras, stages, sexes, months and places of the guide."""
        known = self._guide.accounts[account]
        return all(
            _NUMBER.fullmatch(word)
            or word in _OF_CAMERAS
            or word in self._places
            or word in self._words.sexes
            or self._is_stage(known, word)
            for word in words
        )

    def _is_stage(self, account: Account, word: str) -> bool:
        return not self._stages.read(account, word).unknown

    def _with_stage(self, said: Said, account: Account, words: Words) -> Said:
        """The stage and the sex that words say, where nothing nearer has said them."""
        stages = dict.fromkeys(stage for part in _runs(words) if (stage := self._stages.read(account, " ".join(part)).stage))
        sexes = dict.fromkeys(self._words.sexes[word] for word in words if len(word) > 1 and word in self._words.sexes)
        return replace(
            said,
            stage=said.stage or (next(iter(stages)) if len(stages) == 1 else ""),
            sex=said.sex or (next(iter(sexes)) if len(sexes) == 1 else ""),
        )


def _runs(words: Words) -> Iterator[Words]:
    """Every run of one to three words."""
    for length in (1, 2, 3):
        for start in range(len(words) - length + 1):
            yield words[start : start + length]


def _words_of(name: str) -> Words:
    """The words of a name in small Latin letters: `Tringa_totanus-2` is tringa, totanus, 2; `parentBug` is parent, bug."""
    plain = name
    for sign, word in _SEXES.items():
        plain = plain.replace(sign, word)
    parted = re.sub(r"(?<=[a-zß-öø-ÿ])(?=[A-ZÀ-ÖØ-Þ0-9])", " ", plain)
    return tuple(slugify(re.sub(r"['’]", "", parted)).split("-")) if parted.strip() else ()
