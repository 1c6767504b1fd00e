"""Page "Freezer": its level by fruit against its room, what goes in and out, and what must go first."""

from __future__ import annotations

import streamlit as st

from scheduler.views import charts, draw_down_tables, freezing_tables, tables, words
from scheduler.views.dashboard import parts, printing
from scheduler.views.dashboard.state import Shown


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    st.header("Freezer")
    if not plan.freezer:
        parts.note("The freezer is empty, and nothing is frozen in this plan.")
        return
    last = scenario.dates()[-1]
    frozen, thawed, gone = (
        sum(getattr(row, what) for row in plan.freezer) for what in ("frozen", "thawed", "discarded")
    )
    ends = sum(row.left for row in plan.freezer if row.day == last)
    begins = sum(row.opening for row in plan.freezer if row.day == scenario.dates()[0])
    parts.cards(
        [
            (words.kg(begins), "in it at the start", "", ""),
            (words.kg(frozen), "frozen", "", ""),
            (words.kg(thawed), "thawed and cooked", "", ""),
            *([(words.kg(gone), _thrown_away(shown), "", "bad")] if gone >= 0.05 else []),
            (words.kg(ends), "in it at the end", "", ""),
        ]
    )
    _what_is_special(shown)
    st.subheader("Draw-down")
    st.caption("kg as prepared, at the end of each day.")
    st.html(charts.fruit_key(plan, scenario, shown.look))
    table = tables.freezer_table(plan, scenario)
    figure = charts.freezer_level(plan, scenario, shown.look)
    parts.chart(
        figure, "level", "Freezer level by fruit and day against its room", table, "Every lot and day"
    )
    st.subheader("In and out")
    st.caption("kg as prepared. Above the line: frozen that day. Below it: thawed that day.")
    moves = table[(table["frozen kg"] > 0) | (table["thawed kg"] > 0) | (table["thrown away kg"] > 0)]
    parts.chart(
        charts.freezing_per_day(plan, scenario, shown.look),
        "freezing",
        "kg frozen and thawed each day",
        moves,
    )
    _boxes(shown)
    _how_to_freeze(shown)
    _take_out(shown)
    _kept_for(shown)
    printing.download_buttons(shown, "thaw")


def _kept_for(shown: Shown) -> None:
    """The lots with what uses them, and how much of each recipe is frozen fruit."""
    lots = draw_down_tables.lot_table(shown.ready, shown.scenario)
    st.subheader("What each lot is kept for")
    st.caption("kg as prepared; what must go first stands on top.")
    parts.rows(
        (f"by {use_by}", f"{lot}, {words.kg(there)}{f': {care}' if care else ''}", _what_for(uses, left))
        for use_by, lot, there, uses, left, care in lots.itertuples(index=False)
    )
    shares = draw_down_tables.share_table(shown.ready)
    if not shares.empty:
        st.subheader("Fresh and frozen in each recipe")
        parts.plain(shares)


def _what_for(uses: str, left: float) -> str:
    kept = f"{words.kg(left)} kept beyond this plan" if left > draw_down_tables.TRACE else ""
    return "; ".join(part for part in (uses, kept) if part)


def _take_out(shown: Shown) -> None:
    """What comes out of the freezer and when, for the pans."""
    taken = freezing_tables.take_out(shown.ready, shown.scenario)
    if not taken:
        return
    st.subheader("Take out, and when")
    st.caption(freezing_tables.how_thawed(shown.scenario.kitchen))
    parts.rows(
        (freezing_tables.when_taken_out(shown.ready, shown.scenario, day), lots, for_day)
        for day, lots, for_day in taken
    )


def _thrown_away(shown: Shown) -> str:
    """Why fruit of the freezer is thrown away."""
    fails = any(freezer.fails_on for freezer in shown.scenario.kitchen.freezers)
    return "past its date or lost, thrown away" if fails else "past its date, thrown away"


def _what_is_special(shown: Shown) -> None:
    """Room kept free, defrost days, and which lots to save where a freezer fails."""
    kitchen = shown.scenario.kitchen
    told = [
        f"{each.name} is defrosted on {words.day_name(each.defrost_on)}, and empty from the evening before."
        for each in kitchen.freezers
        if each.defrost_on
    ]
    if kitchen.room_free_from:
        first = words.day_name(kitchen.room_free_from)
        told.append(f"{words.kg(kitchen.room_free_kg)} stay free from {first} on.")
    if told:
        parts.note("The room is not the same every day", told)
    fails = [f"{each.name} on {words.day_name(each.fails_on)}" for each in kitchen.freezers if each.fails_on]
    if fails:
        st.subheader("Save first")
        st.caption(
            f"What if it fails: {' and '.join(fails)}. Take these out and cook them the same day. Fruit "
            "that has thawed is not frozen again (common practice, no source); in doubt throw it away."
        )
        parts.rows(
            (words.day_name(row.day), row.lot, f"{words.kg(row.thawed)} to cook, use by {row.use_by}")
            for row in freezing_tables.save_first(shown.ready, shown.scenario)
        )


def _boxes(shown: Shown) -> None:
    """Boxes in use, where the kitchen counts them."""
    if shown.scenario.kitchen.freezer_boxes:
        st.subheader("Boxes in use")
        st.caption(
            "In the evening. Part-full boxes of a fruit are put together under the older date, "
            "and both lot marks go on the box."
        )
        parts.grid(freezing_tables.box_table(shown.ready, shown.scenario))


def _how_to_freeze(shown: Shown) -> None:
    """Hours on trays and in boxes, and what freezing takes in electricity and room."""
    plan, scenario = shown.ready, shown.scenario
    fruits = freezing_tables.fruits_frozen(plan, scenario)
    if not fruits:
        return
    kitchen = scenario.kitchen
    freezer = kitchen.freezer
    st.subheader("Tray or box")
    st.caption(
        f"Time until frozen through at {freezer.celsius:g} °C: a loose layer {freezer.layer_cm:g} cm deep "
        f"on a tray, a box {freezer.box_cm:g} cm thick, air on both sides. An estimate (Plank's equation): "
        "cut a piece from the middle to be sure. Faster is firmer: less juice runs out on thawing (common "
        "practice, no source)."
    )
    parts.plain(freezing_tables.hours_table(fruits, kitchen))
    used = freezing_tables.electricity(plan, scenario)
    cost = words.money(used * kitchen.electricity_price_kwh, scenario.currency)
    kg = sum(row.frozen for row in plan.freezer)
    per_kg = words.money(used * kitchen.electricity_price_kwh / kg, scenario.currency, 3)
    st.markdown(
        f"All that this plan freezes takes **{used:.1f} kWh**, **{cost}** of electricity ({per_kg} a kg)."
    )
    st.caption("It is so little that the money goal leaves it out. Keeping fruit frozen comes on top.")
    with st.expander("Electricity and room, day by day"):
        parts.grid(freezing_tables.day_table(plan, scenario))
