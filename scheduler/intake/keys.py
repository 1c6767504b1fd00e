"""What each table of kitchen.toml and recipes.toml holds; field names are the keys."""

from __future__ import annotations

import datetime as dt
from typing import Annotated

from pydantic import BaseModel, ConfigDict

from scheduler.domain.kitchen import Heat, Thaw
from scheduler.domain.scenario import USUAL_ZONE, Units
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
MOST_VINEGAR_G = 1000
"""Grams per kg of prepared fruit, of the vinegar of a chutney, which counts as water does."""

Name = Annotated[str, Text()]
Note = Annotated[str, Text(LONGEST_NOTE, may_be_empty=True)]
Share = Annotated[float, Number(0, 1, "as a fraction", remedy="Write 70 % as 0.7.")]
Minutes = Annotated[int, Whole(0, 240, "minutes")]
Price = Annotated[float, Number(0, 100, "money per kWh")]


class Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True)


class FarmTable(Table):
    farm: Name
    """the farm's name"""
    kitchen_id: Annotated[
        str,
        Pattern("[a-z0-9][a-z0-9-]{0,39}", "small letters, digits and hyphens", "Write it as in kilbrack."),
    ]
    """the same in all scenarios of a kitchen"""
    currency: Annotated[str, Pattern("[A-Z]{3}", "a currency code of three capitals", "Write it as in EUR.")]
    """currency of all money, as `EUR`"""
    start: Annotated[dt.date, Day()]
    """first planned day; the plan is made on the evening before"""
    days: Annotated[int, Whole(1, 400, "days")]
    """number of planned days"""
    time_zone: Annotated[str, Zone()] = USUAL_ZONE
    """whose clock the kitchen goes by; calendars on phones are told it"""
    units: Annotated[Units, Choice(Units)] = Units.METRIC
    """how amounts are shown; what has no unit in the files is metric all the same"""


class SlackTable(Table):
    spoiled_share: Share = 0.02
    """share of the best value of spoiled fruit"""
    spoiled_kg: Annotated[float, Number(0, 1000, "kg")] = 2.0
    """and so many kg besides"""
    short_share: Share = 0.0
    """share of the fewest jars short"""
    money_share: Share = 0.0
    """share of the best money"""


class KitchenTable(Table):
    open: Annotated[int, Clock()]
    """no stage of work starts before; a day's narrower hours stand in `days.csv`"""
    close: Annotated[int, Clock()]
    """no stage of work ends after; a day's narrower hours stand in `days.csv`"""
    altitude_m: Annotated[float, Number(0, 4000, "m")]
    """height above the sea: water boils cooler the higher you are"""
    room_c: Annotated[float, Number(5, 45, "°C")] = 20.0
    """what a pan cools towards"""
    heatproof_places: Annotated[int, Whole(0, 50)]
    """places for pans off the ring; with 0 a pan keeps its ring"""


class PanTable(Table):
    name: Name
    """what you call it"""
    litres: Annotated[float, Number(0.5, 500, "litres")]
    """to the rim"""
    diameter_cm: Annotated[float, Number(10, 150, "cm")]
    """inside; wider boils faster and cools faster"""
    fill: Annotated[float, Number(0.1, 0.8, "as a fraction", remedy="Write half full as 0.5.")] = 0.5
    """safe share of the volume before the boil rises"""


class RingTable(Table):
    name: Name
    """what you call it"""
    heat: Annotated[Heat, Choice(Heat)]
    """what it heats with"""
    kw: Annotated[float, Number(0.2, 60, "kW", remedy="Write 3500 W as 3.5.")]
    """power, 3500 W is `3.5`"""
    efficiency: Annotated[float | None, Number(0.05, 1, "as a fraction", remedy="Write 84 % as 0.84.")] = None
    """power that reaches the pan"""
    largest_pan_cm: Annotated[float, Number(10, 150, "cm")]
    """widest pan that it takes; every pan must fit a ring"""


