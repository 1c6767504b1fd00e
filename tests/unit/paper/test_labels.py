"""Labels: one a jar, whole on its place, big enough to read, and a draft until somebody has settled it."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date

import pytest
import typst

from scheduler.domain.recipes import JarSize, OtherIngredient
from scheduler.errors import InputFaults
from scheduler.paper import GRIDS, Wish, print_pdf
from scheduler.paper.labels import Grid, labels
from scheduler.sheet import HERE, label_draft
from tests.unit.paper.reading import PT_PER_MM, pieces, plain, reader, without_blanks
from tests.unit.views import kilbrack_sample as sample

PLAN, FARM = sample.plan(), sample.situation().scenario
ONE = Wish(of="260706-1")
COUNT = 46
"""Jars of that batch."""


def em(sign: str) -> float:
    """How high a sign of the labels' face is, in em, as the typesetter itself measures its outline."""
    said = (
        '#set text(font: "Libertinus Serif", size: 1000pt, top-edge: "bounds", bottom-edge: "bounds")\n'
        f"#context [#metadata(measure([{sign}]).height.pt()) <high>]"
    )
    fonts = typst.Fonts(include_system_fonts=False)
    found = typst.Compiler(said.encode(), font_paths=fonts).query("<high>", field="value", one=True)
    return float(json.loads(found)) / 1000


@pytest.mark.parametrize("grid", GRIDS.values(), ids=str)
def test_a_grid_lies_on_a4_with_equal_margins(grid: Grid) -> None:
    """A4 is 210 mm by 297 mm (ISO 216)."""
    across = grid.columns * grid.width + (grid.columns - 1) * grid.gap
    assert 2 * grid.left + across == pytest.approx(210)
    assert 2 * grid.top + grid.rows * grid.height == pytest.approx(297)
    assert min(grid.left + grid.clear_x, grid.top + grid.clear_y) >= 4


