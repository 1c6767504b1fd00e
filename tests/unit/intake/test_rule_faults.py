"""Faults that show only when rows and files are held against each other."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.intake.spoil import Case, K, add, assert_told_once, columns, faults_of, swap

TOGETHER: dict[str, Case] = {
    "pick outside the horizon": (
        swap("picks.csv", "2026-08-30,strawberry", "2026-08-31,strawberry"),
        "picks.csv",
        "row 19, column date",
        "2026-08-24 to 2026-08-30",
    ),
    "punnets outside the horizon": (
        swap("punnets.csv", "2026-08-30,strawberry", "2026-08-23,strawberry"),
        "punnets.csv",
        "row 20, column date",
        "planned day",
    ),
    "shift outside the horizon": (
        swap("shifts.csv", "2026-08-24,Aoife", "2026-09-24,Aoife"),
        "shifts.csv",
        "row 2, column date",
        "planned day",
    ),
    "order after the horizon": (
        swap("orders.csv", "2026-08-27", "2026-09-27"),
        "orders.csv",
        "row 2, column due",
        "Leave orders of other days out",
    ),
    "delivery outside the horizon": (
        add("deliveries.csv", "date,good,quantity\n2026-09-01,sugar,5"),
        "deliveries.csv",
        "row 2, column date",
        "on_hand",
    ),
    "pick of an unknown fruit": (
        swap("picks.csv", "strawberry", "Strawbery"),
        "picks.csv",
        "row 2, column fruit",
        "Did you mean 'strawberry'?",
    ),
    "punnets of an unknown fruit": (
        swap("punnets.csv", "strawberry", "apple"),
        "punnets.csv",
        "row 2, column fruit",
        "a name of fruits.csv",
    ),
    "lot of an unknown fruit": (
        swap("lots.csv", "July,raspberry", "July,rasp"),
        "lots.csv",
        "row 3, column fruit",
        "'raspberry'?",
    ),
    "order of an unknown recipe": (
        swap("orders.csv", "raspberry jam", "raspbery jam"),
        "orders.csv",
        "row 3, column recipe",
        "'raspberry jam'?",
    ),
    "shift of an unknown person": (
        swap("shifts.csv", "Aoife", "Aoifa"),
        "shifts.csv",
        "row 2, column person",
        "'Aoife'?",
    ),
    "delivery of an unknown good": (
        add("deliveries.csv", "date,good,quantity\n2026-08-25,suger,5"),
        "deliveries.csv",
        "row 2, column good",
        "'sugar'?",
    ),
    "two lots of one name": (
        add("lots.csv", "raspberry July,raspberry,kitchen,3,freezer,2026-07-20,2027-07-20"),
        "lots.csv",
        "row 4, column lot",
        "two lots cannot have one name",
    ),
    "lot named like a pick": (
        swap("lots.csv", "raspberry July", "raspberry table 2026-08-24"),
        "lots.csv",
        "row 3, column lot",
        "a pick",
    ),
    "lot named like fruit to be frozen": (
        swap("lots.csv", "raspberry July", "raspberry frozen 2026-08-25"),
        "lots.csv",
        "row 3, column lot",
        "Rename the lot",
    ),
    "pick twice": (
        add("picks.csv", "2026-08-24,strawberry,table,1"),
        "picks.csv",
        "row 21",
        "Add the two rows up",
    ),
    "punnets twice": (
        add("punnets.csv", "2026-08-24,strawberry,1"),
        "punnets.csv",
        "row 23",
        "Add the two rows up",
    ),
    "two fruits of one name": (
        add("fruits.csv", "raspberry,X,#b0246a,0.10,0.03,14,2.5,2.5,5,raspberry,9,3,40,12,0.48"),
        "fruits.csv",
        "row 5, column fruit",
        "row 3",
    ),
    "two fruits of one letter": (
        swap("fruits.csv", ",K,", ",S,"),
        "fruits.csv",
        "row 4, column letter",
        "another letter",
    ),
    "a yard too warm for the fruit's table": (
        columns("picks.csv", 2, warm_hours="3", warm_celsius="20.1"),
        "picks.csv",
        "row 2, column warm_celsius",
        "0 to 20 °C, where the life of strawberry is known",
    ),
    "a lot on hand from too warm a yard": (
        columns("lots.csv", 2, warm_celsius="30"),
        "lots.csv",
        "row 2, column warm_celsius",
        "an hour that is 10 °C above it as three",
    ),
    "a yard that is usually too warm": (
        swap(K, "celsius = 3", "celsius = 3\nwarm_celsius = 25"),
        K,
        "[chiller], key warm_celsius",
        "0 to 20 °C, where the life of strawberry, raspberry, blackberry is known",
    ),
    "warm hours of a frozen lot": (
        columns("lots.csv", 3, warm_hours="2"),
        "lots.csv",
        "row 3, column warm_hours",
        "nothing for a lot in the freezer",
    ),
    "warmth of a frozen lot": (
        columns("lots.csv", 3, warm_celsius="15"),
        "lots.csv",
        "row 3, column warm_celsius",
        "keeps to its use_by",
    ),
    "boxes that take more room than trays": (
        swap("fruits.csv", "20,6,0.50", "20,6,0.24"),
        "fruits.csv",
        "row 2, column frozen_kg_per_litre",
        "at least 0.25: boxed, a kg takes no more than its 4 litres on trays",
    ),
    "frozen lot without a date": (
        swap("lots.csv", ",2027-07-17", ","),
        "lots.csv",
        "row 3, column use_by",
        "lot in the freezer",
    ),
    "fresh lot with a date": (
        swap("lots.csv", "2026-08-23,\n", "2026-08-23,2026-08-29\n"),
        "lots.csv",
        "row 2, column use_by",
        "Leave it empty",
    ),
    "use-by before picked": (
        swap("lots.csv", "2027-07-17", "2026-07-17"),
        "lots.csv",
        "row 3, column use_by",
        "Mend one of the two dates",
    ),
    "lot from the future": (
        swap("lots.csv", "chiller,2026-08-23", "chiller,2026-08-25"),
        "lots.csv",
        "row 2, column picked",
        "picks.csv",
    ),
    "lot of long ago": (
        swap("lots.csv", "chiller,2026-08-23", "chiller,2026-06-24"),
        "lots.csv",
        "row 2, column picked",
        "2026-06-25",
    ),
    "more than the freezer holds": (
        swap(K, "kg = 280", "kg = 13.9"),
        "lots.csv",
        "column kg",
        "at most 13.9 kg",
    ),
    "more litres than the freezer": (
        swap(K, "litres = 600", "litres = 29"),
        "lots.csv",
        "column kg",
        "29 litres in the freezer",
    ),
    "sold longer than cooked": (
        swap("fruits.csv", "9,4,3.5,7", "9,8,3.5,7"),
        "fruits.csv",
        "row 2, column sell_days",
        "at most cook_days (7)",
    ),
    "frozen longer than cooked": (
        swap("fruits.csv", "9,4,3.5,7", "9,4,7.5,7"),
        "fruits.csv",
        "row 2, column peak_days",
        "at most cook_days (7)",
    ),
    "worth more in the kitchen": (
        swap("fruits.csv", "7.00,2.40", "2.00,2.40"),
        "fruits.csv",
        "row 2, column table_value",
        "kitchen_value (2.4)",
    ),
    "closing before opening": (
        swap(K, 'close = "18:00"', 'close = "07:00"'),
        K,
        "[kitchen], key close",
        "after opening (07:30)",
    ),
    "two pans of one name": (swap(K, '"wide steel"', '"big copper"'), K, "pan 2, key name", "pan 1"),
    "two rings of one name": (swap(K, '"gas right"', '"gas left"'), K, "ring 2, key name", "ring 1"),
    "pan too small for any batch": (
        swap(K, "litres = 9\n", "litres = 1.5\n"),
        K,
        "pan 4, key litres",
        "0.5 kg of fruit",
    ),
    "pan that fits no ring": (
        swap(K, "diameter_cm = 38", "diameter_cm = 41"),
        K,
        "pan 1, key diameter_cm",
        "at most 40 cm",
    ),
    "potting below 85 without a process": (
        swap(K, "potting_limit_c = 85", "potting_limit_c = 80"),
        K,
        "[potting], key potting_limit_c",
        "process authority",
    ),
    "sugar by the bag": (
        swap("store.csv", "sugar,kg", "sugar,bag"),
        "store.csv",
        "row 2, column unit",
        "kg for sugar",
    ),
    "two goods of one name": (add("store.csv", "sugar,kg,1,1,1"), "store.csv", "row 7, column good", "row 2"),
    "two orders of one name": (
        swap("orders.csv", "O-202", "O-201"),
        "orders.csv",
        "row 3, column order",
        "row 2",
    ),
    "two people of one name": (
        add("people.csv", "Ciara,fill,15,22,20"),
        "people.csv",
        "row 5, column person",
        "row 4",
    ),
    "more fillers than there are": (
        swap(K, "fillers = 2", "fillers = 4"),
        K,
        "[potting], key fillers",
        "at most 3",
    ),
    "more people at the pans than there are": (
        swap(K, "people_while_boiling = 2", "people_while_boiling = 4"),
        K,
        "[habits], key people_while_boiling",
        "at most 3",
    ),
    "shift ends before it starts": (
        swap("shifts.csv", "Aoife,08:00,12:30", "Aoife,13:00,12:30"),
        "shifts.csv",
        "row 2, column end",
        "after start (13:00)",
    ),
    "shift twice": (
        add("shifts.csv", "2026-08-24,Aoife,08:00,12:30,0"),
        "shifts.csv",
        "row 21",
        "each shift once",
    ),
    "shift outside opening": (
        swap("shifts.csv", "Brendan,09:00,13:30", "Brendan,18:00,20:00"),
        "shifts.csv",
        "row 3, column start",
        "07:30 to 18:00",
    ),
    "shift past midnight": (
        swap("shifts.csv", "Aoife,08:00,12:30,30", "Aoife,17:00,23:30,60"),
        "shifts.csv",
        "row 2, column overtime_minutes",
        "by 24:00",
    ),
    "shift too long for its break": (
        swap("shifts.csv", "Aoife,08:00,12:30,30", "Aoife,08:00,17:35,0"),
        "shifts.csv",
        "row 2, column end",
        "two stretches of work of at most 270",
    ),
    "overtime too long for its break": (
        swap("shifts.csv", "Aoife,08:00,12:30,30", "Aoife,08:00,17:00,60"),
        "shifts.csv",
        "row 2, column overtime_minutes",
        "600 minutes, 60 of them overtime",
    ),
    "break that shrinks": (
        swap(
            K,
            "[prices]",
            "[[work.break]]\nafter_minutes = 200\nminutes = 30\n"
            "[[work.break]]\nafter_minutes = 300\nminutes = 15\n[prices]",
        ),
        K,
        "break 2, key minutes",
        "at least 30",
    ),
}


@pytest.mark.parametrize("name", TOGETHER)
def test_a_fault_across_rows_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, TOGETHER[name])


def test_a_stretch_without_a_break_that_is_too_long_is_told_of_every_such_shift(folder: Path) -> None:
    swap(K, "[prices]", "[work]\nlongest_stretch_minutes = 240\n[prices]")(folder)
    faults = faults_of(folder)
    assert {fault.file for fault in faults} == {"shifts.csv"}
    assert all("at most 240 without a break" in fault.allowed for fault in faults)
    assert len(faults) == 17  # every 4.5 hour shift that the week offers