class FreezerBoxTable(Table):
    name: Name
    """what you call it; fruits name it in `freezer_box`"""
    kg: Annotated[float, Number(0.1, 500, "kg", places=1)]
    """prepared fruit that one box holds"""
    count: Annotated[int, Whole(0, 100_000, "boxes")]
    """boxes of this size; those of the freezer lots on hand must be among them"""


class OvenTable(Table):
    jars: Annotated[int, Whole(1, 10_000, "jars")]
    """jars that it holds"""
    load_minutes: Annotated[int, Whole(5, 120, "minutes", step=5)] = 10
    """to load the jars of a batch"""
    heat_minutes: Annotated[int, Whole(0, 240, "minutes", step=5)] = 20
    """from loaded to ready"""
    hot_minutes: Annotated[int, Whole(5, 720, "minutes", step=5)] = 90
    """how long ready jars may wait"""
    kw: Annotated[float, Number(0, 60, "kW", remedy="Write 2500 W as 2.5.")] = 0.0
    """what it draws, 2500 W is `2.5`; counted all day on a day on which jars are filled"""
    heat: Annotated[str, Known((Heat.GAS, Heat.ELECTRIC))] = Heat.ELECTRIC
    """what it draws of"""
    wash_jars_per_hour: Annotated[float | None, Number(5, 5000, "jars an hour")] = None
    """jars that one person washes in an hour, before they are loaded"""


class SupplyTable(Table):
    electric_kw: Annotated[float | None, Number(0.1, 500, "kW", remedy="Write 7400 W as 7.4.")] = None
    """what the kitchen's electric supply carries at once"""
    gas_kw: Annotated[float | None, Number(0.1, 500, "kW", remedy="Write 7400 W as 7.4.")] = None
    """what regulator and bottles, or the main, give at once"""
    other_electric_kw: Annotated[float, Number(0, 500, "kW", remedy="Write 800 W as 0.8.")] = 0.0
    """what else is always on: chiller, freezer, kettle"""
    gas_kg: Annotated[float | None, Number(0, 5000, "kg", remedy="Give kg of gas, not of bottles.")] = None
    """gas in the bottles for the planned days; none is mains gas"""


class ChillerTable(Table):
    kg: Annotated[float, Number(0, 100_000, "kg")]
    """fruit that it holds overnight"""
    celsius: Annotated[float, Number(0, 20, "°C", remedy="Respiration, and so life, is known between these.")]
    """its real temperature: how long fruit keeps follows from it"""
    warm_hours: Annotated[float, Number(0, 48, "hours", remedy="Give hours, half a day as 12.")] = 0.0
    """usual hours between picking and the chiller"""
    warm_celsius: Annotated[float, Number(0, 50, "°C", remedy="Give degrees Celsius in the shade.")] = 18.0
    """how warm the fruit usually is there"""


class SecondFreezerTable(Table):
    name: Name = "second freezer"
    """what you call it, unlike the first"""
    kg: Annotated[float, Number(0, 100_000, "kg")]
    """fruit that it holds"""
    litres: Annotated[float, Number(1, 100_000, "litres")]
    """its room"""
    freeze_kg_per_day: Annotated[float | None, Number(0, 10_000, "kg a day")] = None
    """frozen in a day without warming the rest"""
    tray_litres_per_kg: Annotated[float, Number(1, 20, "litres a kg")] = 4.0
    """room that fruit takes on trays on the day it is frozen, no less than boxed"""
    defrost_on: Annotated[dt.date | None, Day()] = None
    """the day on which it is defrosted: it is empty then, and the night before"""
    fails_on: Annotated[dt.date | None, Day()] = None
    """what if it failed: from that day on it holds nothing"""


