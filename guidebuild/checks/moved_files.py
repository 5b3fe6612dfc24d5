"""Accounts whose file was renamed by hand: known by what still names them as before."""

from __future__ import annotations

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.guide.resolve import names_of
from guidebuild.guide.texts import find_links


def find_moved_account(guide: Guide, gone: str) -> Account | None:
    """The account that had the file name `gone`: nothing names it by its own, and one of its names or its photos lead from there."""
    named = {similar.account for account in guide.accounts.values() for similar in account.similar}
    named |= {photo.account for photo in guide.photos.values()} | {episode.account for episode in guide.episodes.values()}
    named |= {link.target for _, link in find_links(guide) if link.kind == "account"}
    fresh = [account for account in guide.accounts.values() if account.id not in named]
    called = [account for account in fresh if gone in {make_id(name) for name in names_of(account)}]
    shown = [account for account in fresh if any(photo.account == gone for photo in guide.photos_of(account))]
    found = called or shown
    return found[0] if len(found) == 1 else None


def suggest_rename(guide: Guide, gone: str) -> str:
    """What repairs all that names an account whose file was renamed by hand; nothing where none seems to have been."""
    moved = find_moved_account(guide, gone)
    if moved is None:
        return ""
    return f"Was accounts/{gone}.md renamed to {moved.id}.md? This mends all that names it: guidebuild rename {gone} {moved.id}"
