"""Wiring: settings, database and pages made into one application."""

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial

from fastapi import FastAPI
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from webapp.pages import routers
from webapp.pages.frame.answering import Answering
from webapp.pages.frame.door import Door
from webapp.pages.frame.errors import add_refusals
from webapp.pages.frame.head_requests import HeadAsGet
from webapp.pages.frame.once_only import OnceOnly
from webapp.pages.frame.rendering import static_version
from webapp.pages.frame.security import Guard
from webapp.services.plan_cache import PlanCache
from webapp.services.program import Services
from webapp.settings import Settings, resource_root
from webapp.storage.builds import revision_of
from webapp.storage.database import Database, UnusableDatabaseError

YEAR_SECONDS = 365 * 24 * 3600


class KeptFiles(StaticFiles):
    """Files whose address changes with their content: a browser may keep them for good."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        answer = await super().get_response(path, scope)
        if answer.status_code == 200:
            answer.headers["Cache-Control"] = f"public, max-age={YEAR_SECONDS}, immutable"
        return answer


def _revision_of(database: Database, slug: str) -> int | None:
    """The number of the last change of a build; None where there is none, or no file to ask."""
    try:
        with database.reading() as session:
            return revision_of(session, slug)
    except UnusableDatabaseError:
        return None


def _sweep_photographs(database: Database) -> None:
    """Remove the files of photographs that no build names any more."""
    with database.reading() as session:
        database.photographs.sweep(session)


def create_app(settings: Settings) -> FastAPI:
    """The application on `settings.data_file`, opened (and migrated) at once."""
    database = Database.open(settings.data_file)
    _sweep_photographs(database)
    services = Services(settings=settings, database=database, plans=PlanCache())

    @asynccontextmanager
    async def lifespan(_app: FastAPI) -> AsyncIterator[None]:
        # what was imported lives as long as the program: keep the collector off it
        gc.collect()
        gc.freeze()
        yield
        services.copies.close()
        services.devices.store_uses()
        services.tightenings.close()
        services.cuttings.close()
        services.plans.background.close()
        database.close()

    app = FastAPI(
        title="Keyturn",
        lifespan=lifespan,
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
    )
    app.state.services = services
    _add_middleware(app, services)
    add_refusals(app)
    app.mount(
        f"/static/{static_version()}",
        KeptFiles(directory=resource_root() / "static"),
        name="static",
    )
    for router in routers():
        # the routes themselves: including a router makes each of them anew, and asks it twice
        app.router.routes.extend(router.routes)
    return app


def _add_middleware(app: FastAPI, services: Services) -> None:
    """What every request passes on its way in; the last one added is asked first."""
    app.add_middleware(Answering, background=services.plans.background)
    app.add_middleware(OnceOnly, revision_of=partial(_revision_of, services.database))
    app.add_middleware(HeadAsGet)
    app.add_middleware(Guard, host=services.settings.host, network=services.network)
    app.add_middleware(
        Door,
        devices=services.devices,
        network=services.network,
        feeds=services.feeds.addresses,
    )