class FreezerTable(SecondFreezerTable):
    name: Name = "freezer"
    """what you call it"""
    room_free_kg: Annotated[float, Number(0, 100_000, "kg")] = 0.0
    """room to keep free, as for the next glut; needs `room_free_from`"""
    room_free_from: Annotated[dt.date | None, Day()] = None
    """the room is kept free from the end of that day to the last planned one"""
    celsius: Annotated[float, Number(-40, -5, "°C", remedy="Give -18 with its sign.")] = -18.0
    """its air, for the hours and the electricity of freezing"""
    layer_cm: Annotated[float, Number(0.5, 10, "cm", remedy="Give the depth of the fruit on a tray.")] = 2.0
    """depth of fruit on a tray"""
    box_cm: Annotated[float, Number(1, 40, "cm", remedy="Give the box's shortest side.")] = 8.0
    """thickness of a box, its shortest side"""


class DripStandsTable(Table):
    count: Annotated[int, Whole(0, 50, "drip stands")]
    """stands; each drips one batch overnight"""
    litres: Annotated[float, Number(1, 100, "litres")]
    """fruit and water that the bag of one stand holds; 5 to 15 are usual (common practice, no source)"""


class PottingTable(Table):
    fillers: Annotated[int, Whole(1, 10, "people")] = 2
    """people who pot up a batch together"""
    jars_per_filler_hour: Annotated[float, Number(5, 1000, "jars an hour")]
    """jars that one of them fills and closes in an hour"""
    potting_limit_c: Annotated[
        float,
        Number(70, 95, "°C", remedy="Below 70 °C jam is not potted: use smaller batches or more fillers."),
    ] = 85.0
    """what the last jar must still have, counted from heat off"""
    potting_process: Note = ""
    """needed below 85: names your written, approved process"""
    keep_hot: Annotated[bool, Truth()] = False
    """a batch that sets before its re-boils are used up is kept hot on its ring until it is potted (it
    loses set if long); otherwise hot jars and somebody to fill stand by for it"""
    sample_jars: Annotated[int, Whole(0, 20, "jars")] = 0
    """jars of each batch that are held back as its retained sample, of its last size"""
    scrap_share: Annotated[float, Number(0, 0.5, "as a fraction", remedy="Write 2 % as 0.02.")] = 0.0
    """share of the jars filled that crack or do not seal, of each size"""
    rack_jars: Annotated[
        int | None, Whole(1, 100_000, "jars", remedy="Leave it out where racks are no limit.")
    ] = None
    """jars that the cooling racks hold until the next morning: no more are filled on a day"""
    shelf_jars: Annotated[
        int | None, Whole(1, 1_000_000, "jars", remedy="Leave it out where shelves are no limit.")
    ] = None
    """jars that the store has room for, those on hand included"""


class LabelsTable(Table):
    jars_per_hour: Annotated[float, Number(5, 1000, "jars an hour")]
    """jars that one person wipes, labels and boxes in an hour; 60 to 120 by hand (common practice, no
    source)"""
    within_days: Annotated[int, Whole(1, 365, "days")] = 7
    """labelled no later than so many days after potting, where that is a planned day"""


