"""Every finding that reading sightings can give. Rows that cannot be used are told by number; the rest still counts."""

from __future__ import annotations

from guidebuild.guide.findings import Code, Level

E, W, N = Level.ERROR, Level.WARNING, Level.NOTE
_ISO = "Write the date as 2021-09-14; words for it can stand in verbatimEventDate."

SIGHTING_CODES: tuple[Code, ...] = (
    Code("sightings-not-readable", "Files of sightings are tables", E, "What cannot be read is not counted.",
         "Save the table as CSV in UTF-8."),
    Code("sightings-not-utf8", "Files of sightings are saved as UTF-8", E, "Accents in names and places come out wrong.",
         "Save the table as “CSV UTF-8”."),
    Code("sightings-column-missing", "A table of sightings has a name and a date", E, "A sighting needs what and when.",
         "Name the columns scientificName and eventDate."),
    Code("sightings-column-unknown", "Columns have their Darwin Core names", N, "A column with another name is not read.",
         "Spell the column as Darwin Core does."),
    Code("sighting-cells", "Each row has a cell for each column", W, "Cells may have slipped into the wrong column.",
         "Put cells that hold the separator in quotation marks."),
    Code("sighting-name-unknown", "Names are those of the guide", W, "The row is not counted.",
         "Correct the name, or add it to the synonyms of an account."),
    Code("sighting-name-doubtful", "Names are certain", N, "A doubtful name says nothing of a season.",
         "Nothing to do, unless the name has become certain since."),
    Code("sighting-names-differ", "The scientific and the vernacular name of a row are those of one species", W,
         "Nobody knows which of the two was seen.", "Correct one of the two names."),
    Code("sighting-kingdom", "A row is of its species' kingdom", W, "A plant and an animal may bear one name.",
         "Correct the name or the kingdom, or leave the cell empty."),
    Code("sighting-date", "Dates can be read", E, "The row is not counted.", _ISO),
    Code("sighting-year", "Years have four digits", E, "68 could be 1968 or 2068.", _ISO),
    Code("sighting-day-or-month", "Day and month are told apart", W, "05/06 is read in two ways; the row is not counted.",
         "Write “dates: day first” or “dates: month first” in guide.yaml."),
    Code("sighting-date-order", "Day and month come in one order", E, "Some dates of the file are then read wrongly.", _ISO),
    Code("sighting-date-missing", "Each sighting has a date", W, "The row is not counted.", "Give at least the year."),
    Code("sighting-date-future", "No sighting lies in the future", W, "It is a slip of the pen, or the clock of a device.",
         "Correct the year."),
    Code("sighting-stage", "Life stages are those of the guide", W, "The row counts for the species but for no stage.",
         "Use the stage's word, or leave the cell empty."),
    Code("sighting-place", "Places are those of the guide", N, "The row counts for the region but for no place.",
         "Use the id or name of a place in places.yaml, or add it there."),
    Code("sighting-coordinate", "Coordinates can be read", E, "The position is left out.", "Write decimal degrees, such as 51.1034."),
    Code("sighting-half-position", "A position has two halves", W, "The position is left out.", "Give latitude and longitude, or none."),
    Code("sighting-zero-position", "No position is 0, 0", W, "It lies in the sea and mostly means “not known”.", "Leave both cells empty."),
    Code("sighting-swapped", "Latitude and longitude are in their columns", W, "The position is left out until you have looked.",
         "Swap the two if that is so; nothing is swapped for you."),
    Code("sighting-sign", "Positions have the right sign", W, "West and south are below zero. The position is left out.",
         "Put a minus before it, or take it away."),
    Code("sighting-outside-region", "Positions lie in the region", W, "The position is left out.",
         "Correct the position, or widen “region box” in guide.yaml."),
    Code("sighting-uncertainty", "An uncertainty is above zero", W, "Darwin Core says that 0 is not valid: nothing is known to 0 m.",
         "Leave the cell empty where it is not known; 30 is usual for a satellite receiver."),
    Code("sighting-count", "Counts are whole numbers", W, "The row counts as one sighting.", "Write a whole number; words go to remarks."),
    Code("sighting-duplicate", "No row stands twice", W, "The copy is not counted.", "Delete one of the rows."),
)  # fmt: skip

BY_SIGHTING_CODE = {code.code: code for code in SIGHTING_CODES}
