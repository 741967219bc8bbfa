"""The demo build with its plumbing, as a document and as a build. All of it is invented."""

import copy
import datetime as dt
import json
from functools import cache
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document
from webapp.settings import resource_root

Document = dict[str, Any]
NOW = dt.datetime(2026, 2, 9, 18, 0)
_SEEDS = resource_root() / "seed_data"


@cache
def _document() -> Document:
    document: Document = json.loads((_SEEDS / "heron.json").read_bytes())
    apart = json.loads((_SEEDS / "heron" / "plumbing.json").read_bytes())
    document["plumbing"] = apart["plumbing"]
    for part in document["parts"]:
        if part["key"] in apart["parts"]:
            part["plumbing"] = apart["parts"][part["key"]]
    return document


def heron_document() -> Document:
    """The document of the demo build, its plumbing in it; the caller's own to change."""
    return copy.deepcopy(_document())


def build_of(document: Document) -> BuildInput:
    """The build of a document that has no fault."""
    build, faults = read_document(json.dumps(document), now=NOW)
    assert build is not None
    assert faults == ()
    return build


@cache
def heron() -> BuildInput:
    """The demo build with its plumbing."""
    return build_of(_document())


def component(document: Document, key: str) -> Document:
    """One component of a document, by its key."""
    return _keyed(document["plumbing"]["components"], key)


def run(document: Document, key: str) -> Document:
    """One run of a document, by its key."""
    return _keyed(document["plumbing"]["runs"], key)


def circuit(document: Document, key: str) -> Document:
    """One circuit of a document, by its key."""
    return _keyed(document["plumbing"]["circuits"], key)


def port(document: Document, address: str) -> Document:
    """One port of a document, by its address."""
    owner, _, name = address.partition(".")
    ports: list[Document] = component(document, owner)["ports"]
    return next(found for found in ports if found["name"] == name)


def _keyed(things: list[Document], key: str) -> Document:
    return next(thing for thing in things if thing["key"] == key)
