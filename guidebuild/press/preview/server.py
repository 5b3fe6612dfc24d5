"""A server on a port of this machine alone, for the time of a block."""

from __future__ import annotations

import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import uvicorn
from starlette.types import ASGIApp

from guidebuild.press.engine.problems import PressError
from guidebuild.press.preview.guard import ADDRESS

FIRST_PORT = 8147
_PORTS_TO_TRY = 30
_WAITING_AT_MOST = 100
_LONGEST_HEAD = 32_768
_SECONDS_TO_END = 2


@contextmanager
def served_on(port: int | None, make_app: Callable[[int], ASGIApp]) -> Iterator[int]:
    """Serve the app that is made for the port which was found; nothing takes the first free one from `FIRST_PORT` on.

    Raises `PressError` when none is free.
    """
    with _open_socket(port) as listening:
        found: int = listening.getsockname()[1]
        server = uvicorn.Server(
            uvicorn.Config(
                make_app(found),
                http="h11",
                loop="asyncio",
                ws="none",
                lifespan="off",
                log_config=None,  # the terminal is for findings
                access_log=False,
                server_header=False,
                h11_max_incomplete_event_size=_LONGEST_HEAD,
                timeout_graceful_shutdown=_SECONDS_TO_END,
            )
        )
        serving = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        serving.start()
        try:
            yield found
        finally:
            server.should_exit = True
            serving.join()


def _open_socket(port: int | None) -> socket.socket:
    ports = range(FIRST_PORT, FIRST_PORT + _PORTS_TO_TRY) if port is None else (port,)
    for one in ports:
        try:
            return socket.create_server((ADDRESS, one), backlog=_WAITING_AT_MOST)
        except OSError:
            continue
    told = f"port {port} is" if port is not None else f"ports {ports[0]} to {ports[-1]} are"
    raise PressError(f"cannot show a preview: {told} in use; name another with --port")
