"""Fruit and its lots: what ripens, what is on hand, how long it keeps."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Grade(StrEnum):
    """What a lot is fit for on the day it is picked."""

    TABLE = "table"  # may be sold in punnets; also cooked or frozen
    KITCHEN = "kitchen"  # cooked or frozen only


class Place(StrEnum):
    """Where a lot on hand stands."""

    CHILLER = "chiller"
    FREEZER = "freezer"


@dataclass(frozen=True, slots=True)
class Fruit:
    """One kind of fruit.

    ``letter`` tells fruits apart on every screen, before colour does. ``solids`` and
    ``preparation_loss`` are fractions of mass. ``prepare_kg_per_hour`` is kg as picked that one
    person prepares in an hour. ``sell_days``, ``peak_days`` and ``cook_days`` are days from
    picking at 0 °C within which the fruit may be sold, frozen and cooked; ``keeps_like`` names
    the fruit whose published respiration table turns them into days at the chiller's
    temperature. ``table_value`` and ``kitchen_value`` are money per kg as picked, sold in punnets
    and used in the kitchen. ``wanted_later_kg`` is prepared fruit that still has a use after the
    last planned day. ``frozen_kg_per_litre`` is the packing density of boxed frozen fruit.
    ``grade_down_share`` of a table pick turns out kitchen grade when it is graded, ``grading_loss`` of any
    pick is lost (fractions of mass). ``freezer_box`` is the kitchen's box that it is packed in once frozen
    (empty: its boxes are not counted).
    """

    name: str
    letter: str
    colour: str
    solids: float
    preparation_loss: float
    prepare_kg_per_hour: float
    sell_days: float
    peak_days: float
    cook_days: float
    keeps_like: str
    table_value: float
    kitchen_value: float
    wanted_later_kg: float
    freezer_months: float
    frozen_kg_per_litre: float
    grade_down_share: float = 0.0
    grading_loss: float = 0.0
    freezer_box: str = ""


@dataclass(frozen=True, slots=True)
class Lot:
    """Fruit of one pick: kg as picked in the chiller, kg as prepared in the freezer.

    ``day`` is the pick day of fresh fruit. ``use_by`` is the last day on which a frozen lot may be
    used (fresh lots have none: their life follows from the pick day, the warm hours and the chiller).
    ``warm_hours`` passed between picking and the chiller, at ``warm_celsius``; both are 0 for none.
    """

    name: str
    fruit: str
    grade: Grade
    kg: float
    place: Place
    day: date
    use_by: date | None = None
    warm_hours: float = 0.0
    warm_celsius: float = 0.0


@dataclass(frozen=True, slots=True)
class PunnetDemand:
    """The most kg of a fruit that can be sold in punnets on one day."""

    day: date
    fruit: str
    kg: float
