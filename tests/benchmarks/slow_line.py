"""A slow line to a server on this machine: what TCP makes a reader wait for, opening a connection included.

Chromium's own emulation of a slow line charges every request its delay but opens connections for nothing.  On a real line
the first request waits one round trip for the handshake (RFC 9293, section 3.5) and one for its answer, and each further
connection pays again.  This line does that, and lets all connections share one bandwidth, packet by packet.  A handshake of TLS
crosses it like all else.  It leaves out slow start (a window of ten packets, RFC 6928, holds the pages measured here) and losses.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from queue import SimpleQueue
from threading import Thread

PACKET = 1448
"""Bytes of a full packet's load on Ethernet with TCP timestamps; `HEADERS` come on top."""
HEADERS = 52


@dataclass(slots=True)
class _Lane:
    """One way of the line: packets leave one after another, and each arrives `delay` seconds after it has left."""

    rate: float  # bytes a second
    delay: float  # seconds
    free: float = field(default=0.0)

    async def carry(self, source: asyncio.StreamReader, sink: asyncio.StreamWriter) -> None:
        """Take packets of one connection over, in turn with those of the others, until its end."""
        loop = asyncio.get_running_loop()
        under_way: asyncio.Queue[tuple[float, bytes]] = asyncio.Queue()
        async with asyncio.TaskGroup() as group:
            group.create_task(_deliver(under_way, sink))
            with suppress(OSError):
                while data := await source.read(PACKET):
                    self.free = max(self.free, loop.time()) + (len(data) + HEADERS) / self.rate
                    under_way.put_nowait((self.free + self.delay, data))
                    await asyncio.sleep(max(0.0, self.free - loop.time()))
            under_way.put_nowait((loop.time() + self.delay, b""))


async def _deliver(under_way: asyncio.Queue[tuple[float, bytes]], sink: asyncio.StreamWriter) -> None:
    loop = asyncio.get_running_loop()
    with suppress(OSError):
        while True:
            due, data = await under_way.get()
            await asyncio.sleep(max(0.0, due - loop.time()))
            if not data:
                break
            sink.write(data)
            await sink.drain()
    sink.close()


@dataclass(slots=True)
class _SlowLine:
    port: int
    delay: float
    rate: float
    ready: SimpleQueue[tuple[asyncio.AbstractEventLoop, int]] = field(default_factory=SimpleQueue)
    end: asyncio.Event = field(default_factory=asyncio.Event)

    async def run(self) -> None:
        up, down = _Lane(self.rate, self.delay), _Lane(self.rate, self.delay)

        async def connected(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            # Cancelled at the end of the measurement, which is no error.
            with suppress(asyncio.CancelledError, OSError):
                await asyncio.sleep(2 * self.delay)  # the handshake: this machine's own took no time
                there, to_there = await asyncio.open_connection("127.0.0.1", self.port)
                await asyncio.gather(up.carry(reader, to_there), down.carry(there, writer))

        server = await asyncio.start_server(connected, "127.0.0.1", 0)
        self.ready.put((asyncio.get_running_loop(), server.sockets[0].getsockname()[1]))
        await self.end.wait()
        server.close()


@contextmanager
def slow_line(port: int, *, delay: float = 0.2, bits: float = 400_000) -> Iterator[int]:
    """A port of this machine that leads to `port` over a line of `delay` seconds and so many bits a second, each way."""
    line = _SlowLine(port, delay, bits / 8)
    # A thread and a loop of its own: whoever measures may be inside a loop already.
    thread = Thread(target=lambda: asyncio.run(line.run()), daemon=True)
    thread.start()
    loop, at = line.ready.get(timeout=10)
    yield at
    loop.call_soon_threadsafe(line.end.set)
    thread.join(10)
