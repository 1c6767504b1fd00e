"""Each guard: fine, just over and just inside. None of them approves anything."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from scheduler.law.composition import Ingredient, Kind, Role
from scheduler.law.life import months_after
from scheduler.law.safety import Judge, Process, concerns
from tests.unit.law.jars import preserve

GOOD = preserve({"strawberry": 50}, sugar=60, solids=0.65)
FINE = Process(3.4, Judge.THERMOMETER, potted=date(2026, 6, 10), best_before=date(2027, 6, 10))
LOW = preserve({"strawberry": 70}, sugar=35, solids=0.50, more=(Ingredient("pectin", 1, Role.PECTIN),))
CHILLED = replace(
    FINE, heat_step="chilled at 5 °C", judged_by=Judge.REFRACTOMETER, best_before=date(2026, 7, 10)
)
VINEGAR = Ingredient("vinegar", 20, Role.VINEGAR)
ONION = Ingredient("chopped onions", 20, Role.OTHER)


def told(mix: object, process: Process) -> list[tuple[bool, str]]:
    return [(concern.refused, concern.what) for concern in concerns(mix, process)]  # type: ignore[arg-type]


def test_a_plain_jam_raises_no_concern() -> None:
    assert concerns(GOOD, FINE) == []
    assert concerns(LOW, CHILLED) == []


@pytest.mark.parametrize(
    ("ph", "refused"),
    [
        (4.3, False),  # food pH reference chart: the working limit
        (4.31, True),
        (4.59, True),
        (4.6, True),  # Iowa State Extension on selling jams and jellies: must be below 4.6
        (6.0, True),
        (None, True),
    ],
)
def test_acidity(ph: float | None, refused: bool) -> None:
    found = concerns(GOOD, replace(FINE, ph=ph))
    assert bool(found) is refused
    assert all(concern.refused and concern.what == "pH" for concern in found)


def test_only_from_the_hazard_line_on_is_it_called_what_it_is() -> None:
    (near,) = concerns(GOOD, replace(FINE, ph=4.59))
    (over,) = concerns(GOOD, replace(FINE, ph=4.6))
    assert "lemon" in near.way_out
    assert "botulism" in over.why
    assert "licensed process authority" in over.way_out


@pytest.mark.parametrize(
    "name", ["garlic", "Chopped Onions", "pumpkin", "sweet potatoes", "eggs", "red chillies"]
)
def test_low_acid_ingredients_are_refused_whatever_their_role(name: str) -> None:
    """Common practice, no source."""
    for role in (Role.FRUIT, Role.OTHER):
        mix = preserve({"strawberry": 50}, more=(Ingredient(name, 5, role),))
        (found,) = concerns(mix, FINE)
        assert (found.refused, found.what) == (True, "low-acid ingredient")
        assert "licensed process authority" in found.way_out


@pytest.mark.parametrize("name", ["peach stones", "black pepper", "cream of tartar", "vanilla bean"])
def test_harmless_names_are_let_alone(name: str) -> None:
    mix = preserve({"strawberry": 50}, more=(Ingredient(name, 0.1, Role.OTHER),))
    assert not any(concern.refused for concern in concerns(mix, FINE))


def test_oil_is_refused_even_with_an_approver() -> None:
    """Common practice, no source."""
    mix = preserve({"tomato": 50}, kind=Kind.CHUTNEY, more=(VINEGAR, Ingredient("olive oil", 2, Role.OTHER)))
    assert (True, "oil") in told(mix, replace(FINE, approver="process authority, letter of 3 May"))


def test_ripe_pears_are_warned_of() -> None:
    """Extension guidance on fruits that may touch pH 4.6, from memory."""
    assert told(preserve({"pear": 50}), FINE) == [(False, "fruit near the acid line")]


def test_chutney_needs_the_approver_of_its_process() -> None:
    """Common practice, no source."""
    chutney = preserve({"gooseberry": 50}, kind=Kind.CHUTNEY, more=(VINEGAR, ONION))
    assert told(chutney, FINE) == [(True, "low-acid ingredient"), (True, "approver"), (False, "best before")]
    approved = replace(FINE, approver="process authority, letter of 3 May")
    assert told(chutney, approved) == [(False, "best before")]
    # without vinegar no approval is taken for one of a vinegar chutney
    dry = preserve({"gooseberry": 50}, kind=Kind.CHUTNEY, more=(ONION,))
    assert told(dry, approved) == [(True, "low-acid ingredient")]
    # and garlic that is called vinegar by its role alone is none
    garlic = preserve({"gooseberry": 50}, kind=Kind.CHUTNEY, more=(Ingredient("garlic", 20, Role.VINEGAR),))
    assert (True, "low-acid ingredient") in told(garlic, approved)
    # vinegar in a jam asks the same
    assert told(preserve({"gooseberry": 50}, more=(VINEGAR,)), FINE) == [(True, "approver")]
    # and so does vinegar that is only so called
    named = Ingredient("Cider Vinegar", 2, Role.ACID)
    assert told(preserve({"gooseberry": 50}, more=(named,)), FINE) == [(True, "approver")]


def test_under_60_per_cent_a_heat_step_is_named() -> None:
    """Source of 60 %: Hampshire Trading Standards on the 2003 Regulations."""
    at = preserve({"strawberry": 50}, sugar=55, solids=0.60)
    assert concerns(at, FINE) == []
    assert told(LOW, replace(CHILLED, heat_step=" ")) == [(True, "soluble solids")]
    assert told(LOW, CHILLED) == []


def test_lower_sugar_is_judged_by_refractometer_and_set_by_its_own_pectin() -> None:
    """103 °C is about 60 °Brix: computed boiling point elevation; pectin: common practice, no source."""
    assert told(LOW, replace(CHILLED, judged_by=Judge.COLD_PLATE)) == [(True, "judge of the boil")]
    bare = preserve({"strawberry": 70}, sugar=35, solids=0.50)
    assert told(bare, CHILLED) == [(False, "pectin")]
    cordial = preserve({"blackcurrant": 70}, sugar=35, solids=0.50, kind=Kind.CORDIAL)
    assert told(cordial, CHILLED) == []


@pytest.mark.parametrize(
    ("months", "low", "outcome"),
    [
        (12, False, []),  # full sugar 12 to 24 months: common practice, from memory
        (13, False, [(False, "best before")]),
        (24, False, [(False, "best before")]),
        (25, False, [(True, "best before")]),
        (1, True, []),  # lower sugar 1 to 6 months: common practice, from memory
        (6, True, [(False, "best before")]),
        (7, True, [(True, "best before")]),
    ],
)
def test_best_before_keeps_to_the_life_of_its_class(
    months: int, low: bool, outcome: list[tuple[bool, str]]
) -> None:
    mix, process = (LOW, CHILLED) if low else (GOOD, FINE)
    process = replace(process, best_before=months_after(process.potted, months))
    assert told(mix, process) == outcome


def test_one_day_over_the_life_is_over() -> None:
    assert told(GOOD, replace(FINE, best_before=date(2028, 6, 10))) == [(False, "best before")]
    assert told(GOOD, replace(FINE, best_before=date(2028, 6, 11))) == [(True, "best before")]


def test_refusals_come_first_and_say_all_that_a_cook_needs() -> None:
    mix = preserve({"pear": 60}, sugar=35, solids=0.50, more=(Ingredient("garlic", 1, Role.OTHER),))
    found = concerns(mix, replace(FINE, ph=4.7))
    assert [concern.refused for concern in found] == sorted([c.refused for c in found], reverse=True)
    for concern in found:
        told = str(concern)
        parts = [concern.what, concern.value, concern.allowed, concern.why, concern.way_out, concern.source]
        assert all(part and part in told for part in parts)
        assert ("not verified" in told) is not concern.verified


def test_bad_processes() -> None:
    with pytest.raises(ValueError, match=r"pH is 34; allowed: 0 to 14"):
        replace(FINE, ph=34)
    with pytest.raises(ValueError, match="best before is 2026-06-09"):
        replace(FINE, best_before=date(2026, 6, 9))


@pytest.mark.parametrize(
    ("day", "months", "after"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2026, 12, 31), 12, date(2027, 12, 31)),
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
    ],
)
def test_months_after_ends_with_the_month(day: date, months: int, after: date) -> None:
    assert months_after(day, months) == after


APPROVED = "process authority, letter of 3 May"


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize(("ph", "refused"), [(4.3, False), (4.31, True), (None, True)])
def test_acidity_is_guarded_whatever_the_kind(kind: Kind, ph: float | None, refused: bool) -> None:
    """Food pH reference chart: the working limit of 4.3."""
    mix = preserve({"gooseberry": 60}, kind=kind)
    found = told(mix, replace(FINE, ph=ph, approver=APPROVED))
    assert ((True, "pH") in found) is refused


@pytest.mark.parametrize("kind", Kind)
def test_under_60_per_cent_every_kind_needs_its_heat_step(kind: Kind) -> None:
    """Source of 60 %: Hampshire Trading Standards on the 2003 Regulations."""
    low = preserve({"gooseberry": 60}, kind=kind, sugar=45, solids=0.599)
    process = replace(CHILLED, approver=APPROVED)
    assert (True, "soluble solids") in told(low, replace(process, heat_step=""))
    assert not any(refused for refused, _ in told(low, process))
    at = preserve({"gooseberry": 60}, kind=kind, sugar=45, solids=0.60)
    assert told(at, replace(process, heat_step="")) == []


def test_a_thin_cordial_or_fruit_butter_keeps_as_short_as_any_lower_sugar() -> None:
    """Lower sugar 1 to 6 months: common practice, from memory; the refractometer: computed boiling points."""
    for kind in (Kind.CORDIAL, Kind.BUTTER):
        thin = preserve({"plum": 75}, kind=kind, sugar=30, solids=0.45)
        assert concerns(thin, CHILLED) == []  # neither must set, so no pectin is asked for
        assert told(thin, replace(CHILLED, judged_by=Judge.THERMOMETER)) == [(True, "judge of the boil")]
        long = replace(CHILLED, best_before=months_after(CHILLED.potted, 7))
        assert told(thin, long) == [(True, "best before")]
