"""The rule of the allocation for batches held; what is ruled out has no hours on its day."""

from __future__ import annotations

from collections import defaultdict

from scheduler.model.decisions import Decisions, total


def held_batches_are_cooked(x: Decisions) -> None:
    """held: each row is met by a batch of its own, of a card that can meet it.

    Removing the batch that meets a row breaks the row. So a row is met by a batch of a card told here, and
    only what it asks of that batch, its pin, is of the day's work (and of a cut that needs it).
    """
    batches: dict[tuple[int, int], list[int]] = defaultdict(list)
    for h, holds in x.holds.items():
        mine = [m for row, m in x.meets if row == h]
        x.model.add(total(x.meets[h, m] for m in mine) == holds)
        day = x.cards.dates.index(x.cards.scenario.held[h].day)
        for m in mine:
            batches[day, m].append(h)
    for (day, m), rows in batches.items():
        x.model.add(total(x.meets[h, m] for h in rows) <= x.count[day][m])
