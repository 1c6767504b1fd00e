"""Minutes in a row at the stove: what they leave of a presence, when cooks take turns, and rests by name.

Taking work away from somebody only shortens stretches, so none of this makes a day with less work harder.
"""

from __future__ import annotations

from collections.abc import Sequence

from ortools.sat.python import cp_model

from scheduler.cards import BatchCard
from scheduler.domain.kitchen import STEP
from scheduler.domain.people import WorkRules


def most_at_stove(rules: WorkRules, minutes: int) -> int:
    """The most of so many minutes on end that somebody may mind pans: whole stretches with rests between."""
    longest = rules.longest_stove_minutes
    if longest is None:
        return minutes
    stretches, more = divmod(minutes, longest + rules.stove_rest_minutes)
    return stretches * longest + min(more, longest)


def cooks_for(rules: WorkRules, card: BatchCard) -> int:
    """How many cooks a batch needs to be minded from beginning to end."""
    longest = rules.longest_stove_minutes
    return 2 if longest is not None and card.cooking > longest else 1


def keep_stretches_short(
    model: cp_model.CpModel,
    rules: WorkRules,
    steps: int,
    minding: Sequence[cp_model.IntervalVar],
    pans_per_cook: int,
) -> None:
    """One person's ``minding`` in a day of so many steps lies in stretches with rests between.

    A stretch is a place for work and need not be full of it. Two neighbours that together are no longer than
    one may be are one; so every two of them with the rest between take more than that, and few are enough.
    Stretches that nobody needs lie after the day.
    """
    assert rules.longest_stove_minutes is not None
    longest, rest = rules.longest_stove_minutes // STEP, -(-rules.stove_rest_minutes // STEP)
    count = min(len(minding), 2 * ((steps + rest) // (longest + 1 + rest)) + 1)
    end = steps + count * rest
    away = []
    left: cp_model.IntVar | int = 0
    for n in range(count):
        begins = model.new_int_var(0, end, f"to the stove {n}")
        ends = model.new_int_var(0, end, f"from the stove {n}")
        model.add_linear_constraint(ends - begins, 0, longest)
        length = model.new_int_var(rest if n else 0, end, f"length away {n}")
        away.append(model.new_interval_var(left, length, begins, f"away from the stove {n}"))
        left = ends
    length = model.new_int_var(0, end, f"length away {count}")
    away.append(model.new_interval_var(left, length, end, f"away from the stove {count}"))
    demands = [1] * len(minding) + [pans_per_cook] * len(away)
    model.add_cumulative([*minding, *away], demands, pans_per_cook)
