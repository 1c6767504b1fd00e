"""A good folder reads to exactly the scenario that it describes, however it was saved."""

from __future__ import annotations

from contextlib import suppress
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.domain.fruit import Fruit, Grade, Lot, Place, PunnetDemand
from scheduler.domain.kitchen import Chiller, Freezer, Heat, JarOven, Pan, Ring
from scheduler.domain.people import BreakRule, Person, Shift, Skill, WorkRules
from scheduler.domain.recipes import FruitShare, Recipe
from scheduler.domain.scenario import Slack, Units
from scheduler.domain.trade import Delivery, Good, Order, ShopDemand, Weekday
from scheduler.errors import InputFaults
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import FARM, K, R

LEAST = {
    K: """
schema = 1
farm = "Kilbrack"
kitchen_id = "kilbrack"
currency = "EUR"
start = 2026-07-06
days = 2
[kitchen]
open = "08:00"
close = "16:30"
altitude_m = 60
heatproof_places = 0
[[pan]]
name = "steel"
litres = 12
diameter_cm = 30
[[ring]]
name = "gas"
heat = "gas"
kw = 6
largest_pan_cm = 32
[jar_oven]
jars = 40
[chiller]
kg = 100
celsius = 3
[freezer]
kg = 100
litres = 250
[potting]
jars_per_filler_hour = 110
[prices]
gas_price_kwh = 0.12
electricity_price_kwh = 0.31
""",
    R: """
[[recipe]]
name = "raspberry jam"
sugar_per_kg = 1
final_solids = 0.65
ph = 3.2
longest_boil_minutes = 45
jar = "jar"
lid = "lid"
jar_kg = 0.34
most_jars = 100
[[recipe.fruit]]
fruit = "raspberry"
""",
    "fruits.csv": "fruit,letter,colour,solids,preparation_loss,prepare_kg_per_hour,"
    "sell_days,peak_days,cook_days,keeps_like,table_value,kitchen_value\nraspberry,R,#b0246a,0.1,0.03,14,2.5,2.5,5,raspberry,9,3.4\n",
    "picks.csv": "date,fruit,grade,kg\n2026-07-06,raspberry,table,12.34\n2026-07-07,raspberry,kitchen,0\n",
    "lots.csv": "lot,fruit,grade,kg,place,picked,use_by\nold,raspberry,kitchen,3.25,chiller,2026-07-05,\n"
    "cold,raspberry,kitchen,4,freezer,2025-07-20,2026-07-20\n",
    "punnets.csv": "date,fruit,kg\n2026-07-06,raspberry,5\n",
    "people.csv": "person,skills,pay,overtime_pay,hours_week\nAoife,prepare cook fill,18,27,48\n"
    "Ciara,fill,15.5,23.25,40\n",
    "shifts.csv": "date,person,start,end\n2026-07-06,Aoife,08:00,16:30\n",
    "orders.csv": "order,customer,recipe,jars,due,price\nO-1,farm shop,raspberry jam,10,2026-07-07,4.2\n",
    "store.csv": "good,unit,on_hand,price,lead_days\nsugar,kg,50,1.1,2\n"
    "jar,each,100,0.38,2\nlid,each,100,0.09,2\n",
}
"""A folder that gives only what must be given."""


