"""Catalogues as files: a language has one if ``<language>.po`` stands here. Each is read once."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from babel.support import Translations

HERE = Path(__file__).parent
ENGLISH = "en"


@cache
def languages() -> tuple[str, ...]:
    """English, and the languages with a catalogue, by code."""
    return (ENGLISH, *sorted(path.stem for path in HERE.glob("*.po")))


def read(language: str) -> Catalog:
    """The catalogue of a language as its file has it."""
    with (HERE / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language)


@cache
def catalogue(language: str) -> Translations:
    """The texts of a language, ready to be looked up; what is missing or in doubt is said in English."""
    ready = BytesIO()
    write_mo(ready, read(language))
    ready.seek(0)
    return Translations(ready)
