"""What each table of kitchen.toml and recipes.toml holds; field names are the keys."""

from __future__ import annotations

import datetime as dt
from typing import Annotated

from pydantic import BaseModel, ConfigDict

from scheduler.domain.kitchen import Heat, Thaw
from scheduler.domain.scenario import USUAL_ZONE
from scheduler.intake.kinds import (
    LONGEST_NOTE,
    Choice,
    Clock,
    Day,
    Known,
    Number,
    Pattern,
    Steps,
    Text,
    Truth,
    Ways,
    Whole,
    Zone,
)
from scheduler.law.composition import Kind, Role
from scheduler.law.safety import Judge

SCHEMA = 1
"""The version of the folder's layout that this program reads."""

MOST_OTHERS_G = 50
"""Grams per kg of prepared fruit, all other ingredients together: the mass balance passes over so little."""

Name = Annotated[str, Text()]
Note = Annotated[str, Text(LONGEST_NOTE, may_be_empty=True)]
Share = Annotated[float, Number(0, 1, "as a fraction", remedy="Write 70 % as 0.7.")]
Minutes = Annotated[int, Whole(0, 240, "minutes")]
Price = Annotated[float, Number(0, 100, "money per kWh")]


class Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class FarmTable(Table):
    farm: Name
    kitchen_id: Annotated[
        str,
        Pattern("[a-z0-9][a-z0-9-]{0,39}", "small letters, digits and hyphens", "Write it as in kilbrack."),
    ]
    currency: Annotated[str, Pattern("[A-Z]{3}", "a currency code of three capitals", "Write it as in EUR.")]
    start: Annotated[dt.date, Day()]
    days: Annotated[int, Whole(1, 400, "days")]
    time_zone: Annotated[str, Zone()] = USUAL_ZONE


class SlackTable(Table):
    spoiled_share: Share = 0.02
    spoiled_kg: Annotated[float, Number(0, 1000, "kg")] = 2.0
    short_share: Share = 0.0
    money_share: Share = 0.0


class KitchenTable(Table):
    open: Annotated[int, Clock()]
    close: Annotated[int, Clock()]
    altitude_m: Annotated[float, Number(0, 4000, "m")]
    room_c: Annotated[float, Number(5, 45, "°C")] = 20.0
    heatproof_places: Annotated[int, Whole(0, 50)]


class PanTable(Table):
    name: Name
    litres: Annotated[float, Number(0.5, 500, "litres")]
    diameter_cm: Annotated[float, Number(10, 150, "cm")]
    fill: Annotated[float, Number(0.1, 0.8, "as a fraction", remedy="Write half full as 0.5.")] = 0.5


class RingTable(Table):
    name: Name
    heat: Annotated[Heat, Choice(Heat)]
    kw: Annotated[float, Number(0.2, 60, "kW", remedy="Write 3500 W as 3.5.")]
    efficiency: Annotated[float | None, Number(0.05, 1, "as a fraction", remedy="Write 84 % as 0.84.")] = None
    largest_pan_cm: Annotated[float, Number(10, 150, "cm")]


class FreezerBoxTable(Table):
    name: Name
    kg: Annotated[float, Number(0.1, 500, "kg", places=1)]
    count: Annotated[int, Whole(0, 100_000, "boxes")]


class OvenTable(Table):
    jars: Annotated[int, Whole(1, 10_000, "jars")]
    load_minutes: Annotated[int, Whole(5, 120, "minutes", step=5)] = 10
    heat_minutes: Annotated[int, Whole(0, 240, "minutes", step=5)] = 20
    hot_minutes: Annotated[int, Whole(5, 720, "minutes", step=5)] = 90
    kw: Annotated[float, Number(0, 60, "kW", remedy="Write 2500 W as 2.5.")] = 0.0
    heat: Annotated[str, Known((Heat.GAS, Heat.ELECTRIC))] = Heat.ELECTRIC
    wash_jars_per_hour: Annotated[float | None, Number(5, 5000, "jars an hour")] = None


