"""The press: papers as dicts of words in, a PDF out.

Words go to the templates as data, never as markup, so that a name may hold any sign. Only the fonts that the
typesetter brings along are used, and no date is written: the same plan gives the same bytes on any machine.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import typst

MAIN = Path(__file__).parent / "main.typ"
MARK = "Maslin paper"
"""Keyword in the metadata of every PDF of ours."""
LONGEST = 14
"""Characters of a word that the narrowest column holds; a longer one may break."""
_EVERY = 7
_AT_SIGNS = re.compile(r"(?<=[^\W\d][-/_])")
_BLANKS = re.compile(r"[^\S\u00a0]+")
"""White space at which a line may break."""
_MAY_BREAK = "\u200b"
_TOO_LONG = "does not fit: "
_NO_GLYPH = "could not be displayed"


class CannotSet(Exception):
    """Words that cannot be set: too long for a label, or in letters that no font here has."""


def press(title: str, farm: str, foot: str, parts: Sequence[Mapping[str, Any]]) -> bytes:
    """The PDF of some papers, tagged and with its fonts embedded.

    Each part names its ``kind``, a template; ``foot`` stands at the foot of every page. The PDF keeps to
    PDF/UA-1 (ISO 14289-1), by which screen readers read it, as far as the typesetter checks that. Raises
    CannotSet where words do not fit, or hold a letter that none of the fonts has.
    """
    data = {"title": title, "farm": farm, "foot": foot, "mark": MARK, "parts": list(parts)}
    try:
        made = typst.compile(
            MAIN,
            root=MAIN.parent,
            font_paths=typst.Fonts(include_system_fonts=False),
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards="ua-1",
            sys_inputs={"data": json.dumps(ready(data), ensure_ascii=False)},
        )
    except typst.TypstError as error:
        if _TOO_LONG in error.message:
            told = error.message.partition(_TOO_LONG)[2].strip(' "')
            raise CannotSet(f"a label too long for its place: {told}") from error
        if _NO_GLYPH in error.message:
            told = error.message.partition('"')[2].rpartition(f'"` {_NO_GLYPH}')[0]
            raise CannotSet(f"a letter that the fonts of paper do not have: {told}") from error
        raise
    assert isinstance(made, bytes)
    return made


def is_ours(pdf: bytes) -> bool:
    """Whether a file is a PDF of ours to which nobody has added anything since."""
    return MARK.encode() in pdf and pdf.count(b"%%EOF") == 1


def ready(data: Any) -> Any:
    """The same with its white space told as single blanks, and with places to break in long words."""
    if isinstance(data, str):
        return " ".join(map(_breakable, _BLANKS.split(data.strip())))
    if isinstance(data, Mapping):
        return {key: value if key in _AS_IT_IS else ready(value) for key, value in data.items()}
    if isinstance(data, Sequence):
        return [ready(each) for each in data]
    return data


_AS_IT_IS = {"title", "mark", "svg", "kind", "stages"}
"""No running text: metadata, drawings, and what templates go by."""


def _breakable(word: str) -> str:
    """A long word may end a line after a hyphen or stroke; where that leaves a long piece, within it too."""
    if len(word) <= LONGEST:
        return word
    parts = [
        [part] if len(part) <= LONGEST else [part[i : i + _EVERY] for i in range(0, len(part), _EVERY)]
        for part in _AT_SIGNS.split(word)
    ]
    return _MAY_BREAK.join(piece for pieces in parts for piece in pieces if piece)
