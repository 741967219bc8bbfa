"""What taking an earlier build's record along, switching it and letting it go do to a build."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.earlier_record import EarlierRecord


def with_record(build: BuildInput, record: EarlierRecord) -> BuildInput:
    """The build with an earlier record, in the place of what it had from the same build.

    One that was switched off stays off.
    """
    there = find_by_key(build.earlier_records, record.key)
    if there is None:
        return replace(build, earlier_records=(*build.earlier_records, record))
    renewed = replace(record, counts=there.counts)
    return replace(build, earlier_records=replaced_by_key(build.earlier_records, renewed))


def without_record(build: BuildInput, key: str) -> BuildInput:
    """The build without the record of an earlier build."""
    left = tuple(record for record in build.earlier_records if record.key != key)
    return replace(build, earlier_records=left)