class HabitsTable(Table):
    thaw: Annotated[Thaw, Choice(Thaw)] = Thaw.OVERNIGHT
    """frozen fruit thaws in the chiller the night before, where it takes room, or in the pan that cooks it,
    which takes longer; it is never frozen again"""
    fill_steps: Annotated[tuple[float, ...], Steps()] = (0.6, 0.8, 1.0)
    """sizes of batches, as shares of safe fill"""
    pans_per_cook: Annotated[int, Whole(1, 4, "pans")] = 2
    """boiling pans that one cook may mind"""
    people_while_boiling: Annotated[int, Whole(1, 10, "people")] = 2
    """people in the kitchen while any pan is on"""
    set_test_minutes: Annotated[int, Whole(1, 60, "minutes")] = 5
    """each set test"""
    reboil_minutes: Annotated[int, Whole(1, 60, "minutes")] = 10
    """each re-boil"""
    stand_minutes: Annotated[int, Whole(0, 60, "minutes")] = 5
    """standing, so that fruit does not float"""
    wash_minutes: Annotated[int, Whole(5, 120, "minutes")] = 15
    """washing a pan"""
    full_wash_minutes: Annotated[int | None, Whole(5, 240, "minutes")] = None
    """washing the pan of a recipe that holds an allergen (`[[recipe.other]]`) or `stains`, with spoons,
    funnel and bag"""
    clean_down_minutes: Annotated[int, Whole(0, 240, "minutes", step=5)] = 0
    """one person's last work of a day on which anything is cooked or prepared, when all else has ended"""
    take_out_minutes: Annotated[int, Whole(0, 60, "minutes")] = 0
    """one person takes out of the freezer what is cooked tomorrow; where nobody comes in the day before,
    nothing of the freezer is cooked. With 0 it is only listed"""
    first_set_share: Annotated[float, Number(0.05, 1, "as a fraction", remedy="Write 70 % as 0.7.")] = 0.7
    """share of batches that set at the first test"""
    keep_share: Annotated[float, Number(0, 0.99, "as a fraction", remedy="Write 80 % as 0.8.")] = 0.8
    """share of batches whose re-boils the plan keeps time for"""
    older_share: Share = 0.25
    """most of a batch that may be fruit past its peak"""
    settle_days: Annotated[int, Whole(0, 14, "days")] = 1
    """days from potting to shipping"""


class PricesTable(Table):
    gas_price_kwh: Price
    """price of a kWh of gas"""
    electricity_price_kwh: Price
    """price of a kWh of electricity"""


class WorkTable(Table):
    longest_stretch_minutes: Annotated[int, Whole(30, 720, "minutes", step=5)] = 270
    """longest work without a break"""
    rest_minutes: Annotated[int, Whole(0, 1440, "minutes", step=5)] = 660
    """from leaving to arriving the next day"""
    least_paid_minutes: Annotated[int, Whole(0, 720, "minutes")] = 0
    """a shift in use that is shorter is paid as if it lasted so long; what is missing is no overtime"""
    boil_from_age: Annotated[int, Whole(0, 30, "years")] = 0
    """who is younger on a day keeps off hot sugar: neither cooks, pots up nor stands by"""
    longest_stove_minutes: Annotated[int | None, Whole(5, 720, "minutes", step=5)] = None
    """nobody minds pans for longer than this at a stretch"""
    stove_rest_minutes: Annotated[int, Whole(5, 240, "minutes", step=5)] = 15
    """minutes away from the pans between two stretches; other work is rest from the stove"""


class BreakTable(Table):
    after_minutes: Annotated[int, Whole(0, 1440, "minutes", step=5)]
    """presence longer than this takes the break"""
    minutes: Annotated[int, Whole(5, 120, "minutes", step=5)]
    """how long the break is, no longer than `after_minutes`"""


