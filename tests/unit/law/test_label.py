"""The draft of a label, line by line."""

from __future__ import annotations

from datetime import date

import pytest

from scheduler.law.composition import Composition, Ingredient, Kind, Role
from scheduler.law.label import Jar, draft
from scheduler.law.naming import ADVICE
from tests.unit.law.jars import preserve

PACKED = date(2026, 6, 10)
PECTIN = Ingredient("pectin", 0.5, Role.PECTIN)
LEMON = Ingredient("lemon juice (sulphites)", 3, Role.ACID, allergen=True)
TWO_FRUITS = preserve({"redcurrant": 12.6, "strawberry": 40}, sugar=58, solids=0.634, more=(PECTIN, LEMON))


def jar(mix: Composition = TWO_FRUITS, name: str = "jam", **changes: object) -> Jar:
    facts: dict[str, object] = {
        "net_grams": 340, "labelled": PACKED, "best_before": date(2027, 6, 10), "lot": "2026-161",
    }  # fmt: skip
    return Jar(mix, name, **(facts | changes))  # type: ignore[arg-type]


def best_before(day: date) -> str | None:
    return draft(jar(best_before=day), "European Union").text("best before")


@pytest.mark.parametrize(
    ("grams", "told"),
    [
        (226.796, "226 g"),
        (453.59237, "453 g"),
        (0.34 * 1000, "340 g"),
        (339.9999999, "340 g"),
        (1000.4, "1 kg"),
    ],
)
def test_a_label_promises_whole_grams_and_never_more_than_is_in_the_jar(grams: float, told: str) -> None:
    """8 oz and 1 lb are 226.796 g and 453.592 g (Weights and Measures Act 1985)."""
    assert draft(jar(net_grams=grams), "European Union").text("net quantity") == told


def test_the_label_of_a_two_fruit_jam() -> None:
    """Lines: Council Directive 2001/113/EC, Article 2; general lines: Regulation (EU) 1169/2011 (memory)."""
    label = draft(jar(), "European Union")
    assert label.text("name") == "Strawberry and redcurrant jam"
    assert label.text("ingredients") == (
        "Ingredients: sugar, strawberry, redcurrant, LEMON JUICE (SULPHITES), pectin"
    )
    assert label.text("fruit") == "Prepared with 52 g of fruit per 100 g"
    assert label.text("sugar") == "Total sugar content 63 g per 100 g"
    assert label.text("net quantity") == "340 g"
    assert label.text("best before") == "Best before: 10 June 2027"
    assert label.text("lot") == "L 2026-161"
    assert label.text("storage") == "Keep in a cool dark place."
    assert ADVICE in label.to_check
    assert any("sulphites" in check for check in label.to_check)
    assert all(line.source for line in label.lines)


def test_fruit_is_never_rounded_up_and_whole_grams_stay_whole() -> None:
    for grams, stated in ((45.0, 45), (45.99, 45), (0.1 * 450, 45), (46.0, 46)):
        label = draft(jar(preserve({"strawberry": grams})), "England")
        assert label.text("fruit") == f"Prepared with {stated} g of fruit per 100 g"


def test_water_is_named_only_as_far_as_it_stays_in_the_jar() -> None:
    """Above 5 % of the finished food: Regulation (EU) 1169/2011, Annex VII, from memory."""
    dry = draft(jar(preserve({"strawberry": 40}, sugar=55, water=30)), "England")
    assert dry.text("ingredients") == "Ingredients: sugar, strawberry"
    wet = draft(jar(preserve({"passion fruit": 8}, sugar=62, water=40)), "England")
    assert wet.text("ingredients") == "Ingredients: sugar, water, passion fruit"


def test_the_sugar_line_is_asked_before_14_june_2026_and_dropped_after() -> None:
    """Source: summary of Directive (EU) 2024/1438 by the Food Safety Authority of Ireland."""

    def remark(jar: Jar, place: str) -> str:
        (line,) = (line for line in draft(jar, place).lines if line.what == "sugar")
        return line.remark

    later = jar(labelled=date(2026, 6, 14))
    assert "no longer asks" not in remark(jar(), "European Union")
    assert "no longer asks" in remark(later, "European Union")
    assert "no longer asks" not in remark(later, "England")
    # beside a nutrition declaration: summary of Directive 2001/113/EC
    assert "left out" in remark(jar(nutrition_given=True), "England")


def test_a_name_that_the_preserve_may_not_bear_is_refused() -> None:
    thin = preserve({"strawberry": 40})
    assert draft(jar(thin), "European Union").text("name") == "Strawberry jam"
    with pytest.raises(ValueError, match=r"'jam' is not allowed.*400 g per kg, at least 450"):
        draft(jar(thin, labelled=date(2026, 6, 14)), "European Union")
    with pytest.raises(ValueError, match="'extra jam' is not allowed"):
        draft(jar(thin, "extra jam"), "European Union")
    curd = draft(jar(thin, "curd"), "England")
    assert any("not settled" in check for check in curd.to_check)


