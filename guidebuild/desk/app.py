"""The desk as a browser gets it: its parts, its look, changes, and beside them the guide's pages as the preview shows them."""

from __future__ import annotations

import asyncio
import mimetypes
from collections.abc import Awaitable, Callable, Mapping, Sequence
from functools import partial
from pathlib import PurePosixPath
from types import MappingProxyType
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from guidebuild.desk.bodies import read_change, take_offer
from guidebuild.desk.bringing_in import bring_offers, clear_offers, say_plan
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.asked import answer_edit, answer_undo, tell_conflict
from guidebuild.desk.editing.writer import CannotKeepError, ConflictError
from guidebuild.desk.file_lines import show_lines
from guidebuild.desk.guard import DESK, ENTER, DeskGuard, Keys
from guidebuild.desk.part import Change, Part
from guidebuild.desk.parts.table import PARTS
from guidebuild.desk.pictures import read_copy
from guidebuild.desk.places import find_address, read_place
from guidebuild.desk.refused import NotTakenError
from guidebuild.desk.templates import Frame, fill_page, find_look
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.findings import At
from guidebuild.press.preview.board import Board, News
from guidebuild.press.preview.follow import Front, Shown
from guidebuild.press.preview.guard import HostGuard, list_hosts
from guidebuild.press.preview.pages import PreviewPages
from guidebuild.press.theme.folders import has_own_theme

_FIRST = "guide"
"""The part in which a guide is begun."""
FACE = ".woff2"


def desk_front(desk: Desk, shown: Shown, board: Board, port: int, _: str, *, parts: Sequence[Part] = PARTS) -> Front:
    """The desk at a port, with the address that lets its author in."""
    keys = Keys()
    desk.offers.clear()  # what was left there by a desk that was ended
    pages = PreviewPages(shown.read, board, find_file=shown.find_file, desk=DESK)
    routes = [*DeskPages(desk, board, keys, parts).routes, *pages.routes]
    inner = DeskGuard(Starlette(routes=routes), keys, port=port, quiet=partial(has_own_theme, desk.folder))
    return Front(HostGuard(inner, list_hosts(port)), f"{ENTER.removeprefix('/')}?key={keys.entry}")


