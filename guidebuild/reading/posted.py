"""What the command `posted` has noted of posts: `posts/ACCOUNT.said.yaml`."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import Annotated

from guidebuild.guide.findings import At
from guidebuild.guide.posted import NotedPost, PostedFact, PostNotes
from guidebuild.guide.posted_fields import NOTED_FACT_FIELDS, NOTED_FIELDS, NOTED_POST_FIELDS
from guidebuild.reading.block import Block
from guidebuild.reading.build_record import build_record
from guidebuild.reading.kinds import Day, Shape, Text, YesNo
from guidebuild.reading.markers import ListOf

ENDING = ".said.yaml"


class NotedFactShape(Shape):
    """A fact that a post said."""

    declared = NOTED_FACT_FIELDS

    fact: Text
    words: Text = ""


class NotedPostShape(Shape):
    """A post that is noted."""

    declared = NOTED_POST_FIELDS

    day: Day
    correction: YesNo = False
    says: Annotated[tuple[NotedFactShape, ...], ListOf("fact")] = ()


class NotedShape(Shape):
    """What was posted of a species."""

    declared = NOTED_FIELDS

    posts: Annotated[tuple[NotedPostShape, ...], ListOf("day")] = ()


def noted_file(account: str) -> str:
    """The file in which it is noted what posts of an account said."""
    return f"posts/{account}{ENDING}"


def account_of_file(file: str) -> str:
    """The account whose posts are noted in a file."""
    return PurePosixPath(file).name.removesuffix(ENDING)


def build_notes(file: str, shape: NotedShape, block: Block) -> PostNotes:
    """What is noted, each fact with its place."""
    posts = tuple(_build_post(shape.posts[number], block, number) for number in range(len(shape.posts)))
    return PostNotes(account_of_file(file), posts, At(file, 1))


def _build_post(shape: NotedPostShape, block: Block, number: int) -> NotedPost:
    place = block.at("posts", number, "says")
    facts = (
        build_record(PostedFact, fact, block, "posts", number, "says", n, at=block.at("posts", number, "says", n))
        for n, fact in enumerate(shape.says)
    )
    return NotedPost(shape.day, shape.correction, tuple(facts), place if shape.says else block.at("posts", number))
