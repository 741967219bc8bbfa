"""HEAD, answered wherever GET is: what GET would say, without its body."""

from starlette.types import ASGIApp, Message, Receive, Scope, Send


class HeadAsGet:
    """ASGI middleware: the pages within see GET alone."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["method"] != "HEAD":
            await self.app(scope, receive, send)
            return

        async def send_head(message: Message) -> None:
            if message["type"] == "http.response.body":
                message = {**message, "body": b""}
            await send(message)

        await self.app({**scope, "method": "GET"}, receive, send_head)
