"""The picture of a sound, as it is published."""

from __future__ import annotations

import io

from PIL import Image, ImageOps


def write_picture(ink: Image.Image) -> bytes:
    """Black on white by the density of the ink, as WebP without anything beside its pixels; the page's style turns it for the night."""
    written = io.BytesIO()
    ImageOps.invert(ink).convert("RGB").save(written, "WEBP", quality=62, method=4)
    return written.getvalue()