@pytest.fixture
def least(tmp_path: Path) -> Path:
    folder = tmp_path / "least"
    folder.mkdir()
    for name, text in LEAST.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_what_is_not_given_takes_its_documented_default(least: Path) -> None:
    situation = read_scenario(least)
    scenario = situation.scenario
    kitchen = scenario.kitchen
    assert (scenario.name, scenario.farm, scenario.kitchen_id, scenario.currency) == (
        "least",
        "Kilbrack",
        "kilbrack",
        "EUR",
    )
    assert (scenario.start, scenario.days, situation.as_of) == (date(2026, 7, 6), 2, date(2026, 7, 6))
    assert situation.log == ()
    assert (scenario.time_zone, scenario.units) == ("Europe/Dublin", Units.METRIC)
    assert (kitchen.open, kitchen.close, kitchen.altitude_m, kitchen.room_c) == (480, 990, 60, 20)
    assert kitchen.pans == (Pan("steel", 12, 30, 0.5),)
    # 0.40: US Department of Energy water-boiling tests, the default of physics.boil for gas.
    assert kitchen.rings == (Ring("gas", Heat.GAS, 6, 0.40, 32),)
    assert kitchen.oven == JarOven(40, 10, 20, 90)
    assert kitchen.chiller == Chiller(100, 3)
    # 2 lb a cubic foot in 24 hours (USDA): 250 litres are 8.83 cubic feet, so 17.7 lb or 8.0 kg.
    assert kitchen.freezer == Freezer(100, 250, 8.0, 4)
    assert (kitchen.fill_steps, kitchen.pans_per_cook, kitchen.people_while_boiling) == (
        (0.6, 0.8, 1.0),
        2,
        2,
    )
    assert (kitchen.fillers, kitchen.jars_per_filler_hour) == (2, 110)
    assert (kitchen.potting_limit_c, kitchen.potting_process) == (85, "")
    assert (kitchen.set_test_minutes, kitchen.reboil_minutes) == (5, 10)
    assert (kitchen.stand_minutes, kitchen.wash_minutes) == (5, 15)
    assert (kitchen.first_set_share, kitchen.keep_share, kitchen.older_share) == (0.7, 0.8, 0.25)
    assert kitchen.settle_days == 1
    # Organisation of Working Time Act 1997 (Ireland), sections 11 and 12.
    assert scenario.work_rules == WorkRules((BreakRule(270, 15), BreakRule(360, 30)), 270, 660)
    assert scenario.slack == Slack(0.02, 2.0, 0.0, 0.0)
    assert scenario.deliveries == scenario.shop == ()
    assert all(order.parts for order in scenario.orders)
    assert all(good.pack is None and good.delivery_days == {*Weekday} for good in scenario.goods)


def test_rows_become_the_farm_in_its_own_terms(least: Path) -> None:
    scenario = read_scenario(least).scenario
    assert scenario.fruits == (
        Fruit("raspberry", "R", "#b0246a", 0.1, 0.03, 14, 2.5, 2.5, 5, "raspberry", 9, 3.4, 0, 12, 0.5),
    )
    assert scenario.recipes == (
        Recipe(
            name="raspberry jam",
            fruits=(FruitShare("raspberry", 1, 1),),
            sugar_per_kg=1,
            water_per_kg=0,
            lemons_per_kg=0,
            pectin_g_per_kg=0,
            final_solids=0.65,
            ph=3.2,
            frozen_share=0,
            dissolve_minutes=10,
            longest_boil_minutes=45,
            pan_loss=0.02,
            jar="jar",
            lid="lid",
            jar_kg=0.34,
            jars_on_hand=0,
            most_jars=100,
            heat_step="",
        ),
    )
    assert scenario.people == (
        Person("Aoife", frozenset(Skill), 18, 27, 48),
        Person("Ciara", frozenset({Skill.FILL}), 15.5, 23.25, 40),
    )
    assert scenario.shifts == (Shift("Aoife", date(2026, 7, 6), 480, 990, 0),)
    assert scenario.orders == (
        Order("O-1", "farm shop", "raspberry jam", "jar", 10, date(2026, 7, 7), 4.2, 1),
    )
    assert scenario.goods == (
        Good("sugar", "kg", 50, 1.1, 2),
        Good("jar", "each", 100, 0.38, 2),
        Good("lid", "each", 100, 0.09, 2),
    )
    assert scenario.punnets == (PunnetDemand(date(2026, 7, 6), "raspberry", 5),)


