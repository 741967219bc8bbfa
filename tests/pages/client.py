"""A browser without a window: asks the application itself, in the thread that asks.

The client that comes with the framework runs the application in a thread of its own and hands
each piece of an answer over; that takes longer than most pages do. The framework in its turn hands
each function that is no coroutine to a thread: here it runs where it is asked for.
"""

import asyncio
import contextvars
import threading
from collections.abc import Callable
from types import TracebackType
from typing import Any, Self

import anyio.to_thread
import httpx
import pytest
from fastapi import FastAPI

_IS_HERE = contextvars.ContextVar("asked by the thread that made the client", default=False)
_in_a_thread = anyio.to_thread.run_sync


def stay_in_the_thread(patch: pytest.MonkeyPatch) -> None:
    """Have what the thread of a client asks for run in it, as long as `patch` holds."""
    patch.setattr(anyio.to_thread, "run_sync", _run_here)


async def _run_here(work: Callable[..., Any], *given: Any, **named: Any) -> Any:
    if _IS_HERE.get():  # in a context of its own, as in a thread: what it sets there is lost
        return contextvars.copy_context().run(work, *given)
    return await _in_a_thread(work, *given, **named)


class Client(httpx.Client):
    """Asks `app` as a browser does, on the same machine unless `peer` is the address of another.

    Within `with` the application has begun and will end. What goes wrong in it is an answer of
    500, as it is over HTTP.
    """

    def __init__(
        self,
        app: FastAPI,
        *,
        base_url: str,
        peer: str = "127.0.0.1",
        follow_redirects: bool = True,
    ) -> None:
        self._asked = _Asked(app, peer)
        super().__init__(
            transport=self._asked, base_url=base_url, follow_redirects=follow_redirects
        )
        self.app = app
        self._lived = app.router.lifespan_context(app)

    def __enter__(self) -> Self:
        super().__enter__()
        self._asked.loop.run_until_complete(self._lived.__aenter__())
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None = None,
        error: BaseException | None = None,
        traceback: TracebackType | None = None,
    ) -> None:
        self._asked.loop.run_until_complete(self._lived.__aexit__(None, None, None))
        super().__exit__(kind, error, traceback)


class _Asked(httpx.BaseTransport):
    """The thread that made it runs the application itself; all others share a loop of theirs.

    Of two that ask at the same moment one may have to wait for the other.
    """

    def __init__(self, app: FastAPI, peer: str) -> None:
        self._asgi = httpx.ASGITransport(app, raise_app_exceptions=False, client=(peer, 50000))
        self._thread, self.loop = threading.get_ident(), asyncio.new_event_loop()
        self._begins = threading.Lock()
        self._shared: asyncio.AbstractEventLoop | None = None

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        answered = self._answered(request)
        if threading.get_ident() == self._thread:
            before = _IS_HERE.set(True)
            try:
                return self.loop.run_until_complete(answered)
            finally:
                _IS_HERE.reset(before)
        return asyncio.run_coroutine_threadsafe(answered, self._shared_loop()).result()

    def close(self) -> None:
        self.loop.close()
        if self._shared is not None:
            self._shared.call_soon_threadsafe(self._shared.stop)

    def _shared_loop(self) -> asyncio.AbstractEventLoop:
        with self._begins:
            if self._shared is None:
                self._shared = asyncio.new_event_loop()
                threading.Thread(target=self._shared.run_forever, daemon=True).start()
            return self._shared

    async def _answered(self, request: httpx.Request) -> httpx.Response:
        request.read()
        answer = await self._asgi.handle_async_request(request)
        body = httpx.ByteStream(await answer.aread())
        return httpx.Response(answer.status_code, headers=answer.headers, stream=body)
