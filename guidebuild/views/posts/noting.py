"""What is noted of a post on the day it goes out: the facts that its texts say."""

from __future__ import annotations

from collections.abc import Collection

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.posted import PostedFact
from guidebuild.views.posts.posted_facts import find_facts_said
from guidebuild.views.posts.posts import post_view


def list_text_names(guide: Published, account: PublicAccount) -> tuple[str, ...]:
    """The names of the texts that can be posted of an account."""
    view = post_view(guide, account)
    return tuple(text.name for text in (*view.texts, *view.versions))


def find_facts_posted(guide: Published, account: PublicAccount, names: Collection[str] = ()) -> tuple[PostedFact, ...]:
    """The facts that the texts of an account say: those of these names, or where none is given those of each length."""
    view = post_view(guide, account)
    chosen = [text for text in (*view.texts, *view.versions) if text.name in names] if names else view.texts
    return find_facts_said(guide, account, [text.text for text in chosen])
