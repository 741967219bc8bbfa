"""The web server of one database: for this machine, and for paired devices where that is on."""

import socket
from dataclasses import replace

import uvicorn
from fastapi import FastAPI
from starlette.types import ASGIApp

from webapp.app import create_app
from webapp.command.copying import copy_to_offer
from webapp.command.database import announce_copy
from webapp.command.files import write_out
from webapp.command.prompt_connection import PromptConnection
from webapp.command.refusal import RefusedError
from webapp.command.shop_server import ShopServer
from webapp.services.program import Services
from webapp.services.shop_network import CannotListenError, ShopNetwork
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
        services = app.state.services
        server = _server_of(app, settings, services.network)
        announce_copy(services.database)
        services.copies.start()
        host = f"[{settings.host}]" if ":" in settings.host else settings.host
        write_out(f"Open http://{host}:{port}{path} in a browser. Ctrl+C ends it.\n")
        _announce_network(settings, services)
        server.run(sockets=[listener])


def _server_of(app: FastAPI, settings: Settings, network: ShopNetwork) -> ShopServer:
    """The server, listening in the shop's network too where that is on. Raises RefusedError."""
    try:
        server = ShopServer(config_of(app), app, settings)
        if network.is_open:
            server.open()
    except CannotListenError as trouble:
        raise RefusedError([str(trouble)]) from None
    network.listener = server
    return server


def _announce_network(settings: Settings, services: Services) -> None:
    """Say where a phone opens it; where it was asked for by the command, with a code as well."""
    if not services.network.is_open:
        return
    places = services.network.addresses()
    if not places:
        write_out("This machine is in no network just now, so no phone can open it.\n")
        return
    write_out(f"On a phone in the same network, open {' or '.join(places)}\n")
    if settings.shop:
        code = services.devices.show_code()
        write_out(f"It asks for a code: {code.text}, for ten minutes and one device.\n")


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
