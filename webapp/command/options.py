"""The options that several commands take, and how the words of an option are read."""

import argparse
from pathlib import Path
from typing import Any

LONGEST_TIGHTENING = 86_400
MOST_DRAWS = 100_000
LONGEST_SEED = 18


def add_data(parser: argparse.ArgumentParser) -> None:
    """Which data file."""
    parser.add_argument("--data", metavar="FILE", type=Path, help="the database to use")


def add_port(parser: argparse.ArgumentParser) -> None:
    """Where this machine itself is answered."""
    parser.add_argument("--port", type=port, help="the port to listen on; 0 takes any free one")


def add_shop(parser: argparse.ArgumentParser) -> None:
    """What concerns the shop's own network."""
    parser.add_argument(
        "--shop", action="store_true", help="let paired devices in from the shop's own network"
    )
    parser.add_argument(
        "--shop-port", type=port, help="the port for paired devices; 0 takes any free one"
    )
    parser.add_argument(
        "--shop-name", metavar="NAME", help="one more name that the network knows this machine by"
    )
    parser.add_argument(
        "--certificate", metavar="FILE", type=Path, help="encrypt with this certificate, in PEM"
    )
    parser.add_argument(
        "--certificate-key", metavar="FILE", type=Path, help="its key; left out where it is in it"
    )


def shop_flags(options: argparse.Namespace) -> dict[str, Any]:
    """What was given of `add_port` and `add_shop`, as settings take it."""
    names = ("port", "shop", "shop_port", "shop_name", "certificate", "certificate_key")
    return {name: getattr(options, name) for name in names}


def add_document(parser: argparse.ArgumentParser) -> None:
    """Which build document."""
    parser.add_argument("file", metavar="FILE", help="a build document; - reads standard input")


def port(text: str) -> int:
    """A port; raises ArgumentTypeError, as those below do."""
    if not (text.isascii() and text.isdecimal() and len(text) <= 5 and int(text) <= 65535):
        raise argparse.ArgumentTypeError(f"{text!r} is no port: give a number from 0 to 65535")
    return int(text)


def seconds_limit(text: str) -> float:
    """For how many seconds at most something is looked for."""
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= LONGEST_TIGHTENING:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no time limit: give seconds above 0, at most {LONGEST_TIGHTENING:,}"
        )
    return seconds


def draws(text: str) -> int:
    """Over how many draws."""
    count = int(text) if text.isascii() and text.isdecimal() and len(text) <= 9 else 0
    if not 1 <= count <= MOST_DRAWS:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no number of draws: give a whole number from 1 to {MOST_DRAWS:,}"
        )
    return count


def seed(text: str) -> int:
    """Which luck draws have."""
    if not (text.isascii() and text.isdecimal() and len(text) <= LONGEST_SEED):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no seed: give a whole number from 0, of at most {LONGEST_SEED} digits"
        )
    return int(text)
