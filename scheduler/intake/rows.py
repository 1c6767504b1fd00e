"""What one row of each CSV file holds; field names are the column names."""

from __future__ import annotations

import datetime as dt
from typing import Annotated

from pydantic import BaseModel, ConfigDict

from scheduler.domain.fruit import Grade, Place
from scheduler.domain.people import OVERTIME_STEP, Skill
from scheduler.domain.trade import ANY_DAY, Weekday
from scheduler.intake.kinds import Choice, Choices, Clock, Day, Known, Number, Pattern, Text, Whole, YesNo
from scheduler.physics.keeping import known_fruits

MOST_LOT_KG = 20_000

Name = Annotated[str, Text()]
OptionalName = Annotated[str | None, Text()]
Date = Annotated[dt.date, Day()]
Time = Annotated[int, Clock()]
OptionalTime = Annotated[int | None, Clock()]
Why = Annotated[str, Text(may_be_empty=True)]
Money = Annotated[float, Number(0, 10_000, "money")]
Days = Annotated[float, Number(0.1, 365, "days")]
Share = Annotated[float, Number(0, 1, "as a fraction", remedy="Write 8 % as 0.08.")]
Kg = Annotated[
    float,
    Number(0, MOST_LOT_KG, "kg", places=1, remedy="Give kilograms, not grams, and never below nothing."),
]


WarmHours = Annotated[float | None, Number(0, 48, "hours", remedy="Give hours, half a day as 12.")]
WarmCelsius = Annotated[float | None, Number(0, 50, "°C", remedy="Give degrees Celsius in the shade.")]


class CsvRow(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class FruitRow(CsvRow):
    fruit: Name
    letter: Annotated[
        str, Pattern("[A-Z]", "one capital letter A to Z", "Write the letter shown for it, as S.")
    ]
    colour: Annotated[str, Pattern("#[0-9a-fA-F]{6}", "a colour as #RRGGBB", "Write it as in #c8102e.")]
    solids: Annotated[float, Number(0.02, 0.4, "as a fraction", remedy="Write 9 % as 0.09.")]
    preparation_loss: Annotated[float, Number(0, 0.6, "as a fraction", remedy="Write 8 % as 0.08.")]
    prepare_kg_per_hour: Annotated[float, Number(0.5, 500, "kg an hour")]
    sell_days: Days
    peak_days: Days
    cook_days: Days
    keeps_like: Annotated[str, Known(known_fruits())]
    table_value: Money
    kitchen_value: Money
    wanted_later_kg: Kg = 0.0
    freezer_months: Annotated[float, Number(0.5, 36, "months")] = 12.0
    frozen_kg_per_litre: Annotated[float, Number(0.1, 1, "kg a litre")] = 0.5
    grade_down_share: Share = 0.0
    grading_loss: Share = 0.0
    freezer_box: OptionalName = None


class PickRow(CsvRow):
    date: Date
    fruit: Name
    grade: Annotated[Grade, Choice(Grade)]
    kg: Kg
    warm_hours: WarmHours = None
    warm_celsius: WarmCelsius = None


class LotRow(CsvRow):
    lot: Name
    fruit: Name
    grade: Annotated[Grade, Choice(Grade)]
    kg: Kg
    place: Annotated[Place, Choice(Place)]
    picked: Date
    use_by: Annotated[dt.date | None, Day()] = None
    warm_hours: WarmHours = None
    warm_celsius: WarmCelsius = None


class PunnetRow(CsvRow):
    date: Date
    fruit: Name
    kg: Kg


class PersonRow(CsvRow):
    person: Name
    skills: Annotated[frozenset[Skill], Choices(Skill)]
    pay: Annotated[float, Number(0, 500, "money an hour")]
    overtime_pay: Annotated[float, Number(0, 1000, "money an hour")]
    hours_week: Annotated[float, Number(1, 100, "hours")]
    learner: Annotated[bool, YesNo()] = False
    born: Annotated[dt.date | None, Day(1900)] = None


class ShiftRow(CsvRow):
    date: Date
    person: Name
    start: Time
    end: Time
    overtime_minutes: Annotated[int, Whole(0, 240, "minutes", step=OVERTIME_STEP)] = 0


class OrderRow(CsvRow):
    order: Name
    customer: Name
    recipe: Name
    jar: Annotated[str | None, Text()] = None
    jars: Annotated[int, Whole(1, 100_000, "jars")]
    due: Date
    price: Money
    weight: Annotated[int, Whole(1, 100)] = 1
    parts: Annotated[bool, YesNo()] = True


class ShopRow(CsvRow):
    date: Date
    recipe: Name
    jar: Annotated[str | None, Text()] = None
    jars: Annotated[int, Whole(1, 100_000, "jars", remedy="Leave the row out where none is asked for.")]


class GoodRow(CsvRow):
    good: Name
    unit: Name
    on_hand: Annotated[float, Number(0, 1_000_000, remedy="Count it again; never below nothing.")]
    price: Money
    lead_days: Annotated[int, Whole(0, 120, "days")]
    pack: Annotated[
        float | None,
        Number(0.1, 100_000, "units", remedy="Leave it empty where any quantity can be bought."),
    ] = None
    least_packs: Annotated[int, Whole(1, 10_000, "packs")] = 1
    delivery_days: Annotated[frozenset[Weekday], Choices(Weekday)] = ANY_DAY
    best_before: Annotated[dt.date | None, Day()] = None
    opened: Annotated[float, Number(0, 1_000_000)] = 0.0
    opened_use_by: Annotated[dt.date | None, Day()] = None


class DayRow(CsvRow):
    date: Date
    open: OptionalTime = None
    close: OptionalTime = None
    why: Why = ""


class BusyRow(CsvRow):
    date: Date
    start: Time
    end: Time
    why: Why = ""


class OutRow(CsvRow):
    date: Date
    pan: OptionalName = None
    ring: OptionalName = None
    why: Why = ""


class HeldRow(CsvRow):
    date: Date
    recipe: Name
    pan: OptionalName = None
    ring: OptionalName = None
    start: OptionalTime = None
    kg: Annotated[float | None, Number(0.5, 300, "kg", places=1, remedy="Give kg of prepared fruit.")] = None
    hold: Annotated[bool, YesNo()] = True


class ReadingRow(CsvRow):
    date: Date
    celsius: Annotated[float, Number(80, 130, "°C", remedy="Give degrees Celsius at the boil.")]
    solids: Annotated[float, Number(0.05, 0.89, "as a fraction", remedy="Write 65 °Brix as 0.65.")]


class BoilRow(CsvRow):
    date: Date
    recipe: Name
    pan: Name
    ring: Name
    kg: Annotated[float, Number(0.1, 300, "kg", remedy="Give kg of prepared fruit.")]
    minutes: Annotated[float, Number(1, 600, "minutes")]


class DeliveryRow(CsvRow):
    date: Date
    good: Name
    quantity: Annotated[float, Number(0, 1_000_000)]
    time: OptionalTime = None
