"""Every text of the code has its translation in every catalogue, with the same places to fill."""

from __future__ import annotations

import ast
from pathlib import Path
from string import Formatter

import pytest
from babel.messages.catalog import Catalog, Message

from scheduler.languages import ENGLISH, languages
from scheduler.languages.catalogues import HERE, read
from scheduler.languages.template import KEYWORDS, TEMPLATE, extracted, said_in, texts, write

OTHERS = [language for language in languages() if language != ENGLISH]
AS_IN_ENGLISH = 0.12
"""Share of the texts that may read the same in another language: units, signs, words that it shares."""


def keys(catalog: Catalog) -> set[tuple[object, object]]:
    return {(each.context, texts(each.id)) for each in catalog if each.id}


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def names(found: list[Message]) -> list[str]:
    return [texts(each.id)[0] for each in found]


def test_the_template_holds_the_texts_of_the_code(tmp_path: Path) -> None:
    write(extracted(), tmp_path / "now.pot")
    now = (tmp_path / "now.pot").read_text(encoding="utf-8")
    # The head is left out of the template alone.
    now = now[now.index("#:") :]
    assert TEMPLATE.read_text(encoding="utf-8")[-len(now) :] == now, "run: python -m scheduler.languages"


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_holds_the_texts_of_the_code_and_no_others(language: str) -> None:
    assert keys(read(language)) == keys(extracted()), "run: python -m scheduler.languages"


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_is_translated_and_none_in_doubt(language: str) -> None:
    asked = [each for each in read(language) if each.id]
    assert not names([each for each in asked if not all(texts(each.string)) or each.fuzzy])


@pytest.mark.parametrize("language", OTHERS)
def test_a_translation_fills_the_same_places(language: str) -> None:
    wrong = [
        each
        for each in read(language)
        if (each.id and any(places(said) != places(texts(each.id)[-1]) for said in texts(each.string)[1:]))
        or (each.id and not places(texts(each.string)[0]) <= places(texts(each.id)[-1]))
    ]
    assert not names(wrong)


@pytest.mark.parametrize("language", OTHERS)
def test_few_texts_read_as_in_english(language: str) -> None:
    asked = [each for each in read(language) if each.id]
    same = [each for each in asked if each.string == each.id]
    assert len(same) < AS_IN_ENGLISH * len(asked), names(same)


def test_texts_are_literals_where_they_are_said() -> None:
    """A text that is put together first could not be extracted."""
    wrong = []
    for path in HERE.parent.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        known = said_in(tree) & set(KEYWORDS)
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in known:
                wanted = {"say_as": 2, "say_many": 2}.get(node.func.id, 1)
                said = node.args[2:3] if node.func.id == "Caution" else node.args[:wanted]
                if not all(isinstance(each, ast.Constant) and isinstance(each.value, str) for each in said):
                    wrong.append(f"{path.name}:{node.lineno}")
    assert not wrong
