"""A guide of a test as its readers get it, with one of its walks or accounts."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Walk


def with_walk(guide: Guide, walk: Walk) -> tuple[Published, PublicWalk]:
    """The published guide, and this walk in it."""
    made = make_published(replace(guide, walks={**guide.walks, walk.id: walk}))
    return made, made.walks[walk.id]


def with_account(guide: Guide, account: Account) -> tuple[Published, PublicAccount]:
    """The published guide, and this account in it."""
    made = make_published(replace(guide, accounts={**guide.accounts, account.id: account}))
    return made, made.accounts[account.id]
