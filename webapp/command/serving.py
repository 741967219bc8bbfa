"""The web server of one database, on this machine only unless a host is named."""

import ipaddress
import socket
import sys
from dataclasses import replace

import uvicorn
from starlette.types import ASGIApp

from webapp.app import create_app
from webapp.command.copying import copy_to_offer
from webapp.command.database import announce_copy
from webapp.command.files import write_out
from webapp.command.prompt_connection import PromptConnection
from webapp.command.refusal import RefusedError
from webapp.settings import Settings
from webapp.storage.trouble import UnusableDatabaseError


def serve(settings: Settings, path: str = "/") -> None:
    """Serve until interrupted; prints the address of `path`. Raises RefusedError or
    UnusableDatabaseError."""
    listener = listener_on(settings.host, settings.port)
    with listener:
        port = listener.getsockname()[1]
        try:
            app = create_app(replace(settings, port=port))
        except UnusableDatabaseError as trouble:
            if trouble.kind != "damaged":
                raise
            raise RefusedError([f"{trouble} {copy_to_offer(settings)}"]) from trouble
        announce_copy(app.state.services.database)
        app.state.services.copies.start()
        if not is_loopback(settings.host):
            print(
                f"Careful: whoever can reach {settings.host} in this network can read and "
                "change your builds. Leave --host out to keep them to this machine.",
                file=sys.stderr,
            )
        host = f"[{settings.host}]" if ":" in settings.host else settings.host
        write_out(f"Open http://{host}:{port}{path} in a browser. Ctrl+C ends it.\n")
        uvicorn.Server(config_of(app)).run(sockets=[listener])


def config_of(app: ASGIApp) -> uvicorn.Config:
    """How the web server serves: the same way on every system."""
    return uvicorn.Config(
        app,
        loop="asyncio",
        http=PromptConnection,
        ws="none",
        log_level="warning",
        access_log=False,
        # What a proxy would say of the sender is not believed: there is none.
        proxy_headers=False,
        server_header=False,
    )


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach the host."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def listener_on(host: str, port: int) -> socket.socket:
    """A listening socket; port 0 takes any free one. Raises RefusedError."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        return socket.create_server((host, port), family=family)
    except OSError as error:
        reason = str(error.strerror).partition(" (while")[0]
        raise RefusedError(
            [
                f"Cannot listen on {host}, port {port}: {reason}. "
                "End the program that uses it, or choose another with --port, 0 for any free one."
            ]
        ) from None
