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
OF_GOOD = "in the good's own unit"

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
    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True)


class FruitRow(CsvRow):
    fruit: Name
    """its name"""
    letter: Annotated[
        str, Pattern("[A-Z]", "one capital letter A to Z", "Write the letter shown for it, as S.")
    ]
    """tells fruits apart on every screen"""
    colour: Annotated[str, Pattern("#[0-9a-fA-F]{6}", "a colour as #RRGGBB", "Write it as in #c8102e.")]
    """colour on screens"""
    solids: Annotated[float, Number(0.02, 0.4, "as a fraction", remedy="Write 9 % as 0.09.")]
    """soluble solids of the fruit, 8 °Brix is `0.08`"""
    preparation_loss: Annotated[float, Number(0, 0.6, "as a fraction", remedy="Write 8 % as 0.08.")]
    """share lost in hulling, stripping, topping and tailing"""
    prepare_kg_per_hour: Annotated[float, Number(0.5, 500, "kg an hour")]
    """kg as picked that one person prepares in an hour"""
    sell_days: Days
    """days from picking at 0 °C: may be sold"""
    peak_days: Days
    """days from picking at 0 °C: may be frozen; later it is older fruit"""
    cook_days: Days
    """days from picking at 0 °C: may be cooked"""
    keeps_like: Annotated[str, Known(known_fruits())]
    """fruit that it keeps like"""
    table_value: Money
    """worth of a kg sold in punnets"""
    kitchen_value: Money
    """worth of a kg used in the kitchen"""
    wanted_later_kg: Kg = 0.0
    """prepared fruit that still has a use after the last planned day"""
    freezer_months: Annotated[float, Number(0.5, 36, "months")] = 12.0
    """how long it keeps frozen"""
    frozen_kg_per_litre: Annotated[float, Number(0.1, 1, "kg a litre")] = 0.5
    """how densely it packs once frozen"""
    grade_down_share: Share = 0.0
    """share of a table pick that turns out kitchen grade when it is graded"""
    grading_loss: Share = 0.0
    """share of a pick that is lost when it is graded"""
    freezer_box: OptionalName = None
    """the box that it is packed in once frozen; with none its boxes are not counted"""


class PickRow(CsvRow):
    date: Date
    """the day on which it is picked"""
    fruit: Name
    """what is picked"""
    grade: Annotated[Grade, Choice(Grade)]
    """table may be sold, cooked or frozen; kitchen cooked or frozen"""
    kg: Kg
    """as picked, what pick-your-own visitors take not included"""
    warm_hours: WarmHours = None
    """hours between picking and the chiller"""
    warm_celsius: WarmCelsius = None
    """how warm the fruit was there, in the shade"""


class LotRow(CsvRow):
    lot: Name
    """a name of its own, unlike those of picks and of fruit to be frozen"""
    fruit: Name
    """what it is"""
    grade: Annotated[Grade, Choice(Grade)]
    """table may be sold, cooked or frozen; kitchen cooked or frozen"""
    kg: Kg
    """as picked in the chiller, as prepared in the freezer"""
    place: Annotated[Place, Choice(Place)]
    """where it lies"""
    picked: Date
    """pick day, or freezing day in the freezer"""
    use_by: Annotated[dt.date | None, Day()] = None
    """last day of use: needed in the freezer, empty in the chiller"""
    warm_hours: WarmHours = None
    """hours between picking and the chiller; empty in the freezer"""
    warm_celsius: WarmCelsius = None
    """how warm the fruit was there; empty in the freezer"""


class PunnetRow(CsvRow):
    date: Date
    """the day of sale"""
    fruit: Name
    """what is sold"""
    kg: Kg
    """most that can be sold on the day; none where there is no row"""


class PersonRow(CsvRow):
    person: Name
    """name"""
    skills: Annotated[frozenset[Skill], Choices(Skill)]
    """at least one; washing needs none"""
    pay: Annotated[float, Number(0, 500, "money an hour")]
    """an hour"""
    overtime_pay: Annotated[float, Number(0, 1000, "money an hour")]
    """an hour of overtime"""
    hours_week: Annotated[float, Number(1, 100, "hours")]
    """most hours from Monday to Sunday, breaks included"""
    learner: Annotated[bool, YesNo()] = False
    """learners mind no pan, whatever their skills, and do not count among `people_while_boiling`; they
    prepare, fill, wash and load"""
    born: Annotated[dt.date | None, Day(1900)] = None
    """for `boil_from_age`, which lifts on the birthday; who has none is old enough"""
    email: Annotated[
        str | None,
        Pattern(
            r"(?=.{3,254}$)[A-Za-z0-9][A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]{0,63}@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+",
            "one address as in aoife@example.org",
            "Mend the address, or leave it empty.",
        ),
    ] = None
    """for messages of change, sent only where asked for; who has none is told by other ways"""


class ShiftRow(CsvRow):
    date: Date
    """the day of the shift"""
    person: Name
    """who offers it"""
    start: Time
    """when it begins, within or across the kitchen's hours; some break must keep `[work]`"""
    end: Time
    """when it ends, without overtime"""
    overtime_minutes: Annotated[int, Whole(0, 240, "minutes", step=OVERTIME_STEP)] = 0
    """most overtime after `end`"""


