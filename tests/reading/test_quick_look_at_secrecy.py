"""What a quick look at an account's keys lets pass, the way through all of them lets pass too. All is invented."""

from __future__ import annotations

import random

import pytest

from guidebuild.reading import secrecy_lines
from guidebuild.reading.notes import Notes
from guidebuild.reading.yaml_text import read_block

_LINES = [
    "sensitive: no",
    "sensitive:",
    "sensitive: high",
    "sensitive: {category: high, reason: nesting}",
    "sensitive: {reason: nesting}",
    "sensitive: [high]",
    "\"sensitive\": ''",
    "sensitve: high",
    "Secret: yes",
    "secret = yes",
    "hidden place: yes",
    "? sensitive",
    "name: Testus albus",
    'note: "private: true"',
    "note: a text, sensitive:high",
    "habitat: [marsh, {sensitive: high}]",
    "seasons: {egg: May, hidden: June}",
    "size: &a 4 mm",
    "<<: {sensitive: high}",
    "<<: [{size: 4 mm}, {secret: high}]",
    "status: !!str common",
    "- sensitive: high",
    "similar: {a: {b: {c: sensitive}}}",
    "[sensitive]: high",
    "law: “protected”",
    "prey: |",
]
_PROSE = ["It hides.", "Secret: yes", "sensitive: high", "- hidden: no", "It is private: ask first.", "sensitive"]


def _make_text(chance: random.Random) -> str:
    indents = ("", "", "", "  ", "    ")
    facts = [chance.choice(indents) + line for line in chance.choices(_LINES, k=chance.randint(1, 6))]
    return "\n".join([*facts, "---", *chance.choices(_PROSE, k=chance.randint(0, 2))])


@pytest.mark.parametrize("seed", range(40))
def test_a_quick_look_at_keys_finds_the_same_doubts(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    chance = random.Random(seed)
    texts = [_make_text(chance) for _ in range(100)]
    blocks = [read_block(text.split("\n---")[0], "accounts/a.md", Notes()) for text in texts]
    quick = [secrecy_lines.find_doubts(text, block, "accounts/a.md") for text, block in zip(texts, blocks, strict=True)]
    monkeypatch.setattr(secrecy_lines, "_is_plainly_said", lambda *_: False)
    whole = [secrecy_lines.find_doubts(text, block, "accounts/a.md") for text, block in zip(texts, blocks, strict=True)]
    assert quick == whole
    assert any(whole)
    assert not all(whole)


def test_what_nearly_every_account_says_is_told_at_a_quick_look(monkeypatch: pytest.MonkeyPatch) -> None:
    def walk_through(*_: object) -> None:
        pytest.fail("went through all keys")

    monkeypatch.setattr(secrecy_lines, "_gather_keys", walk_through)
    facts = "name: Testus albus\nseasons: {egg: May}\nsensitive: {category: high, review: 2027-01-01}\n"
    assert secrecy_lines.find_doubts(f"{facts}---\nIt hides.", read_block(facts, "accounts/a.md", Notes()), "accounts/a.md") == ()
