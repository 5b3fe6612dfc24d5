"""Names of months do not run from one language into another."""

from babel import Locale

from guidebuild.guide.months import month_names


def test_names_of_one_language_stay_out_of_another() -> None:
    for language, may in {"ja": "5月", "zh": "五月", "es": "mayo", "nb": "mai", "ru": "май", "pl": "maj"}.items():
        assert month_names(Locale.parse(language))[5] == may


def test_beside_a_day_a_month_may_be_inflected() -> None:
    assert month_names(Locale.parse("ru"), "wide", "format")[5] == "мая"
    assert month_names(Locale.parse("es"), "narrow")[5] == "M"
