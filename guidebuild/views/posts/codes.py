"""Every finding that posts can give, with its level, why it matters and how to mend it."""

from __future__ import annotations

from guidebuild.guide.findings import Code, Level

POST_TOO_LONG = Code("post-too-long", "Posts keep to the length that is allowed", Level.WARNING,
    "The service would refuse the post.",
    "Raise `characters:` or state the `link cost:` of that text under `posts:` in guide.yaml.")  # fmt: skip
PHOTO_NOT_CUT = Code("photo-not-cut", "Pictures of posts may be cut to shape", Level.NOTE,
    "A picture that may not be cut is shown small, with borders.",
    "Ask its maker, or name another photo first under `photos:`.")  # fmt: skip

POST_OUT_OF_DATE = Code("post-out-of-date", "What was posted is still so", Level.WARNING,
    "Whoever read the post goes on saying what was put right since.",
    "Post the correction, and note it with the command `posted`.")  # fmt: skip

POST_CODES = (POST_TOO_LONG, PHOTO_NOT_CUT, POST_OUT_OF_DATE)
