"""How the value and the bound of a goal came together while something looked for a plan."""

from __future__ import annotations

from dataclasses import dataclass, field

from scheduler.model.mip import CLOSED

NEAR = 0.01
"""Gap from which on a plan is as good as the best for most purposes."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What was known after so many seconds: the best value so far (None before the first) and the bound."""

    seconds: float
    value: float | None
    bound: float


@dataclass
class Course:
    """The moments at which a value that cannot be negative, or its bound, got better.

    A gap is measured against the value, and against ``floor`` where that is more.
    """

    floor: float
    moments: list[Moment] = field(default_factory=lambda: [Moment(0.0, None, 0.0)])

    def note(self, seconds: float, value: float | None, bound: float | None) -> None:
        """Take down what is known now; what is worse than before changes nothing."""
        last = self.moments[-1]
        values = [each for each in (last.value, value) if each is not None]
        now = Moment(seconds, min(values, default=None), max(last.bound, bound or 0.0))
        if (now.value, now.bound) != (last.value, last.bound):
            self.moments.append(now)

    @property
    def value(self) -> float | None:
        return self.moments[-1].value

    @property
    def bound(self) -> float:
        return self.moments[-1].bound

    @property
    def gap(self) -> float | None:
        """The gap at the end; None without a value."""
        return self._gap(self.moments[-1])

    @property
    def first(self) -> float | None:
        """Seconds to the first value."""
        return next((each.seconds for each in self.moments if each.value is not None), None)

    @property
    def proof(self) -> float | None:
        """Seconds until the gap was closed."""
        return self.reached(CLOSED)

    def reached(self, gap: float) -> float | None:
        """Seconds until the gap was no more than ``gap``; None where it never was."""
        for moment in self.moments:
            now = self._gap(moment)
            if now is not None and now <= gap:
                return moment.seconds
        return None

    def gap_at(self, seconds: float) -> float | None:
        """The gap after so many seconds; None where there was no value yet."""
        return self._gap([each for each in self.moments if each.seconds <= seconds][-1])

    def _gap(self, moment: Moment) -> float | None:
        if moment.value is None:
            return None
        return max(0.0, moment.value - moment.bound) / max(moment.value, self.floor)
