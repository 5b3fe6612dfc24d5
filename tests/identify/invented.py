"""Small invented guides for the tests of this room. Nothing here describes a real animal."""

from __future__ import annotations

from collections.abc import Mapping

from guidebuild.guide.accounts import Account, SimilarSpecies, Stated
from guidebuild.guide.characters import Character, CharacterKind, Ease, Known, Score, State
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.measures import Measure, Span
from guidebuild.guide.names import ScientificName
from guidebuild.guide.text.inline import Inline

STAGES = StageSet("bug", "Bugs", (("egg", "egg"), ("nymph", "nymph"), ("adult", "adult")), ("nymph", "adult"))


def states(label: str, *, ease: Ease = Ease.CLOSE_UP, ordered: bool = False, stages: str = "", **words: str) -> Character:
    """A character of states: keyword = id, value = its words."""
    kind = CharacterKind.ORDERED if ordered else CharacterKind.STATES
    made = tuple(State(state, text) for state, text in words.items())
    return Character(label.replace(" ", "-"), label, kind, made, ease=ease, stages=frozenset(stages.split()))


def length(label: str = "body length", *, margin: float = 0.0, unit: str = "mm", ease: Ease = Ease.IN_THE_HAND) -> Character:
    """A measured character."""
    return Character(label.replace(" ", "-"), label, CharacterKind.RANGE, unit=unit, margin=margin, ease=ease)


def measure(low: float | None, high: float | None, *spans: Span, unit: str = "mm", approximate: bool = False) -> Measure:
    """A measure with its overall range as its typed text."""
    typed = "" if spans or low is None or high is None else f"{low:g}–{high:g} {unit}" if unit != "count" else f"{low:g}"
    return Measure(typed, low, high, unit, "", approximate, spans)


def shows(character: Character, value: object, *, stage: str = "", sex: str = "") -> Score:
    """A score: "a b" = either of two states, "a (b)" = rarely b, a Measure, "?" = unknown, "-" = not applicable."""
    scope = {"stages": frozenset(stage.split()), "sexes": frozenset(sex.split())}
    if isinstance(value, Measure):
        return Score(character.id, measure=value, typed=value.typed, **scope)
    text = str(value)
    if text in {"?", "-"}:
        return Score(character.id, Known.UNKNOWN if text == "?" else Known.NOT_APPLICABLE, **scope)
    words = text.split()
    rare = frozenset(w.strip("()") for w in words if w.startswith("("))
    return Score(character.id, states=frozenset(w for w in words if not w.startswith("(")), rarely=rare, **scope)


def account(name: str, *scores: Score, similar: tuple[SimilarSpecies, ...] = (), **more: object) -> Account:
    """An account called by its vernacular name; its id is that name in kebab-case."""
    ident = name.lower().replace(" ", "-")
    taxon = ScientificName(f"Genus {ident}", "Genus", ident)
    listed = Stated(similar, said=True)
    return Account(ident, taxon, name, At(f"accounts/{ident}.md", 1), scores=scores, similar=listed, **more)  # type: ignore[arg-type]


def like(other: str, *tell_by: str, note: str = "") -> SimilarSpecies:
    """An entry under `similar`, at line 9."""
    return SimilarSpecies(other, tell_by, Inline(note), At("accounts/x.md", 9))


def guide(characters: tuple[Character, ...], *accounts: Account, **settings: object) -> Guide:
    """A guide of these."""
    return Guide(
        Settings("Invented", group="bug", **settings),  # type: ignore[arg-type]
        accounts={a.id: a for a in accounts},
        characters={c.id: c for c in characters},
        stage_sets={"bug": STAGES},
    )


def table(rows: Mapping[str, str]) -> Guide:
    """A guide from rows of one letter a character: `{"one": "ab?"}`; states a–h."""
    width = len(next(iter(rows.values())))
    made = tuple(states(f"c{n}", **{letter: letter for letter in "abcdefgh"}) for n in range(width))
    taxa = [account(name, *(shows(c, v) for c, v in zip(made, row, strict=True))) for name, row in rows.items()]
    return guide(made, *taxa)
