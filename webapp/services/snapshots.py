"""Reading snapshots back, each once."""

from webapp.services.frozen import FrozenBuild, Headings
from webapp.services.program import Services
from webapp.storage.snapshots import SnapshotHeading, snapshot_by_id, snapshot_headings


def headings_of(services: Services, slug: str) -> Headings:
    """What snapshots a build has."""
    with services.database.reading() as session:
        return Headings(all=snapshot_headings(session, slug))


def frozen_build(services: Services, slug: str, heading: SnapshotHeading) -> FrozenBuild | None:
    """The build of a snapshot; None where the snapshot is gone."""
    # One data file may be put in the place of another: the moment tells them apart as well.
    key = (services.settings.data_file, slug, heading)
    found = services.frozen.get(key)
    if found is not None:
        return found
    with services.database.reading() as session:
        snapshot = snapshot_by_id(session, slug, heading.id)
    return None if snapshot is None else services.frozen.keep(key, FrozenBuild(snapshot))