class DeskPages:
    """The answers of the desk."""

    def __init__(self, desk: Desk, board: Board, keys: Keys, parts: Sequence[Part]) -> None:
        self._desk = desk
        self._board = board
        self._keys = keys
        self._taking = asyncio.Lock()
        self._parts = {part.name: part for part in parts}

    @property
    def routes(self) -> list[Route]:
        """All of them; whatever else is asked for below the desk's address is not there."""
        return [
            Route(DESK, self._show_first),
            Route(f"{DESK}open", self._open),
            Route(f"{DESK}look/{{name:path}}", self._send_look),
            Route(f"{DESK}picture/{{photo}}", self._send_picture),
            Route(f"{DESK}card/{{account}}/{{side:int}}", self._send_card),
            Route(f"{DESK}card/{{account}}.pdf", self._send_printed),
            Route(f"{DESK}handbook/{{name}}", self._send_handbook),
            Route(f"{DESK}offer", self._take_offer, methods=["POST"]),
            *(Route(f"{DESK}{name}", self._answer_with(change), methods=["POST"]) for name, change in COMMON.items()),
            Route(f"{DESK}{{part}}/{{change}}", self._change, methods=["POST"]),
            Route(f"{DESK}{{part}}/{{rest:path}}", self._show),
            Route(f"{DESK}{{rest:path}}", self._miss),
        ]

    async def _show_first(self, _: Request) -> Response:
        first = next(iter(self._parts)) if self._desk.guide or self._desk.is_begun or _FIRST not in self._parts else _FIRST
        return RedirectResponse(f"{DESK}{first}/", 303)

    async def _show(self, request: Request) -> Response:
        part = self._parts.get(request.path_params["part"])
        if part is None:
            return await self._miss(request)
        return await run_in_threadpool(self._draw, part, request.path_params["rest"], dict(request.query_params))

    def _draw(self, part: Part, rest: str, asked: Mapping[str, str]) -> Response:
        news = self._board.read_news() or (0, 0)  # before the view: what changes meanwhile shall be noticed
        view = part.show(self._desk, rest, asked)
        return self._fill(part if view is not None else None, view, news)

    async def _change(self, request: Request) -> Response:
        part = self._parts.get(request.path_params["part"])
        change = part.changes.get(request.path_params["change"]) if part else None
        if change is None:
            return await self._miss(request)
        return await answer_change(self._desk, change, request)

    def _answer_with(self, change: Change) -> Callable[[Request], Awaitable[Response]]:
        async def answer(request: Request) -> Response:
            return await answer_change(self._desk, change, request)

        return answer

    async def _take_offer(self, request: Request) -> Response:
        """One file after the other: a picture that is looked at takes memory."""
        try:
            async with self._taking:
                return JSONResponse({"name": await take_offer(request, self._desk.offers)})
        except NotTakenError as error:
            return JSONResponse({"message": str(error)}, error.status)
        except OSError as error:
            return JSONResponse({"message": f"The file cannot be kept: {error.strerror}."}, 507)

    async def _open(self, request: Request) -> Response:
        """From a line that a finding names to where it is mended."""
        at = read_place(request.query_params.get("at", ""))
        return await run_in_threadpool(self._lead, at, request.query_params.get("field", "")) if at else self._fill(None, None, (0, 0))

    def _lead(self, at: At, key: str) -> Response:
        address = find_address(self._desk, at, self._parts.values(), key=key)
        if address is not None:
            return RedirectResponse(address, 303)
        news = self._board.read_news() or (0, 0)
        lines = show_lines(self._desk, at)
        return self._fill(None, lines, news, template="lines" if lines else "missing")

    async def _send_look(self, request: Request) -> Response:
        name = request.path_params["name"]
        data = find_look(name)
        kind = mimetypes.types_map.get(PurePosixPath(name).suffix, "application/octet-stream")
        return PlainTextResponse("no such file", 404) if data is None else Response(data, media_type=kind)

    async def _send_picture(self, request: Request) -> Response:
        """A copy of a photo, also of one that is not published."""
        wide = request.query_params.get("wide", "")
        data = await run_in_threadpool(read_copy, self._desk, request.path_params["photo"], int(wide) if wide.isdecimal() else 0)
        return PlainTextResponse("no such photo", 404) if data is None else Response(data, media_type="image/jpeg")

    async def _send_card(self, request: Request) -> Response:
        """A side of an account's card, as it would be printed now."""
        sides = await run_in_threadpool(self._desk.resident.draw_card, request.path_params["account"])
        side = request.path_params["side"]
        return Response(sides[side], media_type="image/webp") if side < len(sides) else PlainTextResponse("no such card", 404)

    async def _send_printed(self, request: Request) -> Response:
        """A card for the printer, or why there is none."""
        account = request.path_params["account"]
        try:
            pdf = await run_in_threadpool(self._desk.resident.print_card, account)
        except SaidInOneLineError as error:
            return PlainTextResponse(str(error), 409)
        why = self._desk.say("Its card cannot be printed yet: what is in the way stands in This week.")
        return Response(pdf, media_type="application/pdf") if pdf else PlainTextResponse(why, 404)

    async def _send_handbook(self, request: Request) -> Response:
        """A page of the handbook, or what it needs; its typefaces are those of the guide's pages."""
        name = request.path_params["name"]
        if name.endswith(FACE):
            return RedirectResponse(f"/assets/{name}", 307)
        data = (await run_in_threadpool(self._desk.handbook)).get(name)
        return await self._miss(request) if data is None else Response(data, media_type=mimetypes.guess_type(name)[0])

    async def _miss(self, _: Request) -> Response:
        return self._fill(None, None, (0, 0))

    def _fill(self, part: Part | None, view: object, news: News, template: str = "missing") -> Response:
        name = part.name if part else template
        frame = Frame(tuple(self._parts.values()), name, self._keys.token, *news)
        return HTMLResponse(fill_page(self._desk, frame, view), 404 if name == "missing" else 200)


async def answer_change(desk: Desk, change: Change, request: Request) -> Response:
    """What a change came to: 200 and what it says; 422 and what to write instead; or why it was not taken."""
    try:
        asked: dict[str, Any] = await read_change(request)
        return JSONResponse(await run_in_threadpool(change, desk, asked))
    except NotTakenError as error:
        return JSONResponse({"message": str(error)}, error.status)
    except ConflictError as error:
        return JSONResponse(tell_conflict(error), 409)
    except CannotKeepError as error:
        return JSONResponse({"message": str(error)}, 507)
    except SaidInOneLineError as error:
        return JSONResponse({"message": str(error)}, 422)


def make_edit(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Values of a file set, added, removed or moved: `POST /-desk/edit`, which every part may ask."""
    return answer_edit(desk.writer, desk.guide, asked)


def take_back(desk: Desk, _: Mapping[str, Any]) -> Mapping[str, Any]:
    """The last change taken back."""
    answer = answer_undo(desk.writer)
    if answer["files"] > 1:
        message = desk.say("Undone: {n} files are as they were.", n=answer["files"])
    else:
        message = desk.say("Undone: {file} is as it was.", file=answer["file"]) if answer["file"] else desk.say("There is nothing to undo.")
    return {**answer, "message": message}


COMMON: Mapping[str, Change] = MappingProxyType(
    {"edit": make_edit, "undo": take_back, "plan": say_plan, "bring": bring_offers, "clear": clear_offers}
)
"""Changes that every page may ask for, by the word after the desk's address."""
