"""Every unit, in every place that reckons with it: what an author writes is what key, finder and comparison say."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from guidebuild.guide.guide import Guide
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import WORTH, Measure, kind_of_unit
from guidebuild.identify.finder import finder_table
from guidebuild.identify.key import make_key
from guidebuild.identify.readings import EVERYWHERE, reading_in, scores_by_character, value_words
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files

UNITS = tuple(unit for unit in WORTH if unit not in {"dm", "km", "t"})


def written(folder: Path, unit: str, **lengths: str) -> Guide:
    """A guide of species told apart by one measurement."""
    files = {
        "guide.yaml": "title: T\nregion: R\nlicence: CC-BY-4.0\ngroup: bird\n",
        "characters.yaml": f"reach:\n  label: reach\n  kind: range\n  unit: {unit}\n",
    }
    files |= {f"accounts/{name}.md": f"---\nname: Aus {name}\ncharacters:\n  reach: {typed}\n---\n" for name, typed in lengths.items()}
    guide = read_guide(write_files(folder, files)).guide
    assert guide is not None
    return guide


def in_canonical(words: str, unit: str) -> tuple[float | None, float | None]:
    """A lead read back as a measurement, in mm, g or the count."""
    said = f"at least {words.removesuffix(' or more')}" if "or more" in words else words.replace("fewer than", "under")
    read = parse_measure(said, unit_kind=kind_of_unit(unit))
    assert isinstance(read, Measure), words
    return read.low, read.high


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(unit=st.sampled_from(UNITS), data=st.data(), low=st.integers(1, 90), gap=st.integers(2, 40))
def test_every_lead_of_the_key_is_true_of_the_species_it_leads_to(
    tmp_path_factory: pytest.TempPathFactory, unit: str, data: st.DataObject, low: int, gap: int
) -> None:
    typed_in = data.draw(st.sampled_from([u for u in UNITS if kind_of_unit(u) == kind_of_unit(unit)]))
    ranges = {"parva": (low, low + 1), "magna": (low + 1 + gap, low + 3 + gap)}
    tail = "" if unit == "count" else f" {typed_in}"
    guide = written(tmp_path_factory.mktemp("g"), unit, **{name: f"{a}–{b}{tail}" for name, (a, b) in ranges.items()})
    key = make_key(guide)
    worth = 1.0 if unit == "count" else WORTH[typed_in]
    leads = {lead.taxa[0]: lead.words for couplet in key.couplets for lead in couplet.leads}
    for name, (a, b) in ranges.items():
        least, most = in_canonical(leads[name], unit)
        assert least is None or a * worth >= least * (1 - 1e-5), (leads, unit, typed_in)
        assert most is None or b * worth <= most * (1 + 1e-5), (leads, unit, typed_in)


@pytest.mark.parametrize(
    ("unit", "small", "large", "said"),
    [
        ("cm", "30–34 cm", "38–42 cm", "under 36\N{NO-BREAK SPACE}cm"),
        ("cm", "300–340 mm", "0.38–0.42 m", "under 36\N{NO-BREAK SPACE}cm"),
        ("m", "2–3 m", "500–600 cm", "under 4\N{NO-BREAK SPACE}m"),
        ("in", "3–4 in", "8–9 in", "under 6\N{NO-BREAK SPACE}in"),
        ("kg", "1–2 kg", "4000–5000 g", "under 3\N{NO-BREAK SPACE}kg"),
        ("centimetres", "30–34 cm", "38–42 cm", "under 36\N{NO-BREAK SPACE}cm"),
        ("count", "3–4", "8–9", "fewer than 6"),
    ],
)
def test_the_key_asks_in_the_unit_of_the_character(tmp_path: Path, unit: str, small: str, large: str, said: str) -> None:
    guide = written(tmp_path, unit, parva=small, magna=large)
    words = {lead.words for couplet in make_key(guide).couplets for lead in couplet.leads}
    assert said in words


def test_finder_and_comparison_speak_in_the_unit_of_the_character(tmp_path: Path) -> None:
    guide = written(tmp_path, "cm", parva="30–34 cm", magna="380–420 mm", media="c. 36 cm")
    table = finder_table(guide)
    assert all("cm" in words and "0 cm" not in words.replace("40 cm", "") for c in table.characters for words in c.states), table.characters
    character = guide.characters["reach"]
    readings = {name: reading_in(scores_by_character(guide.accounts[name])[character.id], EVERYWHERE) for name in ("parva", "magna")}
    assert readings["magna"] is not None and (readings["magna"].low, readings["magna"].high) == (38, 42)
    assert readings["parva"] is not None and value_words(character, readings["parva"]) == "30–34 cm"


def test_a_size_that_says_what_was_measured_scores_that_character(tmp_path: Path) -> None:
    files = {
        "guide.yaml": "title: T\nregion: R\n",
        "characters.yaml": "wingspan:\n  label: wingspan\n  kind: range\n  unit: cm\n  margin: 5 mm\n",
        "accounts/a.md": "---\nname: Aus bus\nsize: 45–50 mm wingspan\n---\n",
        "accounts/b.md": "---\nname: Aus cus\nsize: 45–50 mm\n---\n",
    }
    guide = read_guide(write_files(tmp_path, files)).guide
    assert guide is not None
    (score,) = guide.accounts["a"].scores
    assert score.measure is not None
    assert (score.measure.low, score.measure.high, score.measure.unit, score.typed) == (4.5, 5, "cm", "45–50 mm wingspan")
    assert guide.accounts["b"].scores == ()
    assert guide.characters["wingspan"].margin == 0.5


@pytest.mark.parametrize(
    ("unit", "margin", "told"),
    [
        ("furlong", "", "'furlong' is not a unit."),
        ("mm", "2 g", "The margin '2 g' is not in the kind of unit"),
    ],
)
def test_a_unit_that_cannot_be_is_told(tmp_path: Path, unit: str, margin: str, told: str) -> None:
    text = f"reach:\n  label: reach\n  kind: range\n  unit: {unit}\n" + (f"  margin: {margin}\n" if margin else "")
    findings = read_guide(write_files(tmp_path, {"guide.yaml": "title: T\nregion: R\n", "characters.yaml": text})).findings
    assert any(told in finding.message and finding.at.file == "characters.yaml" for finding in findings), findings
