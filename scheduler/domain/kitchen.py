"""The kitchen: pans, rings, jar oven, chiller, freezer and the minutes its work takes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import ceil

STEP = 5
"""Minutes in one step of a day's timetable."""

BLOCK = 30
"""Longest unbroken stretch of preparing, in minutes; preparing may be split, shared and paused."""


class Heat(StrEnum):
    """What a ring burns or draws."""

    GAS = "gas"
    ELECTRIC = "electric"
    INDUCTION = "induction"


class Thaw(StrEnum):
    """How frozen fruit is thawed: in the chiller the night before, or in the pan that cooks it."""

    OVERNIGHT = "overnight"
    PAN = "in the pan"


@dataclass(frozen=True, slots=True)
class Pan:
    """A preserving pan. ``fill`` is the safe share of its volume before the boil rises."""

    name: str
    litres: float
    diameter_cm: float
    fill: float


@dataclass(frozen=True, slots=True)
class Ring:
    """A burner or hotplate position. ``efficiency`` is the share of ``kw`` that reaches the pan."""

    name: str
    heat: Heat
    kw: float
    efficiency: float
    largest_pan_cm: float


@dataclass(frozen=True, slots=True)
class JarOven:
    """Keeps jars hot, an oven or a dishwasher: ready ``heat_minutes`` after loading, for ``hot_minutes``.

    It draws ``kw`` of gas or electricity. One person washes ``wash_jars_per_hour`` before they are loaded
    (None: jars come clean).
    """

    jars: int
    load_minutes: int
    heat_minutes: int
    hot_minutes: int
    kw: float = 0.0
    heat: Heat = Heat.ELECTRIC
    wash_jars_per_hour: float | None = None


@dataclass(frozen=True, slots=True)
class Supply:
    """What electricity and gas give: kW at once, and kg of gas in the bottles for the planned days.

    None is no limit. ``other_electric_kw`` is what is always on besides rings and jar oven.
    """

    electric_kw: float | None = None
    gas_kw: float | None = None
    other_electric_kw: float = 0.0
    gas_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Chiller:
    kg: float
    celsius: float


@dataclass(frozen=True, slots=True)
class Freezer:
    """``tray_litres_per_kg`` is the space that fruit takes on trays on the day it is frozen.

    ``celsius`` is the freezer's air; fruit lies ``layer_cm`` deep on a tray, ``box_cm`` in a box.
    ``defrost_on`` is the day on which it is defrosted: on it, and the night before, it is empty. ``fails_on``
    asks what if it failed: from that day on it holds nothing.
    """

    kg: float
    litres: float
    freeze_kg_per_day: float
    tray_litres_per_kg: float
    celsius: float = -18.0
    layer_cm: float = 2.0
    box_cm: float = 8.0
    name: str = "freezer"
    defrost_on: date | None = None
    fails_on: date | None = None


@dataclass(frozen=True, slots=True)
class FreezerBox:
    """``count`` boxes of one size, each for ``kg`` of one prepared fruit."""

    name: str
    kg: float
    count: int

    def needed(self, kg: float) -> int:
        """Boxes that ``kg`` of one fruit fill; a gram over is forgiven, as plans round."""
        return max(0, ceil((kg - 0.001) / self.kg))


@dataclass(frozen=True, slots=True)
class DripStands:
    """Stands with a jelly bag; each drips one batch overnight, of at most ``litres`` of fruit and water."""

    count: int
    litres: float


@dataclass(frozen=True, slots=True)
class Labels:
    """One person labels ``jars_per_hour``; jars are labelled on one of the ``within_days`` days after their
    own."""

    jars_per_hour: float
    within_days: int = 7


