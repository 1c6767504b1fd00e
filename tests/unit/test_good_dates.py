"""What is bought where goods have dates: what using the soonest date first leaves short, and no more."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from random import Random

import pytest

from scheduler.domain.scenario import Situation
from scheduler.domain.trade import SUGAR, Delivery, Good
from scheduler.making import make_cards
from scheduler.model.buying import purchases
from tests.kitchens_of_kinds import trading_kitchen

DAYS = 4
SITUATION = trading_kitchen(0, days=(DAYS, DAYS))
START = SITUATION.scenario.start


def farm(good: Good, *deliveries: Delivery) -> Situation:
    """A farm that only uses sugar."""
    scenario = replace(SITUATION.scenario, goods=(good,), deliveries=deliveries)
    return replace(SITUATION, scenario=scenario)


def sugar(on_hand: float, best_before: int | None, opened: float = 0.0, until: int | None = None) -> Good:
    """Loose sugar, to be had on any day; dates as days from the first."""
    last, soonest = (None if d is None else START + timedelta(days=d) for d in (best_before, until))
    return Good(SUGAR, "kg", on_hand, 1.1, 0, None, 1, best_before=last, opened=opened, opened_use_by=soonest)


def bought(situation: Situation, used: tuple[int, ...]) -> list[tuple[int, int]]:
    """(day, units) of what is bought where so much sugar (in 0.1 kg) is used on each day."""
    cards = make_cards(situation)
    batches = tuple(replace(cards.batches[0], sugar=units, filled=(), lemons=0, pectin=0) for units in used)
    count = [[int(m == d) for m in range(len(used))] for d in range(DAYS)]
    return [(row.comes, row.units) for row in purchases(replace(cards, batches=batches), count)]


def test_what_is_past_its_date_is_bought_anew() -> None:
    # Of 10 kg until Tuesday 6 + 1 kg are used in time; Wednesday and Thursday need 2 and 3 kg.
    assert bought(farm(sugar(10.0, 1)), (60, 10, 20, 30)) == [(2, 20), (3, 30)]


def test_what_is_opened_goes_first_and_what_comes_goes_last() -> None:
    # Monday uses 3 of the 4 kg that are open until then, 1 kg is lost. Of 6 kg closed until Wednesday
    # 2 and 3 are used and 1 lost. For Thursday's 5 kg there are the 2 that were delivered on Monday.
    delivery = Delivery(START, SUGAR, 2.0)
    assert bought(farm(sugar(10.0, 2, 4.0, 0), delivery), (30, 20, 30, 50)) == [(3, 30)]


def test_a_delivery_that_comes_late_counts_from_the_next_morning_and_on_the_last_day_not_at_all() -> None:
    opens = SITUATION.scenario.kitchen.open
    for day, at, lacking in (
        (0, opens, []),
        (0, opens + 5, [(0, 20)]),
        (0, None, []),
        (DAYS - 1, opens + 5, [(0, 20)]),
    ):
        delivery = Delivery(START + timedelta(days=day), SUGAR, 2.0, at)
        assert bought(farm(sugar(0.0, None), delivery), (20, 0, 0, 0)) == lacking


@pytest.mark.parametrize("seed", range(80))
def test_stocks_by_date_never_run_short_and_every_unit_bought_is_needed(seed: int) -> None:
    rng = Random(f"good dates {seed}")
    opened = rng.randint(0, 80)
    until, last = sorted(rng.choices(range(DAYS), k=2))
    good = sugar((opened + rng.randint(0, 80)) / 10, rng.choice((None, last)), opened / 10, until)
    delivery = Delivery(START + timedelta(days=rng.randrange(DAYS)), SUGAR, rng.randint(0, 60) / 10)
    used = tuple(rng.choice((0, 20, 40, 60)) for _ in range(DAYS))
    rows = bought(farm(good, delivery), used)
    assert enough(good, delivery, used, rows)
    for place, (day, units) in enumerate(rows):
        assert not enough(good, delivery, used, [*rows[:place], (day, units - 1), *rows[place + 1 :]])


def enough(good: Good, delivery: Delivery, used: tuple[int, ...], rows: list[tuple[int, int]]) -> bool:
    """Whether stocks last, day by day, where the soonest date is used first."""
    stocks = {good.opened_use_by: 10 * good.opened}
    stocks[good.best_before] = stocks.get(good.best_before, 0.0) + 10 * (good.on_hand - good.opened)
    fresh = 0.0
    for d, need in enumerate(used):
        day = START + timedelta(days=d)
        fresh += sum(units for comes, units in rows if comes == d) + 10 * delivery.quantity * (
            delivery.day == day
        )
        left = float(need)
        for use_by in sorted(
            (each for each in stocks if each is not None and each >= day), key=date.toordinal
        ):
            part = min(left, stocks[use_by])
            stocks[use_by] -= part
            left -= part
        undated = min(left, stocks.get(None, 0.0))
        if None in stocks:
            stocks[None] -= undated
        fresh -= left - undated
        if fresh < -1e-6:
            return False
    return True
