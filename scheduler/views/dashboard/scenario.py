"""Page "Scenario": what was read from the folder, and the way to change it."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from scheduler.domain.kitchen import Kitchen
from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import Good
from scheduler.views import chore_tables, held_tables, trade_tables, words, work_tables
from scheduler.views.dashboard import editing, parts
from scheduler.views.dashboard.state import Shown

READ, CHANGE = "What was read", "Change it"


def show(shown: Shown) -> None:
    """Draw the page."""
    head = st.container()
    begun = CHANGE if editing.draft_of(shown.folder).changed else READ
    view = st.segmented_control(
        "Show", [READ, CHANGE], default=begun, required=True, key="view", label_visibility="collapsed"
    )
    if view == CHANGE:
        head.header(editing.TITLE)
        editing.show(shown.folder)
        return
    scenario = shown.scenario
    head.header(READ)
    st.caption(f"From {shown.folder}.")
    dates = scenario.dates()
    parts.cards(
        [
            (f"{scenario.days}", "days", words.day_span(dates[0], dates[-1]), ""),
            (words.kg(sum(lot.kg for lot in scenario.picks)), "picks", f"{len(scenario.picks)} lots", ""),
            (words.kg(sum(lot.kg for lot in scenario.lots)), "on hand", f"{len(scenario.lots)} lots", ""),
            (
                f"{sum(order.jars for order in scenario.orders):,}",
                "jars ordered",
                f"{len(scenario.orders)} orders",
                "",
            ),
            (f"{len(scenario.people)}", "people", f"{len(scenario.shifts)} shifts offered", ""),
        ]
    )
    for heading, table in tables_of(scenario).items():
        with st.expander(f"{heading} ({len(table)})"):
            if table.empty:
                st.caption("None in this scenario.")
            else:
                parts.grid(table)


def tables_of(scenario: Scenario) -> dict[str, pd.DataFrame]:
    """Everything that was read, a table for each kind."""
    kitchen, per_kg = scenario.kitchen, f"{scenario.currency} per kg"
    units = {good.name: good.unit for good in scenario.goods}
    return {
        "Fruit": pd.DataFrame(
            {
                "letter": f.letter,
                "fruit": f.name,
                "solids %": 100 * f.solids,
                "trimmed %": 100 * f.preparation_loss,
                f"worth in punnets, {per_kg}": f.table_value,
                f"worth in the kitchen, {per_kg}": f.kitchen_value,
                "graded down %": 100 * f.grade_down_share,
                "lost in grading %": 100 * f.grading_loss,
            }
            for f in scenario.fruits
        ),
        "Recipes": pd.DataFrame(
            {
                "recipe": r.name,
                "kind": r.kind.value,
                "fruit": words.recipe_letters(r, scenario),
                "sugar kg per kg of fruit": r.sugar_per_kg,
                "solids in the jar %": 100 * r.final_solids,
                "net g a jar": " or ".join(f"{1000 * s.jar_kg:g}" for s in r.sizes),
                "jars on hand": " and ".join(str(s.jars_on_hand) for s in r.sizes),
                "most jars": r.most_jars,
                "stains": "yes" if r.stains else "",
            }
            for r in scenario.recipes
        ),
        "Pans": pd.DataFrame(
            {"pan": p.name, "litres": p.litres, "across cm": p.diameter_cm, "safe fill %": 100 * p.fill}
            for p in kitchen.pans
        ),
        "Rings": pd.DataFrame(
            {"ring": r.name, "heat": r.heat.value, "kW": r.kw, "largest pan cm": r.largest_pan_cm}
            for r in kitchen.rings
        ),
        "Power and gas": _supply(kitchen),
        "Jars": _jars(kitchen),
        "Freezers": pd.DataFrame(
            {
                "freezer": z.name,
                "kg": z.kg,
                "litres": z.litres,
                "freezes kg a day": z.freeze_kg_per_day,
                "litres per kg on trays": z.tray_litres_per_kg,
                "defrosted on": words.day_name(z.defrost_on) if z.defrost_on else "",
                "fails on": words.day_name(z.fails_on) if z.fails_on else "",
            }
            for z in kitchen.freezers
        ),
        "Freezer room kept free": pd.DataFrame(
            {"from": words.day_name(day), "kg of all freezers": kitchen.room_free_kg}
            for day in [kitchen.room_free_from]
            if day
        ),
        "Freezer boxes": pd.DataFrame(
            {
                "box": box.name,
                "kg": box.kg,
                "boxes": box.count,
                "for": ", ".join(f.name for f in scenario.fruits if f.freezer_box == box.name),
            }
            for box in kitchen.freezer_boxes
        ),
        "Drip stands": pd.DataFrame(
            {"stand": stand, "litres of fruit and water": kitchen.drip_stands.litres}
            for stand in range(1, kitchen.drip_stands.count + 1)
        ),
        "Work beside the batches": chore_tables.chores(kitchen),
        "Kitchen closed": pd.DataFrame(
            {
                "day": words.day_name(c.day),
                "from": words.clock(c.start),
                "to": words.clock(c.end),
                "why": c.why,
            }
            for c in scenario.closures
        ),
        "Pans and rings out of use": held_tables.out_table(scenario),
        "Batches held and ruled out": held_tables.held_table(scenario),
        "Picks, as graded": pd.DataFrame(
            {"day": words.day_name(p.day), "fruit": p.fruit, "grade": p.grade.value, "kg": p.kg}
            for p in scenario.picks
        ),
        "Punnets": pd.DataFrame(
            {"day": words.day_name(p.day), "fruit": p.fruit, "sold at most kg": p.kg}
            for p in scenario.punnets
        ),
        "Lots on hand": pd.DataFrame(
            {
                "lot": p.name,
                "fruit": p.fruit,
                "place": p.place.value,
                "kg": p.kg,
                "use by": p.use_by.isoformat() if p.use_by else "",
            }
            for p in scenario.lots
        ),
        "People": pd.DataFrame(
            {
                "person": p.name,
                "can": ", ".join(sorted(skill.value for skill in p.skills)),
                "learner": "yes" if p.learner else "",
                "hours a week": p.hours_week,
            }
            for p in scenario.people
        ),
        "Rules of work": work_tables.rules_of_work(scenario),
        "Shifts offered": pd.DataFrame(
            {
                "day": words.day_name(s.day),
                "person": s.person,
                "from": words.clock(s.start),
                "to": words.clock(s.end),
                "overtime min": s.overtime_minutes,
            }
            for s in scenario.shifts
        ),
        "Orders": pd.DataFrame(
            {
                "due": words.day_name(o.due),
                "order": o.name,
                "for": o.customer,
                "recipe": words.product(o.recipe, o.jar, scenario),
                "jars": o.jars,
                "price a jar": words.money(o.price, scenario.currency),
                "weight": o.weight,
                "takes parts": "yes" if o.parts else "no",
            }
            for o in scenario.orders
        ),
        "Asked for the shop": pd.DataFrame(
            {
                "at the end of": words.day_name(s.day),
                "recipe": words.product(s.recipe, s.jar, scenario),
                "jars": s.jars,
            }
            for s in scenario.shop
        ),
        "Dry store": pd.DataFrame(
            {
                "good": g.name,
                "on hand": words.quantity(g.on_hand, g.unit),
                "price": _price(g, scenario.currency),
                "days to arrive": g.lead_days,
                "a pack": trade_tables.pack(g),
                "least packs": g.least_packs if g.pack else None,
                "comes on": trade_tables.delivery_days(g),
                "best before": words.day_name(g.best_before) if g.best_before else "",
                "of it opened": trade_tables.opened(g),
            }
            for g in scenario.goods
        ),
        "Deliveries": pd.DataFrame(
            {
                "day": words.day_name(d.day),
                "good": d.good,
                "quantity": words.quantity(d.quantity, units[d.good]),
                "at": "" if d.at is None else words.clock(d.at),
                "usable from": trade_tables.usable_from(d, scenario),
            }
            for d in scenario.deliveries
        ),
    }


def _jars(kitchen: Kitchen) -> pd.DataFrame:
    """How jars are washed, what is held back of them, and where they stand; nothing that is not said."""
    pace, sample, scrap = kitchen.oven.wash_jars_per_hour, kitchen.sample_jars, kitchen.scrap_share
    said = (
        ("washed in an hour by one person", f"{pace:g}" if pace else ""),
        ("retained sample of each batch", words.jars(sample) if sample else ""),
        ("scrap", words.percent(scrap) if scrap else ""),
        ("cooling racks", words.jars(kitchen.rack_jars) if kitchen.rack_jars else ""),
        ("shelves", words.jars(kitchen.shelf_jars) if kitchen.shelf_jars else ""),
    )
    return pd.DataFrame([row for row in said if row[1]], columns=["jars", "this kitchen"])


def _supply(kitchen: Kitchen) -> pd.DataFrame:
    """What the supplies give, and what draws of them besides the rings."""
    supply, oven = kitchen.supply, kitchen.oven

    def given(amount: float | None, unit: str) -> str:
        return "no limit" if amount is None else f"{amount:g} {unit}"

    return pd.DataFrame(
        [
            ("electricity at once", given(supply.electric_kw, "kW")),
            ("gas at once", given(supply.gas_kw, "kW")),
            ("always on, electric", f"{supply.other_electric_kw:g} kW"),
            (f"jar oven, {oven.heat.value}", f"{oven.kw:g} kW"),
            ("gas in the bottles", given(supply.gas_kg, "kg")),
        ],
        columns=["what", "how much"],
    )


def _price(good: Good, currency: str) -> str:
    """``€0.38 each``, ``€0.025 per g``."""
    amount = words.money(good.price, currency, 2 if good.price == round(good.price, 2) else 3)
    return f"{amount} each" if good.unit == "each" else f"{amount} per {good.unit}"