class SupplyTable(Table):
    electric_kw: Annotated[float | None, Number(0.1, 500, "kW", remedy="Write 7400 W as 7.4.")] = None
    gas_kw: Annotated[float | None, Number(0.1, 500, "kW", remedy="Write 7400 W as 7.4.")] = None
    other_electric_kw: Annotated[float, Number(0, 500, "kW", remedy="Write 800 W as 0.8.")] = 0.0
    gas_kg: Annotated[float | None, Number(0, 5000, "kg", remedy="Give kg of gas, not of bottles.")] = None


class ChillerTable(Table):
    kg: Annotated[float, Number(0, 100_000, "kg")]
    celsius: Annotated[float, Number(0, 20, "°C", remedy="Respiration, and so life, is known between these.")]
    warm_hours: Annotated[float, Number(0, 48, "hours", remedy="Give hours, half a day as 12.")] = 0.0
    warm_celsius: Annotated[float, Number(0, 50, "°C", remedy="Give degrees Celsius in the shade.")] = 18.0


class SecondFreezerTable(Table):
    name: Name = "second freezer"
    kg: Annotated[float, Number(0, 100_000, "kg")]
    litres: Annotated[float, Number(1, 100_000, "litres")]
    freeze_kg_per_day: Annotated[float | None, Number(0, 10_000, "kg a day")] = None
    tray_litres_per_kg: Annotated[float, Number(1, 20, "litres a kg")] = 4.0
    defrost_on: Annotated[dt.date | None, Day()] = None
    fails_on: Annotated[dt.date | None, Day()] = None


class FreezerTable(SecondFreezerTable):
    name: Name = "freezer"
    room_free_kg: Annotated[float, Number(0, 100_000, "kg")] = 0.0
    room_free_from: Annotated[dt.date | None, Day()] = None
    celsius: Annotated[float, Number(-40, -5, "°C", remedy="Give -18 with its sign.")] = -18.0
    layer_cm: Annotated[float, Number(0.5, 10, "cm", remedy="Give the depth of the fruit on a tray.")] = 2.0
    box_cm: Annotated[float, Number(1, 40, "cm", remedy="Give the box's shortest side.")] = 8.0


class DripStandsTable(Table):
    count: Annotated[int, Whole(0, 50, "drip stands")]
    litres: Annotated[float, Number(1, 100, "litres")]


class PottingTable(Table):
    fillers: Annotated[int, Whole(1, 10, "people")] = 2
    jars_per_filler_hour: Annotated[float, Number(5, 1000, "jars an hour")]
    potting_limit_c: Annotated[
        float,
        Number(70, 95, "°C", remedy="Below 70 °C jam is not potted: use smaller batches or more fillers."),
    ] = 85.0
    potting_process: Note = ""
    keep_hot: Annotated[bool, Truth()] = False
    sample_jars: Annotated[int, Whole(0, 20, "jars")] = 0
    scrap_share: Annotated[float, Number(0, 0.5, "as a fraction", remedy="Write 2 % as 0.02.")] = 0.0
    rack_jars: Annotated[
        int | None, Whole(1, 100_000, "jars", remedy="Leave it out where racks are no limit.")
    ] = None
    shelf_jars: Annotated[
        int | None, Whole(1, 1_000_000, "jars", remedy="Leave it out where shelves are no limit.")
    ] = None


class LabelsTable(Table):
    jars_per_hour: Annotated[float, Number(5, 1000, "jars an hour")]
    within_days: Annotated[int, Whole(1, 365, "days")] = 7


class HabitsTable(Table):
    thaw: Annotated[Thaw, Choice(Thaw)] = Thaw.OVERNIGHT
    fill_steps: Annotated[tuple[float, ...], Steps()] = (0.6, 0.8, 1.0)
    pans_per_cook: Annotated[int, Whole(1, 4, "pans")] = 2
    people_while_boiling: Annotated[int, Whole(1, 10, "people")] = 2
    set_test_minutes: Annotated[int, Whole(1, 60, "minutes")] = 5
    reboil_minutes: Annotated[int, Whole(1, 60, "minutes")] = 10
    stand_minutes: Annotated[int, Whole(0, 60, "minutes")] = 5
    wash_minutes: Annotated[int, Whole(5, 120, "minutes")] = 15
    full_wash_minutes: Annotated[int | None, Whole(5, 240, "minutes")] = None
    clean_down_minutes: Annotated[int, Whole(0, 240, "minutes", step=5)] = 0
    take_out_minutes: Annotated[int, Whole(0, 60, "minutes")] = 0
    first_set_share: Annotated[float, Number(0.05, 1, "as a fraction", remedy="Write 70 % as 0.7.")] = 0.7
    keep_share: Annotated[float, Number(0, 0.99, "as a fraction", remedy="Write 80 % as 0.8.")] = 0.8
    older_share: Share = 0.25
    settle_days: Annotated[int, Whole(0, 14, "days")] = 1


