"""Every kind of trouble that publishing can tell of, with its level, why it matters and what mends it.

An error means that something asked for was not made; all else was made, perhaps not as well as it could be.
"""

from __future__ import annotations

from guidebuild.guide.findings import Code, Level

E, W, N = Level.ERROR, Level.WARNING, Level.NOTE
_ANEW = "Copy it again from the camera or card, or save it anew as JPEG."
_THEME = "Put the file into the theme, or correct its address there."

PROBLEM_CODES: tuple[Code, ...] = (
    # The run
    Code("failed", "Everything asked for can be made", E, "A page, card or file is missing.", "Mend what the message names and run again."),
    Code("leak", "Nothing published gives a secret away", E, "What is kept secret would be known to all: nothing at all is published.",
         "Take the words, place or picture out of the file named, or out of what it is made from."),
    Code("no-typesetter", "This machine can set type", E, "Cards, slides, scripts on paper and packs are missing; all else is made.",
         "Install Pango as the message says, and make again."),
    Code("name", "Every published file has a name that can be used", E, "One file would overwrite another.", "Rename one of the two."),
    Code("store", "What was made can be kept for the next run", W, "The next run makes everything anew.", "Make room on the disk."),
    Code("stays", "What is no longer made is taken away", W, "Readers still find what its author took out.",
         "Mend the errors and run again, or take it away with `guidebuild make --anyway`."),
    Code("theme", "The theme can be used", E, "Pages and cards cannot be laid out without it.", "Correct the theme."),
    Code("theme-scripts", "Scripts of the guide's own theme are trusted", W, "They would run in the browser of every reader.",
         "Look through the theme; if you know what its scripts do, write `guidebuild make --trust-theme` once."),
    Code("layout", "Pages and cards are laid out without complaint", E, "Something may look other than it should.",
         "Correct the template or style of the theme that is named."),
    # What stands on the web
    Code("online-missing", "Every file of the site stands where it is read", E, "Readers meet a gap.", "Put the file there."),
    Code("online-other", "What stands there is what was made here", E, "Readers are told something else than the guide says.",
         "Put the file there again; if it stays so, the host keeps an old copy."),
    Code("online-type", "Files are sent as what they are", E, "A browser shows text in the place of a calendar, or nothing at all.",
         "Tell the host the type; `guidebuild make site --to FOLDER` writes how."),
    Code("online-absent", "What is not there is answered with 404", E, "Search engines keep pages that are gone.",
         "Let the host answer 404 with 404.html."),
    Code("online-moved", "The address leads to the site itself", E, "Codes and links take a way round that may end.",
         "Write as `address:` where the site stands."),
    Code("online-more", "The folder holds the site alone", W, "What is no guide's page may be old.", "Take away what is not yours."),
    # Data
    Code("rows-left-out", "Every row of sightings can be handed on", W, "Others cannot use what is left out.",
         "A row needs a licence that allows it (`license`), and a name where that asks for one (`rightsHolder`); secrets stay out."),
    # Photos
    Code("not-readable", "Photo files can be opened", E, "The photo is shown nowhere.", "Check the file's permissions."),
    Code("missing", "Photo files are there", E, "The photo is shown nowhere.", "Check the name, capitals included."),
    Code("too-large", "No photo is too large to be read", E, "It would take all the memory.", "Save a smaller copy."),
    Code("damaged", "Photo files are whole", E, "The photo is shown nowhere.", _ANEW),
    Code("cut-short", "Photo files are complete", E, "Part of the picture is gone.", _ANEW),
    Code("heic", "HEIC photos can be decoded", E, "The photo is shown nowhere.", "Export it as JPEG."),
    Code("not-a-photo", "Files entered as photos are photos", E, "The photo is shown nowhere.", "Export it as JPEG or PNG."),
    Code("crop", "Pictures keep what they show when they are cut to shape", W, "The cut may go through it.",
         "Say what to keep with `focus:`, as percent across and down."),
    # Recordings and films
    Code("media-missing", "Files of recordings and films are there", E, "It can be played nowhere.", "Check the name, capitals included."),
    Code("media-damaged", "Files of recordings and films are whole", E, "What it carries unseen cannot be taken off: it is not published.",
         "Copy it again from the recorder or camera."),
    Code("media-refused", "Recordings and films are of a kind that browsers play", E, "Many readers would hear and see nothing.",
         "Export it as MP3, WAV, FLAC, Ogg or M4A; a film as MP4 or WebM."),
    Code("media-not-cleaned", "All that tells is taken off recordings and films", E, "Readers could learn where and when it was made.",
         "Export it again without remarks."),
    Code("media-too-large", "Recordings and films are not too large", E, "Nobody outdoors could load it.", "Export it smaller or shorter."),
    Code("media-position", "Recordings and films do not say where they were made", N,
         "It is taken off whatever is published; but whoever is given the file itself can read it.", "Export it without its position."),
    Code("sound-not-drawn", "Sounds are drawn as sonograms", N, "Readers see less of what they hear.",
         "Install what draws them with pip install 'guidebuild[sound]', and save sounds as WAV, FLAC, MP3 or Ogg."),
    # Cards and other print
    Code("few-pixels", "Printed pictures have pixels enough", W, "The print looks soft.", "Give a larger original."),
    Code("short-bleed", "Pages for a print shop have bleed enough", W, "Where the knife is off by a hair, a white edge shows.",
         "Write `bleed: 3 mm`, or what your shop asks for."),
    Code("too-much-ink", "Pictures take no more ink than the press bears", W, "Ink dries slowly, and comes off on the next sheet.",
         "Lighten the darkest parts, or ask the print shop to reduce the ink."),
    Code("near-trim", "Type for a print shop stands clear of the edge that is cut", W, "A knife that is off by a hair goes through it.",
         "Give the pages of the guide's theme a margin of 3 mm or more."),
    Code("left-out", "Everything said fits on the card", W, "Readers of the card do without it.", "Shorten the account's texts."),
    Code("nothing-to-find", "A walk has something that children may look for", N, "It has no children's sheet.",
         "Enter a photo of something harmless that is out then, or leave the sheet out of prints."),
    Code("too-long", "What must stand on a card fits on it", E, "The card would print over its edge.", "Shorten the texts that are named."),
    Code("too-wide", "No word is wider than its card", E, "The word would print over the edge.", "Shorten the word."),
    Code("short-page", "The last page of every print is a third full or more", N, "It looks forgotten, and costs a sheet.",
         "Say a little less, so that the page is not needed, or a little more."),
    Code("no-room", "The format has room on its paper", E, "Nothing can be printed.", "Choose a larger `paper:` in guide.yaml."),
    Code("no-booklet", "Every card of the booklet can be made", E, "A booklet with a gap is not printed.", "Mend the cards named."),
    Code("unknown-format", "Formats and papers are known", E, "Nothing can be printed on a paper of no size.",
         "Use a format or paper of the list, or add it to guide.yaml."),
    Code("print-profile", "The print shop's colour profile can be used", E, "The file for the print shop cannot be made.",
         "Correct `prints:` in guide.yaml."),
    Code("missing-sign", "The typefaces have every sign that is used", E, "An empty box is printed in its place.",
         "Write it in words, or add a font that has it to the theme."),
    Code("missing-font", "The theme's typefaces can be loaded", E, "Another typeface is used.", _THEME),
    Code("missing-image", "The theme's pictures can be loaded", E, "A gap is printed in its place.", _THEME),
    Code("missing-stylesheet", "The theme's styles can be loaded", E, "The page is laid out without them.", _THEME),
    Code("missing-attachment", "Files to attach can be loaded", E, "The PDF goes without them.", _THEME),
    # Scripts
    Code("drafts-off-slot", "Drafted scripts fit their slots", W, "The film would be too short or too long.",
         "Say more in the accounts, or write the episode yourself."),
)  # fmt: skip
