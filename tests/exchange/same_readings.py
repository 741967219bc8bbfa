"""Whether documents still read as they did: 1,000 damaged ones, to the letter of every fault.

`python -m tests.exchange.same_readings keep FILE` damages the seed documents, a build with every
field and random builds, and writes each with what reading it gives;
`python -m tests.exchange.same_readings compare FILE` reads them anew, and ends with exit status 1
where a build, or a fault's kind, key, field, text or place in the list differs. For changes that
shall change nothing. FILE is gzipped JSON. Another number of documents may follow FILE.
"""

import gzip
import json
import sys
from collections.abc import Iterator
from dataclasses import astuple
from pathlib import Path
from random import Random
from typing import Any

from hypothesis import HealthCheck, given, seed, settings

from tests.build.builds import MONDAY
from tests.build.random_builds import builds
from tests.exchange.damage import damaged
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document, write_document
from webapp.settings import resource_root

DOCUMENTS = 1_000
RANDOM_BUILDS = 40


def main(verb: str, file: str, count: str = str(DOCUMENTS)) -> int:
    """Keep or compare; the exit status."""
    if verb == "keep":
        kept = [(data.decode("latin-1"), reading_of(data)) for data in _documents(int(count))]
        Path(file).write_bytes(gzip.compress(json.dumps(kept).encode(), mtime=0))
        told = [len(reading["faults"]) for _, reading in kept]
        print(
            f"{len(kept):,} documents kept, with {sum(told):,} faults, {told.count(0):,} with none"
        )
        return 0
    kept = json.loads(gzip.decompress(Path(file).read_bytes()))
    differing = 0
    for number, (text, reading) in enumerate(kept):
        now = json.loads(json.dumps(reading_of(text.encode("latin-1"))))
        if now != reading:
            differing += 1
            print(f"document {number}:", *_differences(reading, now), sep="\n  ")
    print(f"{len(kept):,} documents compared, {differing:,} read otherwise")
    return 1 if differing else 0


def reading_of(data: bytes) -> dict[str, Any]:
    """The build as it stands in the program, and the faults in their order."""
    build, faults = read_document(data, now=MONDAY)
    return {"build": repr(build), "faults": [list(astuple(fault)) for fault in faults]}


def _documents(count: int) -> Iterator[bytes]:
    """As many damaged documents, in turn of the seeds, the rich build and the random ones."""
    folder = resource_root() / "seed_data"
    large = [(folder / f"{name}.json").read_text("utf-8") for name in ("heron", "heron/baseline")]
    rich = write_document(RICH_BUILD)
    small = [write_document(build) for build in _random_builds()]
    random = Random(4)
    for number in range(count):
        yield damaged([*large, rich, rich, small[number % len(small)]][number % 5], random)


def _random_builds() -> list[BuildInput]:
    found: list[BuildInput] = []

    @seed(9)
    @settings(
        max_examples=RANDOM_BUILDS,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(builds())
    def collect(build: BuildInput) -> None:
        found.append(build)

    collect()
    return found


def _differences(before: dict[str, Any], now: dict[str, Any]) -> Iterator[str]:
    faults_before, faults_now = before["faults"], now["faults"]
    yield from (f"no more: {fault}" for fault in faults_before if fault not in faults_now)
    yield from (f"new: {fault}" for fault in faults_now if fault not in faults_before)
    if faults_before != faults_now and sorted(faults_before) == sorted(faults_now):
        yield "the faults come in another order"
    old, new = before["build"], now["build"]
    if old != new:
        at = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), len(old))
        yield f"build: {old[max(0, at - 80) : at + 80]}"
        yield f"  now: {new[max(0, at - 80) : at + 80]}"


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