@dataclass(frozen=True, slots=True)
class Measured:
    """What a kitchen's own record says of the computed figures.

    ``set_offset_k`` shifts set temperatures (K; ``set_error_k`` its standard error, None if not known),
    ``boil_factor`` multiplies computed minutes of boiling (``boil_average`` is the mean of the batches,
    ``boil_error`` its standard error). ``readings`` and ``batches`` say how many they come from.
    """

    set_offset_k: float = 0.0
    set_error_k: float | None = None
    readings: int = 0
    boil_factor: float = 1.0
    boil_average: float = 1.0
    boil_error: float | None = None
    batches: int = 0


@dataclass(frozen=True, slots=True)
class Kitchen:
    """The kitchen and its habits. Times of day are minutes from midnight; masses kg.

    ``fill_steps`` are the sizes, as shares of a pan's safe fill, in which batches are made.
    ``heatproof_places`` hold pans off the ring while they stand and are potted; with none, a pan
    keeps its ring until potted. ``potting_limit_c`` is the temperature that the last jar must
    still have; below 85 it needs ``potting_process``, a written, approved process.
    ``first_set_share`` of batches set at the first test; ``keep_share`` of them must stay within
    the minutes that the plan keeps. A batch that sets earlier is kept hot on its ring until it is
    potted if ``keep_hot``; else jars and somebody to fill stand by for it. ``older_share`` is the
    most that fruit past its peak may make up of a batch. A pan is washed for ``full_wash_minutes`` after a
    batch with an allergen or of fruit that stains (None: as after any other); a day's last work is
    ``clean_down_minutes`` long. ``room_free_kg`` of the kg of all freezers together stay free from
    ``room_free_from`` on. Where fruit thaws overnight, taking it out of the freezer takes
    ``take_out_minutes`` of the day before (0: nobody's time). ``freezer_boxes`` are counted for the fruits
    that are packed in them.

    Of each batch ``sample_jars`` are held back as its retained sample, after ``scrap_share`` of each size
    (cracked, not sealed). Jars cool on racks for ``rack_jars`` until the next morning and then stand on
    shelves for ``shelf_jars`` (None: no limit). With ``labels``, they are labelled before they leave.
    """

    open: int
    close: int
    altitude_m: float
    room_c: float
    pans: tuple[Pan, ...]
    rings: tuple[Ring, ...]
    heatproof_places: int
    oven: JarOven
    chiller: Chiller
    freezer: Freezer
    fill_steps: tuple[float, ...]
    pans_per_cook: int
    people_while_boiling: int
    fillers: int
    jars_per_filler_hour: float
    set_test_minutes: int
    reboil_minutes: int
    stand_minutes: int
    wash_minutes: int
    first_set_share: float
    keep_share: float
    potting_limit_c: float
    potting_process: str
    older_share: float
    settle_days: int
    gas_price_kwh: float
    electricity_price_kwh: float
    measured: Measured = Measured()
    drip_stands: DripStands = DripStands(0, 0.0)
    keep_hot: bool = False
    thaw: Thaw = Thaw.OVERNIGHT
    supply: Supply = Supply()
    clean_down_minutes: int = 0
    full_wash_minutes: int | None = None
    second_freezer: Freezer | None = None
    room_free_kg: float = 0.0
    room_free_from: date | None = None
    sample_jars: int = 0
    scrap_share: float = 0.0
    rack_jars: int | None = None
    shelf_jars: int | None = None
    labels: Labels | None = None
    take_out_minutes: int = 0
    freezer_boxes: tuple[FreezerBox, ...] = ()

    @property
    def freezers(self) -> tuple[Freezer, ...]:
        """The freezer, and the second one where there is one."""
        return (self.freezer,) if self.second_freezer is None else (self.freezer, self.second_freezer)

    @property
    def called(self) -> int:
        """Fillers who stand by for a batch that may set early; its cook, free by then, is the other hand."""
        return max(1, self.fillers - 1)

    def wash_after(self, traces: bool) -> int:
        """Minutes to wash the pan of a batch that leaves traces which must not get into the next, or none."""
        full = self.full_wash_minutes
        return full if traces and full is not None else self.wash_minutes
