"""What a document says that it is: its format and its version, the same for every kind."""

from collections.abc import Callable

from webapp.exchange.value_readers import found, refused


def reads_format(name: str, kind: str) -> Callable[[object], str]:
    """Reads the format, which has to be `name`; `kind` is what is asked for: "a cut document"."""

    def read(value: object) -> str:
        if value != name:
            raise refused(f'must be "{name}", not {found(value)}: is this {kind}?')
        return name

    return read


def reads_version(version: int) -> Callable[[object], int]:
    """Reads the version, of which this program knows one."""

    def read(value: object) -> int:
        if isinstance(value, bool) or value != version:
            raise refused(
                f"must be {version}, not {found(value)}. A newer document needs a newer program."
            )
        return version

    return read