def test_american_labels_have_no_lines_that_only_the_directive_asks_for() -> None:
    label = draft(jar(preserve({"strawberry": 55}, sugar=55), "preserves"), "United States")
    assert label.text("name") == "Strawberry preserves"
    assert label.text("fruit") is None
    assert label.text("sugar") is None
    assert any("not held for this place" in check for check in label.to_check)


def test_the_form_of_the_date_follows_the_life() -> None:
    """3 and 18 months: food date and lot marking guide; month and year above 18 months: memory."""
    assert best_before(date(2026, 9, 10)) == "Best before: 10 September"
    assert best_before(date(2026, 9, 11)) == "Best before: 11 September 2026"
    assert best_before(date(2027, 12, 10)) == "Best before: 10 December 2027"
    # a month is never rounded up
    assert best_before(date(2027, 12, 11)) == "Best before end: November 2027"
    assert best_before(date(2027, 12, 31)) == "Best before end: December 2027"
    assert best_before(date(2028, 1, 15)) == "Best before end: December 2027"


def test_lower_sugar_jars_say_how_to_keep_them_once_open() -> None:
    """Common practice, no source; reduced sugar jam of 25 to 50 %: Hampshire Trading Standards."""
    low = preserve({"strawberry": 60}, sugar=30, solids=0.50)
    label = draft(jar(low, "reduced sugar jam"), "England")
    assert "fridge" in (label.text("storage") or "")


def test_three_fruits_may_be_called_mixed() -> None:
    """Source: Council Directive 2001/113/EC, Article 2."""
    three = preserve({"strawberry": 25, "raspberry": 20, "redcurrant": 10})
    (name,) = (line for line in draft(jar(three), "European Union").lines if line.what == "name")
    assert name.text == "Strawberry, raspberry and redcurrant jam"
    assert "mixed fruit" in name.remark


def test_a_lot_that_says_l_keeps_its_mark_and_kg_are_told() -> None:
    label = draft(jar(lot="L7", net_grams=1500), "European Union")
    assert (label.text("lot"), label.text("net quantity")) == ("L7", "1.5 kg")


def test_bad_jars() -> None:
    with pytest.raises(ValueError, match="net quantity in g is 0"):
        jar(net_grams=0)
    with pytest.raises(ValueError, match="lot mark is empty"):
        jar(lot=" ")
    with pytest.raises(ValueError, match=r"best before is 2026-06-09; allowed: 2026-06-10 or later"):
        jar(best_before=date(2026, 6, 9))


def test_a_jelly_is_of_juice_and_never_claims_more_than_the_strictest_count() -> None:
    """Deduction of the water used to draw juice: Council Directive 2001/113/EC, Article 2 and Annex I."""
    for left_out, stated in ((0, "50"), (9.5, "40"), (49.5, "…")):
        mix = preserve({"redcurrant": 50}, kind=Kind.JELLY, left_out=left_out)
        label = draft(jar(mix, "jelly"), "European Union")
        assert label.text("name") == "Redcurrant jelly"
        assert label.text("ingredients") == "Ingredients: sugar, redcurrant juice"
        assert label.text("fruit") == f"Prepared with {stated} g of fruit per 100 g"
        (line,) = (line for line in label.lines if line.what == "fruit")
        assert ("50 g if not" in line.remark) is (left_out > 0)
        assert line.verified is (left_out == 0)


@pytest.mark.parametrize(
    ("kind", "name"),
    [(Kind.CORDIAL, "cordial"), (Kind.BUTTER, "fruit butter"), (Kind.CHUTNEY, "chutney")],
)
def test_kinds_outside_the_directive_have_none_of_its_lines(kind: Kind, name: str) -> None:
    """Council Directive 2001/113/EC asks for its lines on the products of its Annex I only."""
    label = draft(jar(preserve({"plum": 60}, kind=kind), name), "European Union")
    assert label.text("name") == f"Plum {name}"
    assert (label.text("fruit"), label.text("sugar")) == (None, None)
    assert any(f"not held for {kind}" in check for check in label.to_check)


def test_a_cordial_is_of_juice_and_water_and_sold_by_volume() -> None:
    """Liquids by volume: Regulation (EU) No 1169/2011, Article 23, from memory."""
    thin = preserve({"blackcurrant": 30}, sugar=40, water=30, solids=0.45, kind=Kind.CORDIAL)
    label = draft(jar(thin, "cordial"), "European Union")
    assert label.text("ingredients") == "Ingredients: sugar, blackcurrant juice, water"
    assert "fridge" in (label.text("storage") or "")
    (net,) = (line for line in label.lines if line.what == "net quantity")
    assert "millilitres" in net.remark
