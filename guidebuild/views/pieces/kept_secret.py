"""Prose that must not be said: sentences that name where a sensitive species lives, or a place that is kept secret."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.fieldwork.secrecy import places_told
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.views.pieces.common import PhotoView


def tells_where(guide: Guide, account: Account, text: str) -> bool:
    """Whether a text names a place that may not be named with this account."""
    return bool(places_told(guide, account, text))


def without_places(guide: Guide, account: Account, photo: PhotoView) -> PhotoView:
    """A picture as it may be shown with an account: words beside it that would name its place give way to the account's name."""
    caption = "" if tells_where(guide, account, photo.caption) else photo.caption
    alt = (account.vernacular or account.name.plain) if tells_where(guide, account, photo.alt) else photo.alt
    return replace(photo, caption=caption, alt=alt)
