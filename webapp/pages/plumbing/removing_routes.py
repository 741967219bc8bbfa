"""A circuit, a component, a run or a port removed over HTTP: asked about, then gone."""

from collections.abc import Callable

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.plumbing.removing import KINDS, Kind, ask, remove

router = APIRouter(include_in_schema=False)


def _asking(kind: Kind) -> Callable[..., Response]:
    def ask_to_remove(slug: str, services: ServicesOf, key: str = "") -> Response:
        return ask(services, slug, kind, key, TypedForm())

    return ask_to_remove


def _removing(kind: Kind) -> Callable[..., Response]:
    def remove_it(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
        return remove(services, slug, TypedForm.of(posted), kind, key)

    return remove_it


for _kind in KINDS:
    router.get(f"/builds/{{slug}}/remove-{_kind}")(_asking(_kind))
    router.post(f"/builds/{{slug}}/remove-{_kind}")(_removing(_kind))
