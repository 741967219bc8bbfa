"""What is worked out in the background makes way for whoever waits for an answer."""

from starlette.types import ASGIApp, Receive, Scope, Send

from webapp.services.background import Background


class Answering:
    """ASGI middleware: `background` stands by until the last byte is out."""

    def __init__(self, app: ASGIApp, background: Background) -> None:
        self.app, self.background = app, background

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        with self.background.answering():
            await self.app(scope, receive, send)