@pytest.mark.parametrize("name", GRIDS)
def test_each_jar_has_a_label_inside_its_place(name: str) -> None:
    grid = GRIDS[name]
    wish = replace(ONE, grid=name)
    first, *sheets = reader(print_pdf("labels", PLAN, FARM, wish)).pages
    assert plain(first.extract_text()).startswith("Labels")
    places = []
    for sheet in sheets:
        height = float(sheet.mediabox[3]) / PT_PER_MM
        for piece in pieces(sheet):
            column, across = divmod(piece.x - grid.left, grid.width + grid.gap)
            row, down = divmod(height - piece.y - grid.top, grid.height)
            wide = 0.36 * piece.size / PT_PER_MM * len(piece.text)
            assert grid.clear_x - 0.1 <= across <= across + wide <= grid.width - grid.clear_x + 0.1, piece
            assert grid.clear_y <= down <= grid.height - grid.clear_y + 0.1, piece
            if piece.text == "Strawberry jam":
                places.append((sheet.page_number, row, column))
    assert len(places) == len(set(places)) == COUNT
    assert len(sheets) == -(-COUNT // (grid.columns * grid.rows))


def test_all_jars_of_the_plan_are_labelled() -> None:
    found = labels(PLAN, FARM, None, "2x7", HERE)
    assert found is not None
    assert found["count"] == sum(batch.jars for batch in PLAN.batches)


def test_small_letters_and_the_net_quantity_are_as_high_as_the_law_asks() -> None:
    """An x of 1.2 mm: Regulation (EU) No 1169/2011, Article 13(2); figures of 4 mm from 200 g on, 3 mm from
    50 g on: Directive 76/211/EEC, Annex I, 3.1. Both from memory."""
    small_jar = replace(FARM.recipes[0], jar_kg=0.11)
    farm = replace(FARM, recipes=(small_jar, *FARM.recipes[1:]))
    for scenario, net, least in ((FARM, "340 g", 4), (farm, "110 g", 3)):
        for page in reader(print_pdf("labels", PLAN, scenario, replace(ONE, grid="3x8"))).pages[1:]:
            found = pieces(page)
            assert min(p.size for p in found) * em("x") / PT_PER_MM >= 1.2
            figures = [p.size for p in found if p.text == net]
            assert figures
            for figure in set(net) & set("0123456789"):
                assert least <= min(figures) * em(figure) / PT_PER_MM < 1.1 * least


def test_a_label_says_what_the_draft_says_with_the_lot_of_its_batch() -> None:
    draft = label_draft(FARM, FARM.recipes[0])
    page = reader(print_pdf("labels", PLAN, FARM, ONE)).pages[1]
    told = without_blanks(page.extract_text())
    for line in draft.lines:
        if line.what != "lot":
            assert without_blanks(line.text) in told, line
    assert "L260706-1" in told


def test_what_is_still_to_be_settled_stands_before_the_labels_and_on_none_of_them() -> None:
    draft = label_draft(FARM, FARM.recipes[0])
    front, *sheets = (
        without_blanks(p.extract_text()) for p in reader(print_pdf("labels", PLAN, FARM, ONE)).pages
    )
    assert "Adraft" in front
    for check in draft.to_check:
        assert without_blanks(check) in front
    for line in draft.lines:
        if line.what != "lot":
            assert without_blanks(f"{line.source}, {'read' if line.verified else 'not verified'}") in front
    for sheet in sheets:
        assert "raft" not in sheet
        assert "verified" not in sheet


def test_best_before_counts_from_the_day_of_potting() -> None:
    found = labels(PLAN, FARM, None, "2x7", HERE)
    assert found is not None
    by_lot = {label["lot"]: label["best_before"] for label in found["labels"]}
    months = FARM.recipes[0].best_before_months
    assert months is None  # the usual of its class: 12
    assert by_lot["L 260706-1"] == "Best before: 6 July 2027"
    assert by_lot["L 260708-1"] == "Best before: 8 July 2027"


def test_each_size_has_its_own_net_quantity_and_count() -> None:
    recipe = replace(
        FARM.recipes[0], more_sizes=(JarSize("jar 110", "lid 43", 0.11),), fill_shares=((0.5, 0.5),)
    )
    farm = replace(FARM, recipes=(recipe, *FARM.recipes[1:]))
    plan = replace(PLAN, batches=(replace(PLAN.batches[0], filled=(20, 60)), *PLAN.batches[1:]))
    found = labels(plan, farm, "260706-1", "2x7", HERE)
    assert found is not None
    assert [(label["net"], label["count"], label["net_mm"]) for label in found["labels"]] == [
        ("340 g", 20, 4),
        ("110 g", 60, 3),
    ]


def test_allergens_stand_in_capitals() -> None:
    almonds = OtherIngredient("ground almonds", 20, allergen=True)
    farm = replace(FARM, recipes=(replace(FARM.recipes[0], others=(almonds,)), *FARM.recipes[1:]))
    page = reader(print_pdf("labels", PLAN, farm, ONE)).pages[1]
    assert "GROUND ALMONDS" in plain(page.extract_text())


def test_what_is_to_be_checked_of_one_product_alone_stands_with_it() -> None:
    almonds = OtherIngredient("ground almonds", 20, allergen=True)
    farm = replace(FARM, recipes=(replace(FARM.recipes[0], others=(almonds,)), *FARM.recipes[1:]))
    found = labels(PLAN, farm, None, "2x7", HERE)
    assert found is not None
    assert not any("ground almonds" in check for check in found["to_check"])
    front = plain(reader(print_pdf("labels", PLAN, farm)).pages[0].extract_text())
    with_almonds, _, others = front.partition("raspberry and redcurrant jam, jar 340")
    assert "Allergens named: ground almonds." in with_almonds
    assert "Allergens named: ground almonds." not in others


def test_words_that_do_not_fit_are_refused_with_larger_labels() -> None:
    spices = tuple(OtherIngredient(f"spice of the {i}th cupboard from the left", 0.5) for i in range(12))
    farm = replace(FARM, recipes=(replace(FARM.recipes[0], others=spices), *FARM.recipes[1:]))
    with pytest.raises(InputFaults, match=r"2x4 \(2 × 4 of 99.1 × 67.7 mm\)"):
        print_pdf("labels", PLAN, farm, replace(ONE, grid="3x8"))
    assert len(reader(print_pdf("labels", PLAN, farm, replace(ONE, grid="2x4"))).pages) == 7


def test_the_law_of_the_day_of_potting_decides() -> None:
    """The directive of 2024 applies from 14 June 2026 on: before, the sugar line is asked for as it was."""
    day = date(2026, 6, 8)
    by = day - FARM.start
    plan = replace(
        PLAN,
        batches=tuple(replace(b, day=b.day + by) for b in PLAN.batches),
        stages=tuple(replace(s, day=s.day + by) for s in PLAN.stages),
    )
    found = labels(plan, replace(FARM, start=day), "260608-1", "2x7", HERE)
    assert found is not None
    sources = {line["what"]: line["source"] for line in found["drafts"][0]["lines"]}
    assert "2001/113/EC, Article 2" in sources["sugar"]
