"""Plotly figures of a plan or a recipe; none of them knows what shows it.

Every function takes what it draws and a ``Look``, and returns a figure without a legend;
``key`` gives the legend as HTML that wraps on a narrow screen.
"""

from scheduler.views.charts.batches import by_batch
from scheduler.views.charts.calendar import day_by_ring, week_by_ring
from scheduler.views.charts.curve import trade_off
from scheduler.views.charts.flow import fruit_flow
from scheduler.views.charts.freezer import freezer_level, freezer_litres, freezing_per_day
from scheduler.views.charts.fruit import fates_by_fruit, fruit_by_day
from scheduler.views.charts.goals import goals
from scheduler.views.charts.keys import fate_key, fruit_key, stage_key, stages_drawn
from scheduler.views.charts.orders import jars_by_order
from scheduler.views.charts.people import day_by_person, week_by_person
from scheduler.views.charts.recipe import boil_course, minutes_by_kg
from scheduler.views.charts.season import WEEKLY, fates_by_week, hours_by_week
from scheduler.views.charts.worth import worth_by_fruit

__all__ = [
    "WEEKLY",
    "boil_course",
    "by_batch",
    "day_by_person",
    "day_by_ring",
    "fate_key",
    "fates_by_fruit",
    "fates_by_week",
    "freezer_level",
    "freezer_litres",
    "freezing_per_day",
    "fruit_by_day",
    "fruit_flow",
    "fruit_key",
    "goals",
    "hours_by_week",
    "jars_by_order",
    "minutes_by_kg",
    "stage_key",
    "stages_drawn",
    "trade_off",
    "week_by_person",
    "week_by_ring",
    "worth_by_fruit",
]
