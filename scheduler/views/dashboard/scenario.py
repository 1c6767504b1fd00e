"""Page "Scenario": what was read from the folder, and the way to change it."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from scheduler.domain.kitchen import Kitchen
from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import Good
from scheduler.languages import measures, message, say, spoken
from scheduler.views import chore_tables, held_tables, trade_tables, words, work_tables
from scheduler.views.dashboard import editing, parts
from scheduler.views.dashboard.state import Shown

READ, CHANGE = message("What was read"), message("Change it")


def show(shown: Shown) -> None:
    """Draw the page."""
    head = st.container()
    begun = CHANGE if editing.draft_of(shown.folder).changed else READ
    view = st.segmented_control(
        say("Show"),
        [READ, CHANGE],
        default=begun,
        format_func=spoken,
        required=True,
        key="view",
        label_visibility="collapsed",
    )
    if view == CHANGE:
        head.header(spoken(editing.TITLE))
        editing.show(shown.folder)
        return
    scenario = shown.scenario
    head.header(spoken(READ))
    st.caption(say("From {folder}.", folder=shown.folder))
    dates = scenario.dates()
    parts.cards(
        [
            (f"{scenario.days}", say("days"), words.day_span(dates[0], dates[-1]), ""),
            (
                words.mass(sum(lot.kg for lot in scenario.picks)),
                say("picks"),
                say("{picks} lots", picks=len(scenario.picks)),
                "",
            ),
            (
                words.mass(sum(lot.kg for lot in scenario.lots)),
                say("on hand"),
                say("{lots} lots", lots=len(scenario.lots)),
                "",
            ),
            (
                words.number(sum(order.jars for order in scenario.orders)),
                say("jars ordered"),
                say("{orders} orders", orders=len(scenario.orders)),
                "",
            ),
            (
                f"{len(scenario.people)}",
                say("people"),
                say("{shifts} shifts offered", shifts=len(scenario.shifts)),
                "",
            ),
        ]
    )
    for heading, table in tables_of(scenario).items():
        with st.expander(f"{heading} ({len(table)})"):
            if table.empty:
                st.caption(say("None in this scenario."))
            else:
                parts.grid(table)


def tables_of(scenario: Scenario) -> dict[str, pd.DataFrame]:
    """Everything that was read, a table for each kind."""
    kitchen, per_kg = (
        scenario.kitchen,
        measures.worded(say("{currency} per kg")).format(currency=scenario.currency),
    )
    units = {good.name: good.unit for good in scenario.goods}
    return {
        say("Fruit"): pd.DataFrame(
            {
                say("letter"): f.letter,
                say("fruit"): f.name,
                say("solids %"): 100 * f.solids,
                say("trimmed %"): 100 * f.preparation_loss,
                say("worth in punnets, {per_kg}", per_kg=per_kg): measures.for_each(f.table_value),
                say("worth in the kitchen, {per_kg}", per_kg=per_kg): measures.for_each(f.kitchen_value),
                say("graded down %"): 100 * f.grade_down_share,
                say("lost in grading %"): 100 * f.grading_loss,
            }
            for f in scenario.fruits
        ),
        say("Recipes"): pd.DataFrame(
            {
                say("recipe"): r.name,
                say("kind"): spoken(r.kind),
                say("fruit"): words.recipe_letters(r, scenario),
                measures.worded(say("sugar kg per kg of fruit")): words.general(r.sugar_per_kg),
                say("solids in the jar %"): 100 * r.final_solids,
                say("net g a jar"): say(" or ").join(words.general(1000 * s.jar_kg) for s in r.sizes),
                say("jars on hand"): say(" and ").join(str(s.jars_on_hand) for s in r.sizes),
                say("most jars"): r.most_jars,
                say("stains"): say("yes") if r.stains else "",
            }
            for r in scenario.recipes
        ),
        say("Pans"): pd.DataFrame(
            {
                say("pan"): p.name,
                say("litres"): p.litres,
                say("across cm"): p.diameter_cm,
                say("safe fill %"): 100 * p.fill,
            }
            for p in kitchen.pans
        ),
        say("Rings"): pd.DataFrame(
            {
                say("ring"): r.name,
                say("heat"): spoken(r.heat),
                "kW": r.kw,
                say("largest pan cm"): r.largest_pan_cm,
            }
            for r in kitchen.rings
        ),
        say("Power and gas"): _supply(kitchen),
        say("Jars"): _jars(kitchen),
        say("Freezers"): pd.DataFrame(
            {
                say("freezer"): z.name,
                "kg": z.kg,
                say("litres"): z.litres,
                say("freezes kg a day"): z.freeze_kg_per_day,
                measures.worded(say("litres per kg on trays")): measures.for_each(
                    measures.shown(z.tray_litres_per_kg, "litres")
                ),
                say("defrosted on"): words.day_name(z.defrost_on) if z.defrost_on else "",
                say("fails on"): words.day_name(z.fails_on) if z.fails_on else "",
            }
            for z in kitchen.freezers
        ),
        say("Freezer room kept free"): pd.DataFrame(
            {say("from"): words.day_name(day), say("kg of all freezers"): kitchen.room_free_kg}
            for day in [kitchen.room_free_from]
            if day
        ),
        say("Freezer boxes"): pd.DataFrame(
            {
                say("box"): box.name,
                "kg": box.kg,
                say("boxes"): box.count,
                say("for"): ", ".join(f.name for f in scenario.fruits if f.freezer_box == box.name),
            }
            for box in kitchen.freezer_boxes
        ),
        say("Drip stands"): pd.DataFrame(
            {say("stand"): stand, say("litres of fruit and water"): kitchen.drip_stands.litres}
            for stand in range(1, kitchen.drip_stands.count + 1)
        ),
        say("Work beside the batches"): chore_tables.chores(kitchen),
        say("Kitchen closed"): pd.DataFrame(
            {
                say("day"): words.day_name(c.day),
                say("from"): words.clock(c.start),
                say("to"): words.clock(c.end),
                say("why"): c.why,
            }
            for c in scenario.closures
        ),
        say("Pans and rings out of use"): held_tables.out_table(scenario),
        say("Batches held and ruled out"): held_tables.held_table(scenario),
        say("Picks, as graded"): pd.DataFrame(
            {
                say("day"): words.day_name(p.day),
                say("fruit"): p.fruit,
                say("grade"): spoken(p.grade),
                "kg": p.kg,
            }
            for p in scenario.picks
        ),
        say("Punnets"): pd.DataFrame(
            {say("day"): words.day_name(p.day), say("fruit"): p.fruit, say("sold at most kg"): p.kg}
            for p in scenario.punnets
        ),
        say("Lots on hand"): pd.DataFrame(
            {
                say("lot"): p.name,
                say("fruit"): p.fruit,
                say("place"): spoken(p.place),
                "kg": p.kg,
                say("use by"): words.day_name(p.use_by) if p.use_by else "",
            }
            for p in scenario.lots
        ),
        say("People"): pd.DataFrame(
            {
                say("person"): p.name,
                say("can"): ", ".join(sorted(spoken(skill) for skill in p.skills)),
                say("learner"): say("yes") if p.learner else "",
                say("hours a week"): p.hours_week,
            }
            for p in scenario.people
        ),
        say("Rules of work"): work_tables.rules_of_work(scenario),
        say("Shifts offered"): pd.DataFrame(
            {
                say("day"): words.day_name(s.day),
                say("person"): s.person,
                say("from"): words.clock(s.start),
                say("to"): words.clock(s.end),
                say("overtime min"): s.overtime_minutes,
            }
            for s in scenario.shifts
        ),
        say("Orders"): pd.DataFrame(
            {
                say("due"): words.day_name(o.due),
                say("order"): o.name,
                say("for"): o.customer,
                say("recipe"): words.product(o.recipe, o.jar, scenario),
                say("jars"): o.jars,
                say("price a jar"): words.money(o.price, scenario.currency),
                say("weight"): o.weight,
                say("takes parts"): say("yes") if o.parts else say("no"),
            }
            for o in scenario.orders
        ),
        say("Asked for the shop"): pd.DataFrame(
            {
                say("at the end of"): words.day_name(s.day),
                say("recipe"): words.product(s.recipe, s.jar, scenario),
                say("jars"): s.jars,
            }
            for s in scenario.shop
        ),
        say("Dry store"): pd.DataFrame(
            {
                say("good"): g.name,
                say("on hand"): words.quantity(g.on_hand, g.unit),
                say("price"): _price(g, scenario.currency),
                say("days to arrive"): g.lead_days,
                say("a pack"): trade_tables.pack(g),
                say("least packs"): g.least_packs if g.pack else None,
                say("comes on"): trade_tables.delivery_days(g),
                say("best before"): words.day_name(g.best_before) if g.best_before else "",
                say("of it opened"): trade_tables.opened(g),
            }
            for g in scenario.goods
        ),
        say("Deliveries"): pd.DataFrame(
            {
                say("day"): words.day_name(d.day),
                say("good"): d.good,
                say("quantity"): words.quantity(d.quantity, units[d.good]),
                say("at"): "" if d.at is None else words.clock(d.at),
                say("usable from"): trade_tables.usable_from(d, scenario),
            }
            for d in scenario.deliveries
        ),
    }


def _jars(kitchen: Kitchen) -> pd.DataFrame:
    """How jars are washed, what is held back of them, and where they stand; nothing that is not said."""
    pace, sample, scrap = kitchen.oven.wash_jars_per_hour, kitchen.sample_jars, kitchen.scrap_share
    said = (
        (say("washed in an hour by one person"), words.general(pace) if pace else ""),
        (say("retained sample of each batch"), words.jars(sample) if sample else ""),
        (say("scrap"), words.percent(scrap) if scrap else ""),
        (say("cooling racks"), words.jars(kitchen.rack_jars) if kitchen.rack_jars else ""),
        (say("shelves"), words.jars(kitchen.shelf_jars) if kitchen.shelf_jars else ""),
    )
    return pd.DataFrame([row for row in said if row[1]], columns=[say("jars"), say("this kitchen")])


def _supply(kitchen: Kitchen) -> pd.DataFrame:
    """What the supplies give, and what draws of them besides the rings."""
    supply, oven = kitchen.supply, kitchen.oven

    def given(amount: float | None, unit: str) -> str:
        return say("no limit") if amount is None else f"{words.general(amount)} {unit}"

    return pd.DataFrame(
        [
            (say("electricity at once"), given(supply.electric_kw, "kW")),
            (say("gas at once"), given(supply.gas_kw, "kW")),
            (say("always on, electric"), f"{words.general(supply.other_electric_kw)} kW"),
            (say("jar oven, {heat}", heat=spoken(oven.heat)), f"{words.general(oven.kw)} kW"),
            (
                say("gas in the bottles"),
                say("no limit") if supply.gas_kg is None else words.mass(supply.gas_kg),
            ),
        ],
        columns=[say("what"), say("how much")],
    )


def _price(good: Good, currency: str) -> str:
    """``€0.38 each``, ``€0.025 per g``."""
    price = measures.for_each(good.price, good.unit)
    amount = words.money(price, currency, 2 if price == round(price, 2) else 3)
    return (
        say("{amount} each", amount=amount)
        if good.unit == "each"
        else say("{amount} per {unit}", amount=amount, unit=spoken(measures.symbol(good.unit)))
    )
