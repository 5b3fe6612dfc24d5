"""What a page sends to the desk, read up to a size and as the kind that it must be."""

from __future__ import annotations

import json
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request

from guidebuild.desk.offers import Offers
from guidebuild.desk.refused import NotTakenError

LONGEST_CHANGE = 1_000_000
"""Bytes: a change is a value of a file, and no file of words is longer."""


async def read_change(request: Request) -> dict[str, Any]:
    """A change as a page sends it: JSON, keys with values. Raises NotTakenError."""
    # A form of another site can send three kinds, and this is none of them (Fetch Standard, CORS-safelisted request-header).
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() != "application/json":
        raise NotTakenError("a change is sent as application/json", 415)
    body = await read_body(request, LONGEST_CHANGE)
    try:
        sent = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise NotTakenError("what was sent is not JSON", 400) from error
    if not isinstance(sent, dict):
        raise NotTakenError("a change is keys with values", 400)
    return sent


async def take_offer(request: Request, offers: Offers) -> str:
    """A file that is offered, taken piece by piece and looked at; its name. Raises NotTakenError, and then nothing of it stays."""
    if request.headers.get("content-type", "").lower() != "application/octet-stream":
        raise NotTakenError("a file is sent as application/octet-stream", 415)
    taking = offers.take(request.query_params.get("name", ""))
    try:
        async for piece in request.stream():
            await run_in_threadpool(taking.write, piece)
        await run_in_threadpool(taking.finish)
    finally:
        taking.give_up()
    return taking.name


async def read_body(request: Request, at_most: int) -> bytes:
    """All that was sent; raises NotTakenError as soon as it is more than so many bytes."""
    body = bytearray()
    async for piece in request.stream():
        body += piece
        if len(body) > at_most:
            raise NotTakenError(f"more than {at_most:,} bytes were sent, which is more than is taken here", 413)
    return bytes(body)