def test_kg_are_rounded_to_a_tenth_and_picks_of_nothing_are_no_lots(least: Path) -> None:
    scenario = read_scenario(least).scenario
    assert scenario.picks == (
        Lot("raspberry table 2026-07-06", "raspberry", Grade.TABLE, 12.3, Place.CHILLER, date(2026, 7, 6)),
    )
    assert scenario.lots == (
        Lot("old", "raspberry", Grade.KITCHEN, 3.2, Place.CHILLER, date(2026, 7, 5)),
        Lot("cold", "raspberry", Grade.KITCHEN, 4, Place.FREEZER, date(2025, 7, 20), date(2026, 7, 20)),
    )


def test_warm_hours_are_those_of_the_row_else_the_kitchens_usual(least: Path) -> None:
    text = LEAST[K].replace("celsius = 3", "celsius = 3\nwarm_hours = 2\nwarm_celsius = 16")
    (least / K).write_text(text, encoding="utf-8")
    header = "date,fruit,grade,kg,warm_hours,warm_celsius\n2026-07-06,raspberry,"
    for cells, warm in {",": (2, 16), "48,20": (48, 20), "3,": (3, 16), ",20": (2, 20), "0,": (0, 0)}.items():
        (least / "picks.csv").write_text(f"{header}table,5,{cells}\n", encoding="utf-8")
        scenario = read_scenario(least).scenario
        assert [(pick.warm_hours, pick.warm_celsius) for pick in scenario.picks] == [warm]
    assert [(lot.name, lot.warm_hours, lot.warm_celsius) for lot in scenario.lots] == [
        ("old", 2, 16),
        ("cold", 0, 0),
    ]


def test_warmth_is_read_up_to_the_end_of_the_fruits_own_table(least: Path) -> None:
    # Gooseberries are published to 20.5 °C (USDA Agriculture Handbook 66), raspberries to 20 °C.
    fruits = LEAST["fruits.csv"].replace("5,raspberry,9", "5,gooseberry,9")
    (least / "fruits.csv").write_text(fruits, encoding="utf-8")
    picks = "date,fruit,grade,kg,warm_hours,warm_celsius\n2026-07-06,raspberry,table,5,1,20.5\n"
    (least / "picks.csv").write_text(picks, encoding="utf-8")
    (pick,) = read_scenario(least).scenario.picks
    assert pick.warm_celsius == 20.5


def test_deliveries_are_read_where_there_are_any(least: Path) -> None:
    (least / "deliveries.csv").write_text("date,good,quantity\n2026-07-07,jar,60\n", encoding="utf-8")
    assert read_scenario(least).scenario.deliveries == (Delivery(date(2026, 7, 7), "jar", 60),)


def test_the_shop_packs_and_delivery_days_are_read(least: Path) -> None:
    (least / "shop.csv").write_text("date,recipe,jars\n2026-07-07,raspberry jam,6\n", encoding="utf-8")
    (least / "store.csv").write_text(
        "good,unit,on_hand,price,lead_days,pack,least_packs,delivery_days\n"
        "sugar,kg,50,1.1,2,2.5,4,Thu Mon\njar,each,100,0.38,2,,,\nlid,each,100,0.09,2,500,,\n",
        encoding="utf-8",
    )
    orders = LEAST["orders.csv"].replace("price\n", "price,parts\n").replace("4.2\n", "4.2,no\n")
    (least / "orders.csv").write_text(orders, encoding="utf-8")
    scenario = read_scenario(least).scenario
    assert scenario.shop == (ShopDemand(date(2026, 7, 7), "raspberry jam", "jar", 6),)
    assert scenario.goods == (
        Good("sugar", "kg", 50, 1.1, 2, 2.5, 4, frozenset({Weekday.MON, Weekday.THU})),
        Good("jar", "each", 100, 0.38, 2, None, 1, frozenset(Weekday)),
        Good("lid", "each", 100, 0.09, 2, 500, 1, frozenset(Weekday)),
    )
    assert [order.parts for order in scenario.orders] == [False]


def resaved(folder: Path, old: str, new: str, mark: bytes = b"") -> None:
    """Save every file again with other line ends and a byte order mark."""
    for path in folder.iterdir():
        text = path.read_bytes().decode("utf-8").replace(old, new)
        path.write_bytes(mark + text.encode("utf-8"))


