"""The texts of the code: extracted, written as template ``maslin.pot``, brought into the catalogues."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import write_po

from scheduler.languages.catalogues import ENGLISH, HERE, languages, read

PACKAGE = "scheduler.languages"
TEMPLATE = HERE / "maslin.pot"
KEYWORDS: dict[str, Any] = {
    "say": None,
    "message": None,
    "say_as": ((1, "c"), 2),
    "say_many": (1, 2),
    "Caution": (3,),
}
"""Calls whose texts are extracted, and which of their arguments are texts. ``law`` imports nothing of ours:
its cautions are known by what they are."""
NAMES = frozenset({
    "StageKind", "Part", "Heat", "Grade", "Place", "Skill", "Kind", "Weekday", "Act", "Rule", "State",
})  # fmt: skip
"""Enumerations whose values are shown, and so are texts."""
_WIDTH = 110


def extracted() -> Catalog:
    """Every text that the code says, with the files that say it."""
    package = HERE.parent
    found = Catalog(project="maslin", fuzzy=False)
    method = [("**.py", f"{__name__}:calls")]
    texts = extract_from_dir(package, method, keywords=KEYWORDS)
    for name, _, text, _, context in sorted(texts, key=lambda each: each[:2]):
        found.add(text, None, [(Path(package.name, name).as_posix(), 1)], context=context)
    return found


def calls(
    file: BinaryIO, keywords: dict[str, Any], _tags: object, options: object
) -> Iterator[tuple[int, str, tuple[str | None, ...], list[str]]]:
    """The literal texts in calls of ``keywords`` in a file, as Babel wants them of a method of extraction.

    Babel's own method reads tokens and misses a call inside a call inside a call.
    """
    tree = ast.parse(file.read())
    known = said_in(tree) & set(keywords)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in known:
            yield node.lineno, node.func.id, tuple(map(_literal, node.args)), []
        elif isinstance(node, ast.ClassDef) and node.name in NAMES:
            for each in node.body:
                if isinstance(each, ast.Assign) and (value := _literal(each.value)):
                    yield each.lineno, "message", (value,), []


def said_in(tree: ast.Module) -> set[str]:
    """Names by which a module may say texts: what it imports from here, and cautions."""
    ours = (node for node in tree.body if isinstance(node, ast.ImportFrom) and node.module == PACKAGE)
    return {"Caution"} | {alias.name for node in ours for alias in node.names}


def _literal(node: ast.expr) -> str | None:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def write(catalog: Catalog, path: Path) -> None:
    """Write a catalogue; the template without a head, so that it changes only when a text does."""
    with path.open("wb") as file:
        write_po(
            file,
            catalog,
            width=_WIDTH,
            include_lineno=False,
            ignore_obsolete=True,
            omit_header=path == TEMPLATE,
        )


def update() -> dict[str, int]:
    """Write the template anew and bring every catalogue in step: texts by the code, translations kept.

    Returns the number of texts by language that lack a translation.
    """
    template = extracted()
    write(template, TEMPLATE)
    lacking = {}
    for language in languages():
        if language == ENGLISH:
            continue
        own = read(language)
        own.update(template, no_fuzzy_matching=True, update_creation_date=False)
        write(own, HERE / f"{language}.po")
        lacking[language] = sum(not all(texts(each.string)) or each.fuzzy for each in own if each.id)
    return lacking


def texts(string: str | tuple[str, ...] | list[str] | None) -> tuple[str, ...]:
    """A text, or the texts by number, as one kind of thing; "" where there is none."""
    return tuple(string) if isinstance(string, tuple | list) else (string or "",)
