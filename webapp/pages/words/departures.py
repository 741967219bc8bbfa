"""Why a task goes before one of an earlier subsystem, in words."""

from webapp.pages.words.the_end import the_end

_SHORT = {
    "kept_order": "as the kept order has it",
    "for_first_start": "{end} needs it",
    "begun": "it is begun",
    "setup_out": "its setup is out",
    "big_first": "it is the bigger piece",
    "longest_way": "the longer way still to go",
    "entered": "it was entered first",
}
_AT_LENGTH = {
    "kept_order": "the order that you kept has it first",
    "for_first_start": "{end} needs it and not the other, and what {end} needs comes first",
    "begun": "it is begun, and what is begun gets finished",
    "setup_out": "its setup was out already, and the other's was not",
    "big_first": "it is the bigger piece, and claims its space first",
    "longest_way": "from it the way still to go to {end} is the longer one",
    "entered": "the house rules that are on see them alike, and it was entered first",
}


def ahead_in_short(why: str, other: str, subsystem: str, price: str = "") -> str:
    """ "goes before Fit the core (Air): the longer way still to go, which saves 2.1 days"."""
    of = f" ({subsystem})" if subsystem else ""
    said = f"goes before {other}{of}: {_SHORT[why].format(end=the_end())}"
    return f"{said}, which {price}" if price else said


def ahead_at_length(why: str, other: str, subsystem: str, price: str = "") -> str:
    """The same in sentences, for the page of the task that goes first."""
    of = f" ({subsystem})" if subsystem else ""
    said = (
        f"goes before {other}{of}, which could have begun then:"
        f" {_AT_LENGTH[why].format(end=the_end())}."
    )
    return f"{said} On this build that {price}." if price else said
