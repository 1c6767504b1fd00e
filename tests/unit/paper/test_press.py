"""The PDFs themselves: fonts, tags, sizes, what is literally on them, and that they do not vary."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from scheduler.errors import InputFaults
from scheduler.paper import WHATS, Wish, print_pdf
from scheduler.paper.press import LONGEST, ready
from tests.unit.paper import long_names
from tests.unit.paper.reading import fonts, outline, pieces, reader, text, without_blanks
from tests.unit.views import kilbrack_sample as sample

PLAN, FARM = sample.plan(), sample.situation().scenario
LONG_PLAN, LONG_FARM = long_names.plan(), long_names.situation().scenario
ALL = print_pdf("all", PLAN, FARM)
LONG = print_pdf("all", LONG_PLAN, LONG_FARM)
LEAST_PT = 8.0
A4, A3 = (595, 842), (842, 1191)
"""Points, rounded: ISO 216."""


def test_every_font_is_embedded_and_none_is_the_machines() -> None:
    found = list(fonts(ALL))
    assert found
    for font in found:
        name = font["/BaseFont"]
        assert re.match(r"/[A-Z]{6}\+", name)  # a subset, ISO 32000-1, 9.6.4
        assert "Libertinus" in name or "DejaVu" in name
        below = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        kept = below["/FontDescriptor"].get_object()
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(kept), name


def test_it_is_tagged_and_says_its_title_and_language() -> None:
    found = reader(ALL)
    root = found.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/StructTreeRoot"]["/K"]
    assert root["/Lang"].lower().startswith("en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert found.metadata is not None
    assert found.metadata.title == "Kilbrack: All papers, 6 Jul to 12 Jul 2026"
    assert found.metadata.creation_date is None


def test_the_outline_names_every_paper_and_every_batch() -> None:
    told = outline(ALL)
    for title in ("BATCH SHEETS", "To pick", "From the freezer", "To order"):
        assert title in told
    assert sum("Cook calendar" in each for each in told) >= 1
    assert sum(each.endswith(" jam, from the freezer") or each.endswith(" jam") for each in told) == len(
        PLAN.batches
    )


@pytest.mark.parametrize("what", WHATS)
def test_the_same_plan_gives_the_same_bytes(what: str) -> None:
    wish = Wish(of="260706-1") if what == "labels" else Wish()
    assert print_pdf(what, PLAN, FARM, wish) == print_pdf(what, PLAN, FARM, wish)


def test_another_process_and_time_zone_give_the_same_bytes() -> None:
    said = (
        "import sys; from scheduler.paper import print_pdf\n"
        "from tests.unit.views import kilbrack_sample as s\n"
        "sys.stdout.buffer.write(print_pdf('thaw', s.plan(), s.situation().scenario))"
    )
    root = Path(__file__).parents[3]
    again = subprocess.run(
        [sys.executable, "-c", said], env=os.environ | {"TZ": "Asia/Tokyo"}, cwd=root, capture_output=True,
        check=True,
    )  # fmt: skip
    assert again.stdout == print_pdf("thaw", PLAN, FARM)


def test_another_plan_says_at_its_foot_that_it_is_another() -> None:
    other = replace(PLAN, purchases=PLAN.purchases[:1])
    foot, other_foot = (pieces(reader(print_pdf("thaw", plan, FARM)).pages[0])[-2:] for plan in (PLAN, other))
    assert [each.text for each in foot] != [each.text for each in other_foot]


def test_no_text_is_smaller_than_eight_points() -> None:
    for pdf in (ALL, LONG, print_pdf("labels", PLAN, FARM, Wish(of="260706-1", grid="3x8"))):
        for page in reader(pdf).pages:
            assert min(piece.size for piece in pieces(page)) >= LEAST_PT - 0.01


def test_pages_are_a4_or_for_the_calendar_a3_on_its_side() -> None:
    sizes = {tuple(sorted(map(round, page.mediabox[2:]))) for page in reader(ALL).pages}
    assert sizes == {A4}
    (large,) = reader(print_pdf("calendar", PLAN, FARM, Wish(size="a3"))).pages
    assert tuple(map(round, large.mediabox[2:])) == (A3[1], A3[0])


def test_long_names_and_signs_of_markup_come_out_whole() -> None:
    told = without_blanks(text(LONG))
    for name in long_names.NAMES.values():
        assert without_blanks(name) in told


def test_a_hyphen_stays_one_that_can_be_searched_for() -> None:
    """A typesetter that hyphenates may write every hyphen of its font as a soft one (U+00AD)."""
    assert "\u00ad" not in text(ALL) + text(LONG)


def test_no_text_runs_off_its_page() -> None:
    """A letter of this face is 0.38 em wide on average or more (its narrow letters are rarer than that)."""
    for page in reader(LONG).pages:
        width, height = (float(each) / 72 * 25.4 for each in page.mediabox[2:])
        for piece in pieces(page):
            ends = piece.x + 0.38 * piece.size * 25.4 / 72 * len(piece.text.replace("\u200b", ""))
            assert 0 < piece.x < ends < width, piece
            assert 0 < piece.y < height, piece


def test_blanks_become_single_and_long_words_may_break() -> None:
    told = ready({"a": [" two \n words "], "b": "x" * (LONGEST + 1), "c": "y" * LONGEST, "d": 3})
    assert told["a"] == ["two words"]
    assert told["b"].replace("\u200b", "") == "x" * (LONGEST + 1)
    assert max(map(len, told["b"].split("\u200b"))) < LONGEST
    assert told["c"] == "y" * LONGEST
    assert told["d"] == 3


def test_a_letter_that_no_font_has_is_named_and_nothing_is_printed_wrong() -> None:
    farm = replace(FARM, farm="草莓")
    with pytest.raises(InputFaults, match="草"):
        print_pdf("thaw", PLAN, farm)


@pytest.mark.parametrize(
    ("what", "wish", "told"),
    [
        ("batches", Wish(of="260706-99"), "260706-1"),
        ("thaw", Wish(of="260706-1"), "--of"),
        ("batches", Wish(size="a3"), "--size"),
    ],
)
def test_a_wish_that_is_none_for_a_paper_is_told(what: str, wish: Wish, told: str) -> None:
    with pytest.raises(InputFaults, match=told):
        print_pdf(what, PLAN, FARM, wish)


@pytest.mark.parametrize("what", ["calendar", "batches", "labels", "thaw", "picks", "purchases"])
def test_a_plan_with_nothing_of_a_paper_is_told(what: str) -> None:
    empty = replace(PLAN, batches=(), stages=(), mixes=(), draws=(), freezer=(), purchases=())
    farm = replace(FARM, picks=(), deliveries=())
    with pytest.raises(InputFaults, match="nothing to print"):
        print_pdf(what, empty, farm)
    with pytest.raises(InputFaults, match="nothing to print"):
        print_pdf("all", empty, farm)
