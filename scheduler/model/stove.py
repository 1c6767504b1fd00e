"""Minutes in a row at the stove: what they leave of a presence, when cooks take turns, and rests by name.

Taking work away from somebody only shortens stretches, so none of this makes a day with less work harder.
"""

from __future__ import annotations

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


def away_from_stove(
    model: cp_model.CpModel, rules: WorkRules, steps: int, most: int, presence: tuple[int, int]
) -> list[cp_model.IntervalVar]:
    """When one person minds no pan, in a day of so many steps: before, between and after the stretches in
    which they mind pans, ``most`` at most; these lie within their ``presence``.

    A stretch is a place for work and need not be full of it. Two neighbours that together are no longer than
    one may be are one; so every two of them with the rest between take more than that, and few are enough.
    Stretches that nobody needs lie after the day.
    """
    assert rules.longest_stove_minutes is not None
    longest, rest = rules.longest_stove_minutes // STEP, -(-rules.stove_rest_minutes // STEP)
    count = min(most, 2 * ((steps + rest) // (longest + 1 + rest)) + 1)
    end = steps + count * rest
    arrive, leave = presence
    there = cp_model.Domain.from_intervals([[arrive, max(arrive, leave)], [steps, end]])
    away = []
    left: cp_model.IntVar | int = 0
    for n in range(count):
        begins = model.new_int_var_from_domain(there, f"to the stove {n}")
        ends = model.new_int_var_from_domain(there, f"from the stove {n}")
        model.add_linear_constraint(ends - begins, 0, longest)
        length = model.new_int_var(rest if n else 0, end, f"length away {n}")
        away.append(model.new_interval_var(left, length, begins, f"away from the stove {n}"))
        left = ends
    length = model.new_int_var(0, end, f"length away {count}")
    away.append(model.new_interval_var(left, length, end, f"away from the stove {count}"))
    return away
