"""Reads PDFs back with a library of its own, to see what really stands on the paper."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from pypdf import PageObject, PdfReader

PT_PER_MM = 72 / 25.4


@dataclass(frozen=True)
class Piece:
    """A run of text: where its baseline begins (mm from left and bottom), its size in points."""

    x: float
    y: float
    size: float
    text: str


def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf), strict=True)


@cache
def text(pdf: bytes) -> str:
    """All text in one line, without the places at which long words may break."""
    return plain("\n".join(page.extract_text() for page in reader(pdf).pages))


def plain(found: str) -> str:
    return " ".join(found.replace("\u200b", "").replace("\u00a0", " ").split())


def without_blanks(found: str) -> str:
    """For names that are broken over lines, where a reader cannot know a blank from a hyphen."""
    return "".join(found.replace("\u200b", "").split())


def pieces(page: PageObject) -> list[Piece]:
    found: list[Piece] = []

    def visit(said: str, matrix: list[float], at: list[float], _font: Any, size: float) -> None:
        if said.strip():
            x = at[4] * matrix[0] + matrix[4]
            y = at[5] * matrix[3] + matrix[5]
            scale = abs(at[3] * matrix[3])
            found.append(Piece(x / PT_PER_MM, y / PT_PER_MM, size * scale, said.strip()))

    page.extract_text(visitor_text=visit)
    return found


def fonts(pdf: bytes) -> Iterator[Any]:
    """Every font dictionary that a page names."""
    for page in reader(pdf).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            yield font.get_object()


def outline(pdf: bytes) -> list[str]:
    """Titles of the outline, of all its levels, in order."""

    def titles(entries: list[Any]) -> Iterator[str]:
        for entry in entries:
            if isinstance(entry, list):
                yield from titles(entry)
            else:
                yield plain(str(entry.title))

    return list(titles(reader(pdf).outline))