@pytest.mark.parametrize(
    ("new", "mark"),
    [
        ("\r\n", b""),
        ("\n", b"\xef\xbb\xbf"),
        ("\r\n", b"\xef\xbb\xbf"),
        ("\r", b""),
        ("\n\n", b""),
        ("  \n", b""),
    ],
    ids=["CRLF", "BOM", "BOM and CRLF", "CR", "blank lines", "spaces at line ends"],
)
def test_the_way_of_saving_changes_nothing(folder: Path, new: str, mark: bytes) -> None:
    before = read_scenario(folder)
    resaved(folder, "\n", new, mark)
    assert read_scenario(folder) == before


def test_semicolons_are_read_where_the_first_line_has_no_comma(folder: Path) -> None:
    before = read_scenario(folder)
    for path in folder.glob("*.csv"):
        path.write_text(path.read_text(encoding="utf-8").replace(",", ";"), encoding="utf-8")
    after = read_scenario(folder)
    assert after.scenario == before.scenario
    assert after.input_hash != before.input_hash


def test_empty_rows_and_columns_of_a_spreadsheet_are_passed_over(folder: Path) -> None:
    before = read_scenario(folder).scenario
    path = folder / "picks.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(f"{line},," for line in lines) + "\n,,,,,\n", encoding="utf-8")
    assert read_scenario(folder).scenario == before


def test_columns_may_stand_in_any_order(folder: Path) -> None:
    before = read_scenario(folder).scenario
    path = folder / "picks.csv"
    rows = [line.split(",") for line in path.read_text(encoding="utf-8").splitlines()]
    path.write_text("".join(",".join(reversed(row)) + "\n" for row in rows), encoding="utf-8")
    assert read_scenario(folder).scenario == before


def test_any_change_of_content_changes_the_fingerprint(folder: Path) -> None:
    before = read_scenario(folder).input_hash
    assert len(before) == 64
    path = folder / "orders.csv"
    path.write_text(path.read_text(encoding="utf-8").replace(",40,", ",41,"), encoding="utf-8")
    assert read_scenario(folder).input_hash != before


def test_a_named_process_allows_a_lower_potting_limit(folder: Path) -> None:
    path = folder / K
    text = path.read_text(encoding="utf-8")
    named = 'potting_limit_c = 80\npotting_process = "hot fill HF-2, approved by our food authority"'
    path.write_text(text.replace("potting_limit_c = 85", named), encoding="utf-8")
    assert read_scenario(folder).scenario.kitchen.potting_limit_c == 80


@settings(
    max_examples=100,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    derandomize=True,
)
@given(data=st.data())
def test_no_edit_of_one_place_ever_ends_in_anything_but_faults_or_a_scenario(
    folder: Path, data: st.DataObject
) -> None:
    name = data.draw(st.sampled_from(sorted(path.name for path in (FARM / "quiet-week").iterdir())))
    good = (FARM / "quiet-week" / name).read_bytes()
    place = data.draw(st.integers(0, len(good)))
    cut = data.draw(st.integers(0, 12))
    put = data.draw(
        st.one_of(
            st.binary(max_size=6),
            st.sampled_from(
                [b"-", b"1e999", b"nan", b'"', b"[[", b"\n", b",", b";", b"9" * 5000, b"\x00", b"'''"]
            ),
        )
    )
    (folder / name).write_bytes(good[:place] + put + good[place + cut :])
    try:
        with suppress(InputFaults):
            read_scenario(folder)
    finally:
        (folder / name).write_bytes(good)


@pytest.mark.parametrize("zone", ["America/New_York", "Europe/Dublin", "Pacific/Auckland", "Etc/UTC"])
def test_a_kitchen_goes_by_the_clock_of_its_zone(least: Path, zone: str) -> None:
    text = (least / "kitchen.toml").read_text(encoding="utf-8")
    (least / "kitchen.toml").write_text(f'time_zone = "{zone}"\n{text}', encoding="utf-8")
    assert read_scenario(least).scenario.time_zone == zone
