"""The rule of the allocation for batches that cook for longer than one person may stand at the stove."""

from __future__ import annotations

from scheduler.domain.people import Skill
from scheduler.model.decisions import Decisions, total
from scheduler.model.stove import cooks_for


def long_cooking_has_a_second_cook(x: Decisions) -> None:
    """stove-minutes: on a day with a batch that one cook may not mind to its end, two of them are in.

    Removing a batch never makes a day harder by this.
    """
    cards = x.cards
    long = [m for m, card in enumerate(cards.batches) if cooks_for(cards.scenario.work_rules, card) > 1]
    for d in range(cards.days) if long else ():
        turns = x.model.new_bool_var(f"cooks take turns on {d}")
        cooks = total(x.staff[i] for i, s in enumerate(cards.staff) if s.day == d and Skill.COOK in s.skills)
        x.model.add(cooks >= 2 * turns)
        for m in long:
            x.model.add(x.count[d][m] == 0).only_enforce_if(~turns)
