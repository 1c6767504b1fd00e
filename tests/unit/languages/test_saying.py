"""What is said in which language, and that none is mixed with another."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest

from scheduler import languages
from scheduler.languages import catalogues, current, say, say_as, say_many, speaking, spoken
from scheduler.views import words

PO = """
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"

msgid "{mass} to pick"
msgstr "{mass} zu pflücken"

#, fuzzy
msgid "in doubt"
msgstr "im Zweifel"

msgctxt "fruit"
msgid "left"
msgstr "übrig"

msgid "{n} batch"
msgid_plural "{n} batches"
msgstr[0] "{n} Kochgang"
msgstr[1] "{n} Kochgänge"
"""


@pytest.fixture
def other(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """A small catalogue in place of the real ones."""
    home = tmp_path_factory.mktemp("catalogues")
    (home / "de.po").write_text(PO, encoding="utf-8")
    monkeypatch.setattr(catalogues, "HERE", home)
    catalogues.languages.cache_clear()
    catalogues.catalogue.cache_clear()
    yield "de"
    catalogues.languages.cache_clear()
    catalogues.catalogue.cache_clear()


def test_english_is_said_as_it_stands() -> None:
    assert current() == "en"
    assert say("{mass} to pick", mass="3 kg") == "3 kg to pick"
    assert [say_many("{n} batch", "{n} batches", n) for n in (1, 2)] == ["1 batch", "2 batches"]


def test_another_language_is_said_by_its_catalogue(other: str) -> None:
    with speaking(other):
        assert say("{mass} to pick", mass="3 kg") == "3 kg zu pflücken"
        assert [say_many("{n} batch", "{n} batches", n) for n in (0, 1, 2)] == [
            "0 Kochgänge",
            "1 Kochgang",
            "2 Kochgänge",
        ]
        assert say_as("fruit", "left") == "übrig"
        assert spoken("left") == "left"
    assert say("{mass} to pick", mass="3 kg") == "3 kg to pick"


def test_what_is_missing_or_in_doubt_is_said_in_english(other: str) -> None:
    with speaking(other):
        assert say("nothing of the kind, {x}", x=1) == "nothing of the kind, 1"
        assert say("in doubt") == "in doubt"


def test_values_are_never_read_as_places_to_fill(other: str) -> None:
    with speaking(other):
        assert say("{mass} to pick", mass="{mass}{x}") == "{mass}{x} zu pflücken"
        assert spoken("a {name} of its own") == "a {name} of its own"


def test_a_language_without_a_catalogue_is_refused() -> None:
    with pytest.raises(ValueError, match="xx"), speaking("xx"):
        pass


def test_threads_keep_their_languages_apart() -> None:
    def day(language: str) -> set[str]:
        with speaking(language):
            return {words.mass(1234.5) for _ in range(200)}

    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(day, ["en", "de"] * 8))
    assert found == [{"1,234.5 kg"}, {"1.234,5 kg"}] * 8


def test_the_reader_who_is_served_is_asked_and_speaking_goes_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(languages, "_askers", [])
    languages.ask(lambda: None)
    assert current() == "en"
    languages.ask(lambda: "de")
    assert current() == "de"
    with speaking("en"):
        assert current() == "en"


def test_numbers_money_and_days_in_german() -> None:
    with speaking("de"):
        assert words.mass(1204.5) == "1.204,5 kg"
        assert words.money(-1204.5, "EUR") == "−1.204,50\u00a0€"
        assert words.money(12, "SEK", 0) == "12\u00a0SEK"
        assert words.percent(0.125) == "12,5 %"
        assert words.day_name(date(2026, 7, 6)) == "Mo 6. Jul"
        assert words.day_span(date(2026, 7, 6), date(2026, 7, 12)) == "6. Jul bis 12. Jul 2026"
        assert words.hours(450) == "7:30 Std."
        assert words.jars(1) == "1 Glas"
        assert words.jars(1200) == "1.200 Gläser"
        assert words.general(0.25) == "0,25"
    assert words.money(-1204.5, "EUR") == "−€1,204.50"