class RecipeTable(Table):
    name: Name
    """what you call it, alike in all files"""
    kind: Annotated[Kind, Choice(Kind)] = Kind.JAM
    """what is made"""
    sugar_per_kg: Annotated[float, Number(0, 3, "kg for a kg of fruit")]
    """sugar for a kg of prepared fruit"""
    water_per_kg: Annotated[float, Number(0, 3, "kg for a kg of fruit")] = 0.0
    """water that goes into the pan with the fruit"""
    lemons_per_kg: Annotated[float, Number(0, 20, "lemons")] = 0.0
    """lemons, by count"""
    pectin_g_per_kg: Annotated[float, Number(0, 100, "g for a kg of fruit")] = 0.0
    """pectin for a kg of prepared fruit"""
    final_solids: Annotated[float, Number(0.1, 0.8, "as a fraction", remedy="Write 65 % as 0.65.")]
    """soluble solids when done: 65 °Brix is `0.65`"""
    ph: Annotated[float, Number(2, 14, remedy="Write the pH that you measured.")]
    """measured when done, cold; 4.6 is the hazard line, the plan stays below"""
    frozen_share: Share = 0.0
    """most from the freezer; at 1 it may be cooked wholly from it"""
    soften_minutes: Annotated[int, Whole(0, 240, "minutes")] = 0
    """how long fruit and water simmer before the sugar goes in"""
    strained_share: Annotated[float | None, Number(0.05, 1, "as a fraction", remedy="Write 60 % as 0.6.")] = (
        None
    )
    """share of the mass of fruit and water that passes bag or sieve"""
    strain_kg_per_hour: Annotated[float, Number(1, 1000, "kg an hour")] = 60.0
    """fruit and water that one person tips into the bag or rubs through the sieve in an hour"""
    stains: Annotated[bool, Truth()] = False
    """dark fruit, after which the pan is washed in full (`full_wash_minutes`), so that it does not tinge a
    pale batch"""
    dissolve_minutes: Annotated[int, Whole(0, 120, "minutes")] = 10
    """least time to dissolve the sugar"""
    longest_boil_minutes: Annotated[int, Whole(5, 240, "minutes")]
    """longest boil, the re-boils that the plan keeps included"""
    pan_loss: Annotated[float, Number(0, 0.3, "as a fraction", remedy="Write 2 % as 0.02.")] = 0.02
    """share that stays in pan, funnel and tests"""
    jar: Name
    """the jar, a good in `store.csv`"""
    lid: Name
    """its lid, a good in `store.csv`"""
    jar_kg: Annotated[float, Number(0.02, 5, "kg", remedy="Write 340 g as 0.34.")]
    """net mass of a jar, 340 g is `0.34`"""
    jars_on_hand: Annotated[int, Whole(0, 100_000, "jars")] = 0
    """jars that may be shipped from the first day on"""
    most_jars: Annotated[int, Whole(0, 100_000, "jars")]
    """most that can be sold before best before, jars on hand included"""
    best_before_months: Annotated[int | None, Whole(1, 120, "months")] = None
    """months from potting; more than the default is warned of"""
    judged_by: Annotated[Judge, Choice(Judge)] = Judge.COLD_PLATE
    """how the end of the boil is judged; below 0.60 solids by refractometer only"""
    heat_step: Note = ""
    """needed below 0.60 solids: the approved heat step or chilling"""
    approver: Note = ""
    """needed where vinegar goes in: who approved the process, and when"""
    fill_shares: Annotated[tuple[tuple[float, ...], ...] | None, Ways()] = None
    """ways to share a batch out among its sizes, below"""


class SizeTable(Table):
    jar: Name
    """the jar of this size, a good in `store.csv`"""
    lid: Name
    """its lid, a good in `store.csv`"""
    jar_kg: Annotated[float, Number(0.02, 5, "kg", remedy="Write 220 g as 0.22.")]
    """net mass of a jar, 220 g is `0.22`"""
    jars_on_hand: Annotated[int, Whole(0, 100_000, "jars")] = 0
    """jars of this size that may be shipped from the first day on"""


class ShareTable(Table):
    fruit: Name
    """a fruit of the recipe"""
    low: Share = 1.0
    """least share of the prepared fruit; the shares must be able to add to 1"""
    high: Share = 1.0
    """most share of the prepared fruit; the shares must be able to add to 1"""


class OtherTable(Table):
    name: Name
    """as the label names it"""
    g_per_kg: Annotated[
        float,
        Number(0.01, MOST_VINEGAR_G, "g for a kg of fruit", remedy="Use less."),
    ]
    """for a kg of prepared fruit; all of them together 50 g at most, the vinegar of a chutney not counted"""
    role: Annotated[str, Known((Role.ACID, Role.VINEGAR, Role.OTHER))] = Role.OTHER
    """why it goes in"""
    allergen: Annotated[bool, Truth()] = False
    """whether the law has it declared: nuts, sulphites, milk and others"""
