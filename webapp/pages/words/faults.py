"""Faults of a build as a page says them: things by their names alone."""

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import SHOWN_OF_A_LABEL, shown


def said(fault: Fault) -> str:
    """The sentence of a fault without the key of its thing.

    Who reads a document needs the key to find the thing; on a page nobody has ever typed one.
    """
    own = f" ({shown(fault.key, SHOWN_OF_A_LABEL)}): "
    return fault.text.replace(own, ": ", 1) if fault.key else fault.text
