"""The changes between two builds that a replay can switch on, and the cause each belongs to.

A change is a kind and the key of what it is about; what each kind stands for is told in `replay`.
"""

Change = tuple[str, str]
Changes = frozenset[Change]

CAUSE_OF_KIND = {
    "added": "scope",
    "dropped": "scope",
    "rest": "scope",
    "task": "estimates",
    "setup": "estimates",
    "day": "shop_time",
    "shop": "shop_time",
    "part": "parts",
    "outside": "parts",
}
