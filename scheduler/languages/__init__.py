"""Texts in the reader's language: English as it stands in the code, every other language from its catalogue.

Measures are shown in the units that the reader's farm goes by; ``measures`` writes them.

Texts are looked up when they are shown, never when a module is imported: what stands in a constant is marked
with ``message`` and said later with ``spoken``. ``maslin.pot`` holds all texts of the code,
``python -m scheduler.languages`` writes it and brings the catalogues beside it in step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache

from babel import Locale

from scheduler.languages.catalogues import ENGLISH, catalogue, languages

__all__ = [
    "BOTH",
    "ENGLISH",
    "IMPERIAL",
    "METRIC",
    "ask",
    "ask_units",
    "current",
    "languages",
    "locale",
    "message",
    "name_of",
    "say",
    "say_as",
    "say_many",
    "speaking",
    "spoken",
    "units",
]

METRIC, IMPERIAL, BOTH = "metric", "imperial", "both"
"""Units of what is shown; both are metric with imperial behind it."""

_chosen: ContextVar[str | None] = ContextVar("language", default=None)
_units: ContextVar[str | None] = ContextVar("units", default=None)
_askers: list[Callable[[], str | None]] = []
_unit_askers: list[Callable[[], str | None]] = []


def current() -> str:
    """The language of what is said now: of ``speaking``, else of the reader who is served, else English."""
    chosen = _chosen.get()
    if chosen is None:
        chosen = next((found for asker in _askers if (found := asker())), ENGLISH)
    return chosen


def units() -> str:
    """The units of what is shown now: of ``speaking``, else of the reader who is served, else metric."""
    chosen = _units.get()
    if chosen is None:
        chosen = next((found for asker in _unit_askers if (found := asker())), METRIC)
    return chosen


@contextmanager
def speaking(language: str, units: str | None = METRIC) -> Iterator[None]:
    """Say everything inside in a language, whoever is served, and show it in units; None: the reader's.

    Raises ValueError if there is no catalogue.
    """
    if language not in languages():
        raise ValueError(f"no catalogue of language {language!r}")
    tokens = _chosen.set(language), _units.set(units)
    try:
        yield
    finally:
        _chosen.reset(tokens[0])
        _units.reset(tokens[1])


def ask(asker: Callable[[], str | None]) -> None:
    """Have ``asker`` asked for the language of the reader who is served; it knows none with None.

    A server calls code of a page in many ways (a whole page, a part of it, what follows a press); asked at
    each text, no way can be forgotten.
    """
    _askers.append(asker)


def ask_units(asker: Callable[[], str | None]) -> None:
    """The same for the units of the reader's farm."""
    _unit_askers.append(asker)


def locale() -> Locale | None:
    """What the library Babel writes numbers and dates by; None for English, which writes them its own way."""
    language = current()
    return None if language == ENGLISH else _locale(language)


_locale = cache(Locale.parse)


def name_of(language: str) -> str:
    """A language by its own name: ``Deutsch``."""
    own = Locale.parse(language)
    return (own.get_display_name(own) or language).capitalize()


def message(text: str) -> str:
    """Mark a text of a constant for the catalogues; ``spoken`` says it."""
    return text


def spoken(text: str) -> str:
    """A text that is marked elsewhere; one that is not in the catalogue, as a name, stays as it is."""
    language = current()
    return text if language == ENGLISH or not text else catalogue(language).gettext(text)


def say(text: str, /, **values: object) -> str:
    """A text with its ``{values}``."""
    said = spoken(text)
    return said.format(**values) if values else said


def say_as(context: str, text: str, /, **values: object) -> str:
    """The same of a text that another language says in several ways: ``context`` tells them apart."""
    language = current()
    said = text if language == ENGLISH else str(catalogue(language).pgettext(context, text))
    return said.format(**values) if values else said


def say_many(one: str, many: str, n: int, /, **values: object) -> str:
    """A text for ``n`` of something, by the language's own rule of plurals; ``{n}`` is written by it, too."""
    language = current()
    english = one if n == 1 else many
    said = english if language == ENGLISH else str(catalogue(language).ngettext(one, many, n))
    return said.format(**{"n": n, **values})
