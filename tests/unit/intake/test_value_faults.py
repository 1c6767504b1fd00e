"""Faults of single cells and keys."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.intake.spoil import Case, K, R, assert_told_once, columns, swap

VALUES: dict[str, Case] = {
    "decimal comma in quotes": (
        swap("picks.csv", "table,22.0", 'table,"22,5"'),
        "picks.csv",
        "row 2, column kg",
        "12.5, not 12,5",
    ),
    "negative kg": (swap("picks.csv", "table,22.0", "table,-22"), "picks.csv", "row 2, column kg", "'-22'"),
    "absurd kg": (
        swap("picks.csv", "table,22.0", "table,22000"),
        "picks.csv",
        "row 2, column kg",
        "0 to 20000 kg",
    ),
    "words for kg": (
        swap("picks.csv", "table,22.0", "table,a crate"),
        "picks.csv",
        "row 2, column kg",
        "or with a unit, as in 12 lb",
    ),
    "no kg": (swap("picks.csv", "table,22.0", "table,"), "picks.csv", "row 2, column kg", "nothing"),
    "not a number": (swap("picks.csv", "table,22.0", "table,nan"), "picks.csv", "row 2, column kg", "'nan'"),
    "infinity": (swap(K, "celsius = 3", "celsius = inf"), K, "[chiller], key celsius", "'inf'"),
    "a truth for a number": (
        swap(K, "celsius = 3", "celsius = true"),
        K,
        "[chiller], key celsius",
        "plain number",
    ),
    "huge whole number": (swap(K, "days = 7", "days = 1" + "0" * 400), K, "key days", "plain number"),
    "part of a jar": (
        swap("orders.csv", ",40,", ",40.5,"),
        "orders.csv",
        "row 2, column jars",
        "whole number",
    ),
    "other date": (
        swap("picks.csv", "2026-08-24", "24/08/2026"),
        "picks.csv",
        "row 2, column date",
        "YYYY-MM-DD",
    ),
    "no such day": (
        swap("picks.csv", "2026-08-24", "2026-02-30"),
        "picks.csv",
        "row 2, column date",
        "calendar",
    ),
    "year of long ago": (swap(K, "2026-08-24", "1926-08-24"), K, "key start", "2000 and 2100"),
    "no such time": (swap("shifts.csv", "08:00", "08:61"), "shifts.csv", "row 2, column start", "HH:MM"),
    "time off the step": (
        swap("shifts.csv", "08:00", "08:02"),
        "shifts.csv",
        "row 2, column start",
        "steps of 5",
    ),
    "unknown grade": (
        swap("picks.csv", "table,22.0", "tabel,22"),
        "picks.csv",
        "row 2, column grade",
        "'table'?",
    ),
    "person with no skill": (
        swap("people.csv", "Aoife,prepare cook fill", "Aoife,"),
        "people.csv",
        "row 2, column skills",
        "at least one of prepare, cook, fill",
    ),
    "person with a strange skill": (
        swap("people.csv", "Aoife,prepare cook", "Aoife,prepare cok"),
        "people.csv",
        "row 2, column skills",
        "Did you mean 'cook'?",
    ),
    "overtime off the step": (
        swap("shifts.csv", "12:30,30", "12:30,20"),
        "shifts.csv",
        "row 2, column overtime_minutes",
        "steps of 30",
    ),
    "a formula": (
        swap("orders.csv", "farm shop", "=1+1"),
        "orders.csv",
        "row 2, column customer",
        "spreadsheet",
    ),
    "at sign": (swap("orders.csv", "farm shop", "@sum"), "orders.csv", "row 2, column customer", "'@sum'"),
    "control character": (
        swap("orders.csv", "farm shop", "farm\x07shop"),
        "orders.csv",
        "row 2, column customer",
        "\\x07",
    ),
    "reversing character": (
        swap("orders.csv", "farm shop", "farm\u202eshop"),
        "orders.csv",
        "row 2, column customer",
        "\\u202e",
    ),
    "long name": (
        swap("orders.csv", "farm shop", "f" * 61),
        "orders.csv",
        "row 2, column customer",
        "60 characters",
    ),
    "percent for a share": (
        swap("fruits.csv", "0.08,0.08", "8,0.08"),
        "fruits.csv",
        "row 2, column solids",
        "Write 9 % as 0.09",
    ),
    "share above 1": (
        swap(R, "frozen_share = 0.4", "frozen_share = 40"),
        R,
        "recipe 1, key frozen_share",
        "from 0 to 1",
    ),
    "unknown judge": (
        swap(R, "ph = 3.4", 'ph = 3.4\njudged_by = "cold plat"'),
        R,
        "recipe 1, key judged_by",
        "Did you mean 'cold plate'?",
    ),
    "part of a month": (
        swap(R, "ph = 3.4", "ph = 3.4\nbest_before_months = 1.5"),
        R,
        "recipe 1, key best_before_months",
        "whole number",
    ),
    "sugar as another ingredient": (
        swap(R, "g_per_kg = 2", 'g_per_kg = 2\nrole = "sugar"'),
        R,
        "recipe 3, other 1, key role",
        "one of acid, vinegar, other",
    ),
    "much of another ingredient": (
        swap(R, "g_per_kg = 2", "g_per_kg = 51"),
        R,
        "recipe 3, [[recipe.other]]",
        "only the vinegar of a chutney",
    ),
    "an allergen in words": (
        swap(R, "g_per_kg = 2", 'g_per_kg = 2\nallergen = "yes"'),
        R,
        "recipe 3, other 1, key allergen",
        "true or false",
    ),
    "letter of two": (
        swap("fruits.csv", "strawberry,S,", "strawberry,ST,"),
        "fruits.csv",
        "row 2, column letter",
        "one capital",
    ),
    "colour by name": (swap("fruits.csv", "#d6283b", "red"), "fruits.csv", "row 2, column colour", "#RRGGBB"),
    "keeps like nothing known": (
        swap("fruits.csv", "7,strawberry", "7,strawbery"),
        "fruits.csv",
        "row 2, column keeps_like",
        "'strawberry'?",
    ),
    "more than two days in the yard": (
        columns("picks.csv", 2, warm_hours="48.5"),
        "picks.csv",
        "row 2, column warm_hours",
        "0 to 48 hours",
    ),
    "less than no hours in the yard": (
        columns("lots.csv", 2, warm_hours="-1"),
        "lots.csv",
        "row 2, column warm_hours",
        "half a day as 12",
    ),
    "a yard in Fahrenheit": (
        columns("picks.csv", 2, warm_celsius="68"),
        "picks.csv",
        "row 2, column warm_celsius",
        "degrees Celsius",
    ),
    "usual hours of the yard": (
        swap(K, "celsius = 3", "celsius = 3\nwarm_hours = 50"),
        K,
        "[chiller], key warm_hours",
        "0 to 48",
    ),
    "freezer without its sign": (
        swap(K, "litres = 600", "litres = 600\ncelsius = 18"),
        K,
        "[freezer], key celsius",
        "with its sign",
    ),
    "layer in metres": (
        swap(K, "litres = 600", "litres = 600\nlayer_cm = 0.02"),
        K,
        "[freezer], key layer_cm",
        "0.5 to 10 cm",
    ),
    "box in millimetres": (
        swap(K, "litres = 600", "litres = 600\nbox_cm = 80"),
        K,
        "[freezer], key box_cm",
        "1 to 40 cm",
    ),
    "chiller in degrees Fahrenheit without saying so": (
        swap(K, "celsius = 3", "celsius = 38"),
        K,
        "[chiller], key celsius",
        "Degrees Fahrenheit are written as in 68 °F",
    ),
    "warm chiller": (swap(K, "celsius = 3", "celsius = 25"), K, "[chiller], key celsius", "0 to 20"),
    "potting below 70": (
        swap(K, "potting_limit_c = 85", 'potting_limit_c = 69\npotting_process = "ours"'),
        K,
        "[potting], key potting_limit_c",
        "70 to 95",
    ),
    "unknown heat": (swap(K, 'heat = "gas"', 'heat = "gass"'), K, "ring 1, key heat", "Did you mean 'gas'?"),
    "watts": (swap(K, "kw = 7.0", "kw = 7000"), K, "ring 1, key kw", "Write 3500 W as 3.5"),
    "fill steps falling": (swap(K, "[0.6, 0.8, 1.0]", "[1.0, 0.8]"), K, "[habits], key fill_steps", "rising"),
    "time zone misspelt": (
        swap(K, "days = 7", 'days = 7\ntime_zone = "Europe/Dublim"'),
        K,
        "key time_zone",
        "'Europe/Dublin'?",
    ),
    "time zone by its letters": (
        swap(K, "days = 7", 'days = 7\ntime_zone = "IST"'),
        K,
        "key time_zone",
        "Europe/Dublin",
    ),
    "a path for a time zone": (
        swap(K, "days = 7", 'days = 7\ntime_zone = "../../etc/passwd"'),
        K,
        "key time_zone",
        "IANA",
    ),
    "hours for a time zone": (swap(K, "days = 7", "days = 7\ntime_zone = 1"), K, "key time_zone", "'1'"),
    "units misspelt": (
        swap(K, "days = 7", 'days = 7\nunits = "imperal"'),
        K,
        "key units",
        "Did you mean 'imperial'?",
    ),
    "currency": (swap(K, '"EUR"', '"euro"'), K, "key currency", "EUR"),
    "kitchen id": (swap(K, '"kilbrack"', '"Kil brack"'), K, "key kitchen_id", "small letters"),
    "text as a number": (swap(K, '"Kilbrack"', "12"), K, "key farm", "in quotes"),
}


@pytest.mark.parametrize("name", VALUES)
def test_a_fault_of_a_value_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, VALUES[name])
