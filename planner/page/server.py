"""The small server of the live page: on this machine only, three kinds of address, nothing from the disk.

In: a `Desk`. Out: pages and news, to a browser on the same machine. Rules: it listens on 127.0.0.1 and answers only
requests that name this machine as their host, which ends DNS rebinding (a page of somebody else's whose name suddenly
means 127.0.0.1), and that do not come from a page elsewhere (Fetch Standard: Origin; Fetch Metadata: Sec-Fetch-Site).
"""

import asyncio
import json
import socket
import threading
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from types import FrameType

import uvicorn
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from planner.errors import PlannerError
from planner.page.desk import Desk

#: Where the page is found unless that place is taken; then one of the next ones.
USUAL_PORT = 8427
_TRIES = 20
#: A line that says nothing keeps a quiet connection open and finds out when it is gone. Seconds.
_QUIET_S = 15.0

#: With every answer (OWASP Secure Headers; what frames the page may not be said in the page itself).
_HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}


def application(desk: Desk, port: int, closing: threading.Event) -> ASGIApp:
    """The pages and the news of a desk, for requests to this machine at this port."""

    async def page(request: Request) -> Response:
        content = desk.page(int(request.path_params.get("room", 1)))
        if content is None:
            raise HTTPException(404, "There is no such room.")
        return Response(content, media_type="text/html")

    async def news(request: Request) -> Response:
        return StreamingResponse(_told(desk, closing), media_type="text/event-stream")

    routes = [
        Route("/", page, methods=["GET"]),
        Route("/room/{room:int}", page, methods=["GET"]),
        Route("/news", news, methods=["GET"]),
    ]
    refused = {404: _plain, 405: _plain}
    return _AtHome(Starlette(routes=routes, exception_handlers=refused), port)


def free_socket(port: int | None) -> socket.socket:
    """A socket on 127.0.0.1 at the port, or at the usual one or one of the next when it is None; PlannerError."""
    ports = range(USUAL_PORT, USUAL_PORT + _TRIES) if port is None else (port,)
    problem = ""
    for each in ports:
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind(("127.0.0.1", each))
            listening.listen()  # only now nobody else can have the port
        except OSError as error:
            listening.close()
            problem = error.strerror or str(error)
        else:
            return listening
    where = f"--port {port}" if port is not None else "--port"
    raise PlannerError(f"no page can be opened there: {problem}.", where=where, mend="Give another --port.")


def serve(desk: Desk, listening: socket.socket, ready: Callable[[], None], closing: threading.Event) -> None:
    """Serve until Ctrl-C, which sets `closing`, or until somebody else sets it; calls `ready` once pages can be had."""
    port = listening.getsockname()[1]
    config = uvicorn.Config(
        application(desk, port, closing),
        log_config=None,
        access_log=False,
        lifespan="off",
        server_header=False,
        date_header=False,
        timeout_graceful_shutdown=1,
        limit_concurrency=64,
        ws="none",
        http="h11",
        loop="asyncio",
    )
    with suppress(KeyboardInterrupt):  # Ctrl-C is how one leaves; the server raises it again when all is closed
        _Server(config, ready, closing).run(sockets=[listening])


class _Server(uvicorn.Server):
    """Says when it is ready; at the end sends everybody home first, so that no open news keep it waiting."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None], closing: threading.Event) -> None:
        super().__init__(config)
        self._ready = ready
        self._closing = closing

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets=sockets)
        self._ready()

    async def on_tick(self, counter: int) -> bool:
        return await super().on_tick(counter) or self._closing.is_set()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self._closing.set()
        super().handle_exit(sig, frame)


class _AtHome:
    """Refuses whatever was not asked from this machine's own page, and adds the headers to every answer."""

    def __init__(self, inner: ASGIApp, port: int) -> None:
        self._inner = inner
        self._hosts = {f"127.0.0.1:{port}", f"localhost:{port}"} | ({"127.0.0.1", "localhost"} if port == 80 else set())

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                own = [(name.lower().encode(), value.encode()) for name, value in _HEADERS.items()]
                message["headers"] = [*message.get("headers", ()), *own]
            await send(message)

        if scope["type"] != "http":
            return
        problem = self._problem(scope)
        answer = self._inner if problem is None else PlainTextResponse(problem + "\n", 403)
        await answer(scope, receive, with_headers)

    def _problem(self, scope: Scope) -> str | None:
        headers: dict[bytes, list[bytes]] = {}
        for name, value in scope["headers"]:
            headers.setdefault(name, []).append(value)
        hosts = headers.get(b"host", [])
        if len(hosts) != 1 or hosts[0].decode("latin-1").lower() not in self._hosts:
            return "This page is for this machine only: ask for it as 127.0.0.1 or localhost."
        origins = [origin.decode("latin-1").lower() for origin in headers.get(b"origin", [])]
        if any(origin.removeprefix("http://") not in self._hosts for origin in origins):
            return "This page answers no other page."
        site = headers.get(b"sec-fetch-site", [b"none"])[0]
        followed = headers.get(b"sec-fetch-mode", [b""])[0] == b"navigate" and scope["path"] != "/news"
        if site not in (b"none", b"same-origin") and not followed:
            return "This page answers no other page."
        return None


async def _plain(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    return PlainTextResponse(f"{error.detail}\n", error.status_code, headers=error.headers)


async def _told(desk: Desk, closing: threading.Event) -> AsyncIterator[str]:
    """News as server-sent events (HTML standard): as they are now, and whenever they change."""
    changed = asyncio.Event()
    loop = asyncio.get_running_loop()

    def hear() -> None:
        with suppress(RuntimeError):  # the loop is closed: nobody listens any more
            loop.call_soon_threadsafe(changed.set)

    stop = desk.listen(hear)
    quiet = 0.0
    last = None
    try:
        while not closing.is_set():
            changed.clear()
            news = desk.news
            if news is not last:
                last, quiet = news, 0.0
                yield f"data: {json.dumps(news.record())}\n\n"
            try:
                await asyncio.wait_for(changed.wait(), 0.5)
            except TimeoutError:
                quiet += 0.5
                if quiet >= _QUIET_S:
                    quiet = 0.0
                    yield ": \n\n"
    finally:
        stop()
