"""Every finding that scripts, captions and recorded takes can give, with its level, why it matters and how to mend it."""

from __future__ import annotations

from guidebuild.guide.findings import Code, Level

E, W, N = Level.ERROR, Level.WARNING, Level.NOTE
_TIMES = "Write times as 00:00:01.000 --> 00:00:03.000."

# Scripts
SCRIPT_MARK = Code(
    "script-mark",
    "Every mark of a script can be read",
    W,
    "A mark that cannot be read is left out, and its pause or picture with it.",
    "Write [pause 2 s], [show PHOTO 4 s] or [say HINT].",
)
OVER_SLOT = Code(
    "episode-over-slot",
    "No script runs longer than its slot",
    W,
    "What is over is cut where nobody chose to cut.",
    "Cut the longest section first.",
)
UNDER_SLOT = Code(
    "episode-under-slot",
    "No script runs shorter than its slot",
    W,
    "The film would end before its time.",
    "Say more where there is more to see.",
)
HARD_TEXT = Code(
    "hard-text",
    "A text reads without much effort",
    N,
    "A walk and an episode are for beginners; what only students read with ease goes past them.",
    "Use shorter sentences and plainer words.",
)
HARD_SENTENCE = Code(
    "hard-sentence",
    "Sentences are short and plain enough to follow",
    N,
    "A listener cannot read a sentence twice, and a beginner should not have to.",
    "Cut it in two, or use plainer words.",
)

# Captions
CAPTION_SPEED = Code(
    "caption-speed",
    "Captions stay long enough to be read",
    W,
    "A caption that is gone too soon is not read.",
    "Show it for longer, or say it in fewer words.",
)
CAPTION_TOO_SHORT = Code(
    "caption-too-short",
    "No caption only flashes up",
    W,
    "The eye does not notice it in time.",
    "Show it for longer, or join it to its neighbour.",
)
CAPTION_TOO_LONG = Code(
    "caption-too-long", "No caption stays until it is read twice", W, "Readers begin again when a caption stays.", "Break it at a clause."
)
CAPTION_LINES = Code("caption-lines", "Captions have few lines", W, "More lines hide the picture.", "Break it into two cues.")
CAPTION_LINE_LENGTH = Code(
    "caption-line-length", "The lines of captions are short", W, "Players break or cut a longer line.", "Break the line at a clause."
)
CAPTION_OVERLAP = Code(
    "caption-overlap", "One caption ends before the next starts", W, "Players show both at once, or only one.", "End the first sooner."
)
CAPTION_GAP = Code(
    "caption-gap", "Captions are told apart by a gap", N, "Without it two captions read as one.", "Leave a little time between them."
)

# Recorded takes and their caption files
CAPTIONS_NOT_UTF8 = Code(
    "captions-not-utf8", "Caption files are saved as UTF-8", W, "Other encodings lose dashes and accents.", "Save it as UTF-8."
)
CAPTIONS_NONE_READ = Code("captions-none-read", "A caption file has captions", E, "Nothing can be timed without them.", _TIMES)
TIMECODE_UNREADABLE = Code(
    "timecode-unreadable", "The times of captions can be read", W, "The caption is left out.", "Write 00:00:01.000 --> 00:00:03.000."
)
TIMECODE_MENDED = Code(
    "timecode-mended", "The times of captions are written as players want them", N, "Some players refuse the file.", _TIMES
)
CAPTION_BACKWARDS = Code("caption-backwards", "Captions end after they start", W, "The caption is left out.", "Put the later time second.")
TAKE_TIMED_FOR_READING = Code(
    "take-timed-for-reading",
    "The captions of a take follow its words",
    W,
    "The rate of speech is learnt from their times.",
    "Give captions with the times of the words themselves.",
)
TAKE_WITHOUT_PUNCTUATION = Code(
    "take-without-punctuation",
    "The captions of a take have punctuation",
    W,
    "Short pauses cannot be told from slow words.",
    "Give its script with it.",
)
TAKE_TOO_SHORT = Code(
    "take-too-short", "A take is long enough to learn a pace from", E, "A few words are slow or quick by chance.", "Give a longer take."
)
FILM_OUT_OF_DATE = Code(
    "film-out-of-date",
    "What a film says is still so",
    W,
    "Whoever sees the film learns what was put right since.",
    "Put the correction below the film, and note it again once it is cut anew.",
)
FILM_NOT_NOTED = Code(
    "film-not-noted",
    "What each film says is noted",
    N,
    "Only then can be told when a fact that it says has changed.",
    "Note it with the command `film`, best on the day it comes out.",
)
TAKE_NOT_OF_SCRIPT = Code(
    "take-not-of-script",
    "A take is a take of the script it is given with",
    W,
    "Its times cannot be laid on other words.",
    "Give the take of this script.",
)
PACE_AT_BOUND = Code(
    "pace-at-bound",
    "The pace learnt from a take is one that people speak at",
    W,
    "Its times and its words disagree.",
    "Check the take's times.",
)

SPEECH_CODES = (
    SCRIPT_MARK, OVER_SLOT, UNDER_SLOT, HARD_TEXT, HARD_SENTENCE,
    CAPTION_SPEED, CAPTION_TOO_SHORT, CAPTION_TOO_LONG, CAPTION_LINES, CAPTION_LINE_LENGTH, CAPTION_OVERLAP, CAPTION_GAP,
    CAPTIONS_NOT_UTF8, CAPTIONS_NONE_READ, TIMECODE_UNREADABLE, TIMECODE_MENDED, CAPTION_BACKWARDS,
    TAKE_TIMED_FOR_READING, TAKE_WITHOUT_PUNCTUATION, TAKE_TOO_SHORT, TAKE_NOT_OF_SCRIPT, PACE_AT_BOUND, FILM_OUT_OF_DATE, FILM_NOT_NOTED,
)  # fmt: skip
