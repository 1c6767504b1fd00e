"""One glossary: each word once, in order, in use; and no word of a plan without an entry."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from scheduler.law.composition import Kind
from scheduler.plan_rows import StageKind

ROOT = Path(__file__).parents[2]
GLOSSARY = ROOT / "scheduler" / "GLOSSARY.md"
ROWS = re.findall(r"^\| (.+?)( °)? \| (.+) \|$", GLOSSARY.read_text(encoding="utf-8"), re.MULTILINE)[1:]
WORDS = [word for word, _, _ in ROWS]
OF_STAGES = {
    StageKind.WASH_JARS: "jar oven",
    StageKind.LOAD_JARS: "jar oven",
    StageKind.STAND_BY: "stand by",
    StageKind.WASH: "batch",
    StageKind.FREEZE: "prepare",
    StageKind.LABEL: "best before",
    StageKind.TAKE_OUT: "thaw",
}
"""Stages that say in two or more words what stands in the entry of one."""


def texts() -> str:
    """All that is written in the package, the scenarios and the pages on them, but for the glossary."""
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "scenarios").rglob("*.md")]
    ours = [path for kind in ("*.py", "*.md", "*.csv") for path in (ROOT / "scheduler").rglob(kind)]
    return "\n".join(path.read_text(encoding="utf-8") for path in [*pages, *ours] if path != GLOSSARY).lower()


TEXTS = texts()


def test_words_stand_once_and_in_alphabetical_order() -> None:
    assert len(WORDS) > 100
    assert sorted(set(WORDS)) == WORDS


@pytest.mark.parametrize("word", WORDS)
def test_a_word_is_used(word: str) -> None:
    written = r"[-_\s]+".join(map(re.escape, re.split("[- ]", word)))
    assert re.search(rf"\b{written}", TEXTS)


@pytest.mark.parametrize(
    "word", [*(kind.value for kind in Kind), *(OF_STAGES.get(s, s.value) for s in StageKind)]
)
def test_every_kind_and_stage_is_explained(word: str) -> None:
    assert word in WORDS


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "scheduler/RULES.md", "scenarios/README.md"])
def test_every_page_points_to_the_glossary(page: str) -> None:
    links = re.findall(r"\]\(([^)]*GLOSSARY\.md)\)", (ROOT / page).read_text(encoding="utf-8"))
    assert links, f"{page} does not name it"
    assert all((ROOT / page).parent.joinpath(link).resolve() == GLOSSARY for link in links)
