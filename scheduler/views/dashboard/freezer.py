"""Page "Freezer": its level by fruit against its room, what goes in and out, and what must go first."""

from __future__ import annotations

import streamlit as st

from scheduler.languages import measures, say
from scheduler.views import charts, draw_down_tables, freezing_tables, tables, words
from scheduler.views.dashboard import parts, printing
from scheduler.views.dashboard.state import Shown


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    st.header(say("Freezer"))
    if not plan.freezer:
        parts.note(say("The freezer is empty, and nothing is frozen in this plan."))
        return
    last = scenario.dates()[-1]
    frozen, thawed, gone = (
        sum(getattr(row, what) for row in plan.freezer) for what in ("frozen", "thawed", "discarded")
    )
    ends = sum(row.left for row in plan.freezer if row.day == last)
    begins = sum(row.opening for row in plan.freezer if row.day == scenario.dates()[0])
    parts.cards(
        [
            (words.mass(begins), say("in it at the start"), "", ""),
            (words.mass(frozen), say("frozen"), "", ""),
            (words.mass(thawed), say("thawed and cooked"), "", ""),
            *([(words.mass(gone), _thrown_away(shown), "", "bad")] if gone >= 0.05 else []),
            (words.mass(ends), say("in it at the end"), "", ""),
        ]
    )
    _what_is_special(shown)
    st.subheader(say("Draw-down"))
    st.caption(measures.worded(say("kg as prepared, at the end of each day.")))
    st.html(charts.fruit_key(plan, scenario, shown.look))
    table = tables.freezer_table(plan, scenario)
    figure = charts.freezer_level(plan, scenario, shown.look)
    parts.chart(
        figure,
        "level",
        say("Freezer level by fruit and day against its room"),
        table,
        say("Every lot and day"),
    )
    with st.expander(measures.worded(say("The same in litres"))):
        st.caption(say("At the end of each day: in boxes, and on trays what was frozen that day."))
        parts.chart(
            charts.freezer_litres(plan, scenario, shown.look),
            "litres",
            say("Litres taken in the freezer by fruit and day against its room"),
            freezing_tables.litres_table(plan, scenario),
        )
    st.subheader(say("In and out"))
    st.caption(
        measures.worded(say("kg as prepared. Above the line: frozen that day. Below it: thawed that day."))
    )
    moves = table[
        (table[say("frozen kg")] > 0) | (table[say("thawed kg")] > 0) | (table[say("thrown away kg")] > 0)
    ]
    parts.chart(
        charts.freezing_per_day(plan, scenario, shown.look),
        "freezing",
        measures.worded(say("kg frozen and thawed each day")),
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
    st.subheader(say("What each lot is kept for"))
    st.caption(measures.worded(say("kg as prepared; what must go first stands on top.")))
    parts.rows(
        (
            say("by {day}", day=use_by),
            f"{lot}, {words.mass(there)}{f': {care}' if care else ''}",
            _what_for(uses, left),
        )
        for use_by, lot, there, uses, left, care in lots.itertuples(index=False)
    )
    shares = draw_down_tables.share_table(shown.ready)
    if not shares.empty:
        st.subheader(say("Fresh and frozen in each recipe"))
        parts.plain(shares)


def _what_for(uses: str, left: float) -> str:
    kept = say("{mass} kept beyond this plan", mass=words.mass(left)) if left > draw_down_tables.TRACE else ""
    return "; ".join(part for part in (uses, kept) if part)


def _take_out(shown: Shown) -> None:
    """What comes out of the freezer and when, for the pans."""
    taken = freezing_tables.take_out(shown.ready, shown.scenario)
    if not taken:
        return
    st.subheader(say("Take out, and when"))
    st.caption(freezing_tables.how_thawed(shown.scenario.kitchen))
    parts.rows(
        (freezing_tables.when_taken_out(shown.ready, shown.scenario, day), lots, for_day)
        for day, lots, for_day in taken
    )


def _thrown_away(shown: Shown) -> str:
    """Why fruit of the freezer is thrown away."""
    fails = any(freezer.fails_on for freezer in shown.scenario.kitchen.freezers)
    return say("past its date or lost, thrown away") if fails else say("past its date, thrown away")


def _what_is_special(shown: Shown) -> None:
    """Room kept free, defrost days, and which lots to save where a freezer fails."""
    kitchen = shown.scenario.kitchen
    told = [
        say(
            "{name} is defrosted on {day}, and empty from the evening before.",
            name=each.name,
            day=words.day_name(each.defrost_on),
        )
        for each in kitchen.freezers
        if each.defrost_on
    ]
    if kitchen.room_free_from:
        first = words.day_name(kitchen.room_free_from)
        told.append(
            say("{mass} stay free from {first} on.", mass=words.mass(kitchen.room_free_kg), first=first)
        )
    if told:
        parts.note(say("The room is not the same every day"), told)
    fails = [
        say("{name} on {day}", name=each.name, day=words.day_name(each.fails_on))
        for each in kitchen.freezers
        if each.fails_on
    ]
    if fails:
        st.subheader(say("Save first"))
        st.caption(
            say(
                "What if it fails: {fails}. Take these out and cook them the same day. Fruit that has "
                "thawed is not frozen again (common practice, no source); in doubt throw it away.",
                fails=words.listed(fails),
            )
        )
        parts.rows(
            (
                words.day_name(row.day),
                row.lot,
                say("{mass} to cook, use by {use_by}", mass=words.mass(row.thawed), use_by=row.use_by),
            )
            for row in freezing_tables.save_first(shown.ready, shown.scenario)
        )


def _boxes(shown: Shown) -> None:
    """Boxes in use, where the kitchen counts them."""
    if shown.scenario.kitchen.freezer_boxes:
        st.subheader(say("Boxes in use"))
        st.caption(
            say(
                "In the evening. Part-full boxes of a fruit are put together under the older date, and "
                "both lot marks go on the box."
            )
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
    st.subheader(say("Tray or box"))
    st.caption(
        say(
            "Time until frozen through at {celsius}: a loose layer {layer_cm} cm deep on a "
            "tray, a box {box_cm} cm thick, air on both sides. An estimate (Plank's equation): cut "
            "a piece from the middle to be sure. Faster is firmer: less juice runs out on thawing "
            "(common practice, no source).",
            celsius=words.degrees(freezer.celsius, None),
            layer_cm=words.general(freezer.layer_cm),
            box_cm=words.general(freezer.box_cm),
        )
    )
    parts.plain(freezing_tables.hours_table(fruits, kitchen))
    used = freezing_tables.electricity(plan, scenario)
    cost = words.money(used * kitchen.electricity_price_kwh, scenario.currency)
    kg = sum(row.frozen for row in plan.freezer)
    per_kg = words.money(measures.for_each(used * kitchen.electricity_price_kwh / kg), scenario.currency, 3)
    st.markdown(
        measures.worded(
            say("All that this plan freezes takes **{used} kWh**, **{cost}** of electricity ({per_kg} a kg).")
        ).format(
            used=words.number(used, 1, grouped=False),
            cost=cost,
            per_kg=per_kg,
        )
    )
    st.caption(say("It is so little that the money goal leaves it out. Keeping fruit frozen comes on top."))
    with st.expander(say("Electricity and room, day by day")):
        parts.grid(freezing_tables.day_table(plan, scenario))