class OrderRow(CsvRow):
    order: Name
    """its name or number"""
    customer: Name
    """who ordered"""
    recipe: Name
    """what is ordered"""
    jar: Annotated[str | None, Text()] = None
    """the size, where it has several"""
    jars: Annotated[int, Whole(1, 100_000, "jars")]
    """how many"""
    due: Date
    """day of shipping; orders of other days belong in another folder"""
    price: Money
    """a jar"""
    weight: Annotated[int, Whole(1, 100)] = 1
    """how much a missing jar matters"""
    parts: Annotated[bool, YesNo()] = True
    """whether the customer takes a part of it; otherwise it is filled whole or not at all"""


class ShopRow(CsvRow):
    date: Date
    """at its end"""
    recipe: Name
    """once for a day and size"""
    jar: Annotated[str | None, Text()] = None
    """the size, where it has several"""
    jars: Annotated[int, Whole(1, 100_000, "jars", remedy="Leave the row out where none is asked for.")]
    """so many are to be left"""


class GoodRow(CsvRow):
    good: Name
    """its name. Recipes use `sugar`, `lemons` and `pectin` by these names"""
    unit: Name
    """`kg` for sugar, `g` for pectin, else yours"""
    on_hand: Annotated[float, Number(0, 1_000_000, OF_GOOD, remedy="Count it again; never below nothing.")]
    """how much there is on the first morning"""
    price: Money
    """a unit"""
    lead_days: Annotated[int, Whole(0, 120, "days")]
    """from ordering to use"""
    pack: Annotated[
        float | None,
        Number(0.1, 100_000, "units", remedy="Leave it empty where any quantity can be bought."),
    ] = None
    """what a pack holds, 25 for a bag of 25 kg: whole packs are bought"""
    least_packs: Annotated[int, Whole(1, 10_000, "packs")] = 1
    """of the least order; only with `pack`"""
    delivery_days: Annotated[frozenset[Weekday], Choices(Weekday)] = ANY_DAY
    """days on which what is bought may come: on the last of them before it runs out"""
    best_before: Annotated[dt.date | None, Day()] = None
    """last day on which what is on hand is used; the soonest where packs differ"""
    opened: Annotated[float, Number(0, 1_000_000)] = 0.0
    """how much of what is on hand is in opened packs"""
    opened_use_by: Annotated[dt.date | None, Day()] = None
    """last day on which these are used; needed with `opened`"""


class DayRow(CsvRow):
    date: Date
    """the day with hours of its own"""
    open: OptionalTime = None
    """when the kitchen opens on this day; both times empty: closed all day"""
    close: OptionalTime = None
    """when the kitchen closes on this day; both times empty: closed all day"""
    why: Why = ""
    """shown on the calendar"""


class BusyRow(CsvRow):
    date: Date
    """the day"""
    start: Time
    """from when the kitchen is used otherwise"""
    end: Time
    """until when"""
    why: Why = ""
    """shown on the calendar"""


class OutRow(CsvRow):
    date: Date
    """the day"""
    pan: OptionalName = None
    """the pan that is not used; a pan or a ring in each row"""
    ring: OptionalName = None
    """the ring that is not used; a pan or a ring in each row"""
    why: Why = ""
    """shown on the calendar"""


class HeldRow(CsvRow):
    date: Date
    """the day"""
    recipe: Name
    """of one that takes two days, either part"""
    pan: OptionalName = None
    """the pan, where it is settled"""
    ring: OptionalName = None
    """one that takes the pan"""
    start: OptionalTime = None
    """when cooking begins; only with `hold` `yes`"""
    kg: Annotated[float | None, Number(0.5, 300, "kg", places=1, remedy="Give kg of prepared fruit.")] = None
    """prepared fruit; only with `hold` `yes`"""
    hold: Annotated[bool, YesNo()] = True
    """whether such a batch is cooked, or is ruled out"""


class ReadingRow(CsvRow):
    date: Date
    """the day of the reading"""
    celsius: Annotated[float, Number(80, 130, "°C", remedy="Give degrees Celsius at the boil.")]
    """in the boil; within 5 K of the computed curve"""
    solids: Annotated[float, Number(0.05, 0.89, "as a fraction", remedy="Write 65 °Brix as 0.65.")]
    """of the same spoonful, read at 20 °C: 65 °Brix is `0.65`"""


class BoilRow(CsvRow):
    date: Date
    """the day of the boil"""
    recipe: Name
    """what was cooked"""
    pan: Name
    """in which pan"""
    ring: Name
    """on which ring"""
    kg: Annotated[float, Number(0.1, 300, "kg", remedy="Give kg of prepared fruit.")]
    """prepared fruit"""
    minutes: Annotated[float, Number(1, 600, "minutes")]
    """from the rolling boil to the first set test, or to the end where there is none; within a fifth and
    five times the computed"""


class DeliveryRow(CsvRow):
    date: Date
    """when it comes"""
    good: Name
    """what comes"""
    quantity: Annotated[float, Number(0, 1_000_000, OF_GOOD)]
    """already ordered and paid for"""
    time: OptionalTime = None
    """what comes later than `open` in `[kitchen]` is usable from the next morning, all else from that
    morning"""
