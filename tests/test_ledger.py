"""The thirty-one troubles that people of this trade meet, and the tests that hold each of them mended."""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent
LEDGER: dict[str, tuple[str, ...]] = {
    "A01 words that turn into true and false": ("reading/test_values.py",),
    "A02 clock times that turn into numbers": ("reading/cases/time-as-a-bare-number.txt", "reading/test_values.py::test_lengths_of_time"),
    "A03 the same key twice": ("reading/cases/key-twice.txt", "reading/cases/merge-keys-from-a-plain-mapping-work.txt"),
    "A04 spaces, colons and quotes": (
        "reading/cases/no-break-spaces-indent.txt",
        "reading/cases/tab-indents.txt",
        "reading/cases/colon-in-a-text.txt",
        "reading/cases/curly-quotes-round-a-value.txt",
    ),
    "A05 byte order mark, CRLF, blank line": ("reading/cases/mark-and-crlf-are-fine.txt", "reading/cases/blank-line-first-is-fine.txt"),
    "A06 Windows-1252": ("reading/cases/saved-as-windows-1252.txt",),
    "A07 accents composed two ways, spaces": (
        "reading/cases/accents-composed-two-ways-are-one-name.txt",
        "reading/cases/two-files-that-differ-in-composition.txt",
        "reading/cases/photo-with-spaces-is-found.txt",
    ),
    "A08 hybrid sign": ("guide/test_name_text.py::test_hybrid_signs_however_typed_are_one_name",),
    "A09 authority, italics, ranks": (
        "guide/test_name_text.py::test_only_the_name_itself_is_italic",
        "reading/cases/space-before-the-closing-star.txt",
    ),
    "A10 renamed species": ("checks/test_rules.py", "views/site/test_site_views.py", "guide/test_name_text.py"),
    "A11 ranges as people type them": ("guide/test_measure_text.py::test_lengths_are_read_in_millimetres",),
    "A12 a season over New Year": ("guide/test_season_text.py::test_a_season_over_new_year_is_listed_in_january_and_not_in_june",),
    "A13 spring in the other half of the world": (
        "guide/test_season_text.py::test_months_are_never_shifted_by_the_hemisphere",
        "guide/test_season_text.py::test_a_season_word_without_hemisphere_asks_for_months",
    ),
    "A14 portraits that come out sideways": ("press/photos/test_picture_privacy.py::test_a_turned_photo_stands_upright_in_every_format",),
    "A15 places in photos": (
        "press/photos/test_picture_privacy.py::test_no_place_comment_or_preview_leaves_the_original",
        "test_published_sample.py::test_no_published_picture_holds_exif_or_a_position",
    ),
    "A16 colours": (
        "press/photos/test_picture_colours.py::test_print_green_stays_green",
        "press/photos/test_picture_colours.py::test_sixteen_bit_ramp_keeps_its_levels",
        "press/photos/test_picture_colours.py::test_wide_gamut_colour_is_converted",
        "press/photos/test_picture_colours.py::test_transparent_corner_shows_the_paper",
    ),
    "A17 damaged and mislabelled photos": (
        "press/photos/test_picture_files.py::test_half_a_photo_is_an_error_and_makes_nothing",
        "press/photos/test_picture_files.py::test_heic_that_cannot_be_decoded_says_how_to_export",
        "press/photos/test_picture_files.py::test_first_picture_of_a_two_picture_jpeg_is_used",
    ),
    "A18 crops that cut the animal": ("press/photos/test_picture_copies.py::test_every_crop_keeps_the_focus_and_has_the_exact_shape",),
    "A19 alt text and credits": ("checks/test_rules.py", "outside/test_pdf_ua.py"),
    "A20 lists, tables, footnotes, HTML": (
        "press/theme/test_prose.py::test_lists_have_two_levels_however_they_are_indented",
        "press/theme/test_prose.py::test_row_with_too_many_cells_loses_no_words",
        "reading/cases/table-row-with-too-many-cells.txt",
    ),
    "A21 measurements swallowed by Markdown": ("press/theme/test_prose.py", "reading/cases/measurements-with-marks-are-fine.txt"),
    "A22 text lost in a card": ("press/outputs/cards/test_cards.py::test_a_long_unbroken_name_is_broken_not_clipped",),
    "A23 missing glyphs": ("press/outputs/cards/test_cards.py::test_a_missing_sign_names_species_field_and_character",),
    "A24 backs, scaling, bleed": (
        "press/paper/test_imposition.py::test_backs_of_a_long_edge_flip_are_mirrored_in_each_row",
        "press/paper/test_imposition.py::test_backs_of_a_short_edge_flip_swap_rows_and_stand_on_their_head",
        "press/paper/test_sheets.py::test_viewers_are_asked_not_to_scale_and_how_to_flip",
        "press/paper/test_sheets.py::test_the_fifty_millimetre_rule_measures_fifty",
    ),
    "A25 camera-size photos": ("press/photos/test_picture_copies.py::test_large_photo_is_embedded_small_and_once",),
    "A26 time codes": ("speech/test_caption_files.py",),
    "A27 reading speed and spoken length": ("speech/test_spoken.py", "speech/test_cues.py"),
    "A28 day and month order": ("reading/test_sightings.py::test_a_file_with_both_orders_is_an_error",),
    "A29 coordinates as typed": ("reading/test_sightings_positions.py::test_a_latitude_is_read",),
    "A30 overlapping measurements in a key": (
        "identify/test_key.py::test_overlapping_lengths_are_never_split_and_the_overlap_is_reported",
    ),
    "A31 phone, sun, no signal": (
        "press/outputs/site/test_site_files.py::test_contrast_is_computed_as_published",
        "browser/test_site_in_browser.py::test_page_works_from_disk_and_asks_nobody_else",
        "browser/test_site_in_browser.py::test_account_page_keeps_its_weight",
    ),
}


def test_all_thirty_one_are_here() -> None:
    assert [case.split()[0] for case in LEDGER] == [f"A{n:02}" for n in range(1, 32)]


@pytest.mark.parametrize("case", LEDGER)
def test_a_trouble_is_held_by_tests_that_exist(case: str) -> None:
    for entry in LEDGER[case]:
        file, _, function = entry.partition("::")
        path = HERE / file
        assert path.is_file(), entry
        if function:
            assert f"def {function}(" in path.read_text(encoding="utf-8"), entry
