"""Freezing and keeping of fruit against published rules and tables."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.physics import freezing, keeping
from tests.outside.check import MEMORY, Check

POUND_KG, CUBIC_FOOT_LITRES, PINT_LITRES = 0.45359237, 28.316847, 0.473176


def checks() -> Iterator[Check]:
    yield from _freezing()
    yield from _keeping()


def _freezing() -> Iterator[Check]:
    ours = freezing.freeze_kg_per_day(CUBIC_FOOT_LITRES) / POUND_KG
    source = "USDA, Canning, Freezing, Storing Garden Produce: 2 to 3 lb per cubic foot in 24 h"
    yield Check("freezer loading", "fruit frozen per cubic foot a day", "lb", 2, ours, 0.005, source)
    # a pint of packed fruit at 0.9 kg a litre, from memory
    ours = freezing.freeze_kg_per_day(20 * CUBIC_FOOT_LITRES) / (PINT_LITRES * 0.9)
    source = "University of Minnesota Extension: 40 to 60 pints at one time in 20 cubic feet"
    yield Check("freezer of 20 cubic feet", "pints frozen at one time", "pints", 40, ours, 8, source)
    ours = freezing.plank_hours(
        freezing.Shape.SPHERE, 0.07, -40.0, kj_per_kg=250.0, surface_w_per_m2_k=50.0,
        frozen_w_per_m_k=1.2, kg_per_m3=1000.0, freezes_c=-1.25,
    )  # fmt: skip
    source = "Singh & Heldman, Introduction to Food Engineering, Example 7.1"
    yield Check("sphere of 7 cm", "freezing time", "h", 0.72, ours, 0.005, source, MEMORY)
    ours = freezing.plank_hours(
        freezing.Shape.SPHERE, 0.025, -22.0, kj_per_kg=freezing.freeze_kj_per_kg(0.899, 20.0, -18.0),
        surface_w_per_m2_k=freezing.MOVED_AIR_W_PER_M2_K, frozen_w_per_m_k=1.6, kg_per_m3=950.0,
    )  # fmt: skip
    source = "Open freezing advice page: a couple of hours in a single layer"
    yield Check("strawberries on a tray", "hours until solid", "h", 2, ours, 0.5, source)


def _keeping() -> Iterator[Check]:
    # the ends of the published ranges of respiration give 0.13 to 0.42, so this is met only roughly
    ours = keeping.days_at(1.0, "strawberry", 10.0)
    source = "OMAFRA, Postharvest Handling and Storage of Berries: about one third"
    yield Check("strawberries at 10 °C", "share of the life at 0 °C", "", 1 / 3, ours, 0.12, source)
    source = "Produce degradation textbook, Table 20.1, after the draft of USDA Handbook 66 (2002)"
    for fruit, rate in {"strawberry": 16, "blueberry": 6, "blackberry": 19}.items():
        ours = keeping.respiration(fruit, 0.0)
        yield Check(f"{fruit} at 0 °C", "respiration", "mg/(kg h)", rate, ours, 4, source)
    source = "USDA Agriculture Handbook 66, summary of respiration"
    for fruit, celsius, rate in (
        ("strawberry", 10, 75),
        ("strawberry", 20, 150),
        ("blackberry", 5, 36),
        ("blackberry", 10, 62),
        ("blueberry", 5, 11),
        ("blueberry", 20, 70),
    ):
        ours = keeping.respiration(fruit, float(celsius))
        name = f"{fruit} at {celsius} °C"
        yield Check(name, "respiration", "mg/(kg h)", rate, ours, 0.15 * rate, source, MEMORY)