class PricesTable(Table):
    gas_price_kwh: Price
    electricity_price_kwh: Price


class WorkTable(Table):
    longest_stretch_minutes: Annotated[int, Whole(30, 720, "minutes", step=5)] = 270
    rest_minutes: Annotated[int, Whole(0, 1440, "minutes", step=5)] = 660
    least_paid_minutes: Annotated[int, Whole(0, 720, "minutes")] = 0
    boil_from_age: Annotated[int, Whole(0, 30, "years")] = 0
    longest_stove_minutes: Annotated[int | None, Whole(5, 720, "minutes", step=5)] = None
    stove_rest_minutes: Annotated[int, Whole(5, 240, "minutes", step=5)] = 15


class BreakTable(Table):
    after_minutes: Annotated[int, Whole(0, 1440, "minutes", step=5)]
    minutes: Annotated[int, Whole(5, 120, "minutes", step=5)]


class RecipeTable(Table):
    name: Name
    kind: Annotated[Kind, Choice(Kind)] = Kind.JAM
    sugar_per_kg: Annotated[float, Number(0, 3, "kg")]
    water_per_kg: Annotated[float, Number(0, 3, "kg")] = 0.0
    lemons_per_kg: Annotated[float, Number(0, 20, "lemons")] = 0.0
    pectin_g_per_kg: Annotated[float, Number(0, 100, "g")] = 0.0
    final_solids: Annotated[float, Number(0.1, 0.8, "as a fraction", remedy="Write 65 % as 0.65.")]
    ph: Annotated[float, Number(2, 14, remedy="Write the pH that you measured.")]
    frozen_share: Share = 0.0
    soften_minutes: Annotated[int, Whole(0, 240, "minutes")] = 0
    strained_share: Annotated[float | None, Number(0.05, 1, "as a fraction", remedy="Write 60 % as 0.6.")] = (
        None
    )
    strain_kg_per_hour: Annotated[float, Number(1, 1000, "kg")] = 60.0
    stains: Annotated[bool, Truth()] = False
    dissolve_minutes: Annotated[int, Whole(0, 120, "minutes")] = 10
    longest_boil_minutes: Annotated[int, Whole(5, 240, "minutes")]
    pan_loss: Annotated[float, Number(0, 0.3, "as a fraction", remedy="Write 2 % as 0.02.")] = 0.02
    jar: Name
    lid: Name
    jar_kg: Annotated[float, Number(0.02, 5, "kg", remedy="Write 340 g as 0.34.")]
    jars_on_hand: Annotated[int, Whole(0, 100_000, "jars")] = 0
    most_jars: Annotated[int, Whole(0, 100_000, "jars")]
    best_before_months: Annotated[int | None, Whole(1, 120, "months")] = None
    judged_by: Annotated[Judge, Choice(Judge)] = Judge.COLD_PLATE
    heat_step: Note = ""
    approver: Note = ""
    fill_shares: Annotated[tuple[tuple[float, ...], ...] | None, Ways()] = None


class SizeTable(Table):
    jar: Name
    lid: Name
    jar_kg: Annotated[float, Number(0.02, 5, "kg", remedy="Write 220 g as 0.22.")]
    jars_on_hand: Annotated[int, Whole(0, 100_000, "jars")] = 0


class ShareTable(Table):
    fruit: Name
    low: Share = 1.0
    high: Share = 1.0


class OtherTable(Table):
    name: Name
    g_per_kg: Annotated[
        float, Number(0.01, MOST_OTHERS_G, "g", remedy="More would change what the pan yields: use less.")
    ]
    role: Annotated[str, Known((Role.ACID, Role.VINEGAR, Role.OTHER))] = Role.OTHER
    allergen: Annotated[bool, Truth()] = False
