"""Page "Orders and store": what to buy, gas and power, orders filled, jars for the shop and by recipe."""

from __future__ import annotations

import streamlit as st

from scheduler.languages import say
from scheduler.views import charts, chore_tables, power_tables, tables, trade_tables, words
from scheduler.views.dashboard import parts, printing
from scheduler.views.dashboard.state import Shown


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    st.header(say("Orders and store"))
    st.subheader(say("To buy"))
    buys = tables.purchase_table(plan, scenario)
    if buys.empty:
        parts.note(say("Nothing to buy: the dry store and its deliveries are enough."), tone="good")
    else:
        total = words.money(sum(p.cost for p in plan.purchases), plan.currency)
        st.caption(
            say(
                "In all {bought}: {total}. Each line begins with the last day to order.",
                bought=tables.bought(plan, scenario),
                total=total,
            )
        )
        parts.rows(
            (
                say("by {day}", day=row[say("last day to order")]),
                f"{row[say('good')]}: {row[say('quantity')]}",
                (say("comes {day}, ", day=row[say("comes")]) if say("comes") in row else "")
                + say(
                    "needed on the morning of {day}; {cost}",
                    day=row[say("needed on the morning of")],
                    cost=row[say("cost")],
                ),
            )
            for _, row in buys.iterrows()
        )
    past = trade_tables.past_their_date(plan, shown.situation)
    if not past.empty:
        parts.note(trade_tables.PAST_THEIR_DATE)
        parts.plain(past)
        st.caption(trade_tables.PAST_READ)
    _power(shown)
    st.subheader(say("Orders"))
    missing = sum(line.jars - line.filled for line in plan.orders)
    if not plan.orders:
        parts.note(say("No orders fall due in these days."))
    else:
        if missing:
            parts.note(
                say("{jars} missing from orders. Tell these customers early.", jars=words.jars(missing)),
                tone="bad",
            )
            st.caption(say("Plain: jars filled by the due day. Hatched: jars missing."))
        else:
            parts.note(say("All {orders} orders are filled.", orders=len(plan.orders)), tone="good")
        figure = charts.jars_by_order(plan, scenario, shown.look)
        parts.chart(
            figure, "orders", say("Jars filled and missing of each order"), tables.order_table(plan, scenario)
        )
    if plan.shop:
        st.subheader(say("Left for the shop"))
        missing = sum(row.missing for row in plan.shop)
        parts.note(trade_tables.shop_said(plan), tone="bad" if missing else "good")
        parts.plain(trade_tables.shop_table(plan, scenario))
        st.caption(say("Settled jars that no order has taken by the end of the day; they stay for the next."))
    labels = chore_tables.label_table(plan)
    if not labels.empty:
        st.subheader(say("To label"))
        parts.plain(labels)
        st.caption(
            say("Jars that were potted on days before. Only labelled jars leave, or count for the shop.")
        )
    st.subheader(say("Jars of each recipe"))
    parts.plain(tables.recipe_table(plan, scenario))
    printing.download_buttons(shown, "purchases", "labels")


def _power(shown: Shown) -> None:
    """Gas burnt of the gas there is, and the most kW at once where that has a limit."""
    told = power_tables.gas_told(shown.ready, shown.scenario)
    peaks = power_tables.power_table(shown.ready, shown.scenario)
    if not told and peaks.empty:
        return
    st.subheader(say("Power and gas"))
    if told:
        st.caption(told)
    if not peaks.empty:
        parts.plain(peaks)
        st.caption(
            say("The most at once: rings, the jar oven on days on which jars are filled, what is always on.")
        )
