"""What the media are called; the colour stands for the same, the word always beside it."""

from webapp.build.build_input import Medium

MEDIUM_WORDS: dict[Medium, str] = {
    "air": "air",
    "water": "fresh water",
    "fuel": "fuel",
    "oil": "oil",
    "gas": "gas",
    "vacuum": "vacuum",
    "electrical": "electrical",
    "none": "no medium",
}
