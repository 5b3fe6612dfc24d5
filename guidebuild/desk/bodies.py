"""What a page sends to the desk, read up to a size and as the kind that it must be."""

from __future__ import annotations

import json
from typing import Any

from starlette.requests import Request

from guidebuild.errors import SaidInOneLineError

LONGEST_CHANGE = 1_000_000
"""Bytes: a change is a value of a file, and no file of words is longer."""


class NotTakenError(SaidInOneLineError):
    """What was sent is not taken; `status` is HTTP's word for why."""

    def __init__(self, message: str, status: int) -> None:
        super().__init__(message)
        self.status = status


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


async def read_body(request: Request, at_most: int) -> bytes:
    """All that was sent; raises NotTakenError as soon as it is more than so many bytes."""
    body = bytearray()
    async for piece in request.stream():
        body += piece
        if len(body) > at_most:
            raise NotTakenError(f"more than {at_most:,} bytes were sent, which is more than is taken here", 413)
    return bytes(body)
