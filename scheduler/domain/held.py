"""What is given of a plan beforehand: pans and rings out of use, batches held, batches ruled out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class OutOfUse:
    """A pan or a ring by its name (the other is empty) that is not used on a day, and why."""

    day: date
    pan: str
    ring: str
    why: str


@dataclass(frozen=True, slots=True)
class HeldBatch:
    """A batch of a recipe that is cooked on a day, or where not ``hold`` no such batch is.

    Pan and ring are any where their name is empty, ``start`` (minutes from midnight, when cooking begins) and
    ``kg`` (prepared fruit, within 0.1) where they are None; both are None of what is ruled out.
    """

    day: date
    recipe: str
    pan: str = ""
    ring: str = ""
    start: int | None = None
    kg: float | None = None
    hold: bool = True

    def stands(self, pan: str, ring: str) -> bool:
        """Whether a batch in this pan on this ring stands where the row says."""
        return self.pan in ("", pan) and self.ring in ("", ring)

    def __str__(self) -> str:
        pan = f" in {self.pan}" if self.pan else ""
        ring = f" on {self.ring}" if self.ring else ""
        start = "" if self.start is None else f" at {self.start // 60:02d}:{self.start % 60:02d}"
        size = "" if self.kg is None else f", {self.kg:g} kg"
        return f"{self.day.isoformat()}, {self.recipe}{pan}{ring}{start}{size}"
