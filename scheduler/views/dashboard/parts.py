"""Pieces that pages are made of: cards, charts with their tables, choices of day, empty states."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from html import escape
from typing import Any, Literal

import pandas as pd
import plotly.graph_objects as go
import streamlit as st

from scheduler.errors import Fault
from scheduler.languages import locale, say, say_many
from scheduler.plan_rows import Plan
from scheduler.views import words
from scheduler.views.dashboard.state import Shown
from scheduler.views.look import Look
from scheduler.views.measured_table import in_units

WHOLE = 31
"""Rows up to which a table is shown whole instead of scrolling inside the page."""

STYLE = """<style>
.block-container{max-width:1180px;padding-top:3.6rem}
@media (max-width:640px){.block-container{padding-left:.9rem;padding-right:.9rem}}
.m-cards{display:grid;grid-template-columns:repeat(auto-fit,minmax(7.8rem,1fr));gap:.6rem;
 margin:.2rem 0 .6rem}
.m-card{border:1px solid var(--m-line);border-radius:6px;padding:.6rem .8rem;background:var(--m-card)}
.m-card b{display:block;font-size:1.55rem;line-height:1.25;font-weight:600;
 font-family:Georgia,'Liberation Serif',serif}
.m-card span{display:block;font-size:.85rem;color:var(--m-faint);line-height:1.3}
.m-card em{display:block;font-style:normal;font-size:.85rem;margin-top:.2rem;line-height:1.3}
.m-card em.good{color:var(--m-leaf)}.m-card em.bad{color:var(--m-berry)}
.m-rows{list-style:none;margin:.2rem 0!important;padding:0!important;border-top:1px solid var(--m-line)}
.m-rows li{margin:0!important;display:grid;grid-template-columns:7.2rem 1fr;gap:.1rem .8rem;padding:.45rem 0;
 border-bottom:1px solid var(--m-line);margin:0;overflow-wrap:anywhere}
.m-rows li>b{font-weight:600}.m-rows small{color:var(--m-faint);font-size:.85rem;display:block}
.m-note{border-left:4px solid var(--m-amber);background:var(--m-card);padding:.6rem .9rem;
 border-radius:0 6px 6px 0;overflow-wrap:anywhere;
 margin:.3rem 0}
.m-note.bad{border-color:var(--m-berry)}.m-note.good{border-color:var(--m-leaf)}
.m-wide{overflow-x:auto;margin:.2rem 0 .6rem}
.m-wide table{border-collapse:collapse;font-size:.88rem;line-height:1.3}
.m-wide th,.m-wide td{border:0;border-bottom:1px solid var(--m-line);padding:.4rem .9rem .4rem 0;
 text-align:left;vertical-align:top;font-weight:400}
.m-wide th{color:var(--m-faint);vertical-align:bottom}
.m-wide .n{text-align:right;font-variant-numeric:tabular-nums}.m-wide td.n{white-space:nowrap}
.m-wide tr>:first-child{position:sticky;left:0;background:var(--m-paper)}
@media (max-width:640px){.m-wide th,.m-wide td{padding-right:.6rem}}
button[kind="primary"]:not(:disabled) p{color:var(--m-on-leaf)}
[data-testid="stCaptionContainer"],[data-testid="stCaptionContainer"] p{color:var(--m-faint);opacity:1}
.m-note p{margin:0 0 .25rem}.m-note ul{margin:.2rem 0 0;padding-left:1.1rem}
[data-variant="segmented_control"][data-selected][data-hovered] p{color:var(--m-ink)}
[data-testid="stDateInput"] [role="spinbutton"]{min-width:24px;min-height:24px;
 line-height:24px;text-align:center}
[class*="st-key-text"] textarea{font-family:monospace}
@page{size:landscape;margin:10mm}
@media print{
[data-testid="stSidebar"],[data-testid="stHeader"],[data-testid="stToolbar"],[data-testid="stButton"],
[data-testid="stDownloadButton"],[data-testid="stExpander"],[data-testid="stFileUploader"],
[data-testid="stButtonGroup"],[data-testid="stSlider"]{display:none!important}
html,body,#root,#root>div,[data-testid="stApp"],[data-testid="stAppViewContainer"],[data-testid="stMain"]
{display:block!important;position:static!important;height:auto!important;overflow:visible!important}
.block-container{max-width:none;padding:0}
.m-card,.m-note,.m-rows li,tr,[data-testid="stPlotlyChart"]{break-inside:avoid}
h2,h3{break-after:avoid}
*{print-color-adjust:exact}
[data-testid="stApp"]{background:var(--m-sheet)}
html{filter:var(--m-print);background:#fff!important}
body,#root{background:none!important}
.m-wide tr>:first-child{position:static;background:none}
}
</style>"""


def wear(look: Look) -> None:
    """Put the look's colours where the style sheet finds them."""
    colours = {
        "paper": look.paper,
        "ink": look.ink,
        "line": look.line,
        "card": look.card,
        "faint": look.faint,
        "leaf": look.leaf,
        "berry": look.berry,
        "amber": look.amber,
        "on-leaf": "#14120f" if look.dark else "#fff",
        # On paper the dark look is turned round: ink is dear, and hues stay what they are.
        "sheet": "#000" if look.dark else "#fff",
        "print": "invert(1) hue-rotate(180deg)" if look.dark else "none",
    }
    root = ";".join(f"--m-{name}:{colour}" for name, colour in colours.items())
    st.html(STYLE.replace("<style>", "<style>:root{" + root + "}"))


def tell_language(language: str) -> None:
    """Say to the browser, and so to a screen reader's voice, which language the page speaks."""
    # Streamlit writes English into its page, and has no other way to put it right.
    script = f"<script>document.documentElement.lang = {json.dumps(language)}</script>"
    st.html(script, unsafe_allow_javascript=True)


def cards(items: Iterable[tuple[str, str, str, str]]) -> None:
    """Headline numbers: (number, what it is, a remark, "good", "bad" or "")."""
    made = "".join(
        f'<div class="m-card"><span>{escape(what)}</span><b>{escape(number)}</b>'
        + (f'<em class="{tone}">{escape(remark)}</em>' if remark else "")
        + "</div>"
        for number, what, remark, tone in items
    )
    st.html(f'<div class="m-cards">{made}</div>')


def rows(items: Iterable[tuple[str, str, str]]) -> None:
    """A list that reads well on a phone: (when or who, what, small print)."""
    made = "".join(
        f"<li><b>{escape(head)}</b><span>{escape(text)}"
        + (f"<small>{escape(small)}</small>" if small else "")
        + "</span></li>"
        for head, text, small in items
    )
    st.html(f'<ul class="m-rows">{made}</ul>')


def note(title: str, lines: Sequence[str] = (), tone: str = "") -> None:
    """A remark that is not missed; ``tone`` is "good", "bad" or ""."""
    listed = "".join(f"<li>{escape(line)}</li>" for line in lines)
    st.html(
        f'<div class="m-note {tone}" role="note"><p><b>{escape(title)}</b></p>'
        + (f"<ul>{listed}</ul>" if listed else "")
        + "</div>"
    )


def chart(
    figure: go.Figure,
    key: str,
    alt: str,
    table: pd.DataFrame,
    heading: str | None = None,
    on_click: Callable[[], None] | None = None,
) -> None:
    """A figure, and its numbers as a table behind it; ``on_click`` is called when one of its marks is."""
    st.plotly_chart(
        figure,
        theme=None,
        key=key,
        alt=alt,
        on_select=on_click or "ignore",
        selection_mode="points",
        config={"displayModeBar": False, "displaylogo": False},
    )
    with st.expander(heading or say("The numbers")):
        grid(table)


def grid(table: pd.DataFrame) -> None:
    """A table without a row index; numbers to one decimal, nothing where there is no number."""
    table = in_units(table)
    floats = list(table.select_dtypes("float").columns)
    height: Literal["content", "auto"] = "content" if len(table) <= WHOLE else "auto"
    shown: Any = table
    decimals: dict[Any, Any] = {}
    if locale():
        # The browser's own formats know no decimals and the locale of the browser only.
        shown = table.style.format(dict.fromkeys(floats, words.number_or_none))
    else:
        decimals = {name: st.column_config.NumberColumn(format="%.1f") for name in floats}
    st.dataframe(shown, hide_index=True, column_config=decimals, height=height, placeholder="")


def plain(table: pd.DataFrame) -> None:
    """A table that is read, not searched: long words wrap, the first column stays in sight on a phone."""
    table = in_units(table)
    number = [_is_number(table[name]) for name in table.columns]

    def row(cells: Iterable[object], tag: str) -> str:
        made = (
            f"<{tag}{' class=n' if right else ''}>{escape(str(cell))}</{tag}>"
            for cell, right in zip(cells, number, strict=True)
        )
        return f"<tr>{''.join(made)}</tr>"

    # A day keeps to one line.
    body = "".join(row(map(_short_whole, cells), "td") for cells in table.itertuples(index=False))
    head = row(table.columns, "th")
    # What is wider than a phone can be moved sideways by keys alone.
    moved = f'class="m-wide" role="group" tabindex="0" aria-label="{escape(say("Table"))}"'
    st.html(f"<div {moved}><table><thead>{head}</thead><tbody>{body}</tbody></table></div>")


def _short_whole(cell: object) -> str:
    text = words.number(cell, 1) if isinstance(cell, float) and locale() else str(cell)
    return text.replace(" ", "\u00a0") if len(text) <= len("Wed 30 Sep") else text


def _is_number(column: pd.Series[Any]) -> bool:
    """Whether a column holds numbers, money, hours or nothing: what stands to the right."""
    return all(str(cell).lstrip("+-−€£$")[:1] in set("0123456789") | {""} for cell in column)


def choose_day(days: Sequence[date], key: str, label: str | None = None) -> date | None:
    """One of ``days``; today's is offered first if it is among them."""
    if not days:
        return None
    today = date.today()
    first = days.index(today) if today in days else 0
    return st.selectbox(label or say("Day"), days, index=first, format_func=words.day_name, key=key)


def take_care(plan: Plan) -> None:
    """The cautions that a plan calls for."""
    note(say("Take care"), words.cautions(plan))


def faults(all_: Sequence[Fault], folder: str) -> None:
    """Every fault of a scenario folder, by file."""
    st.header(say("This scenario cannot be read yet"))
    many = say_many("1 fault in {folder}.", "{n} faults in {folder}.", len(all_), folder=folder)
    note(
        f"{many} {say('Nothing is planned until they are mended.')}",
        [say("Mend them on page Scenario, or in the files and then reload this page.")],
        "bad",
    )
    for file in dict.fromkeys(fault.file for fault in all_):
        st.subheader(file)
        fault_rows(fault for fault in all_ if fault.file == file)


def fault_rows(faults: Iterable[Fault]) -> None:
    """Faults in the words that every page and the command line have for them."""
    rows(
        (
            fault.where or say("the file"),
            found(fault),
            allowed(fault),
        )
        for fault in faults
    )


def found(fault: Fault) -> str:
    """What a fault found, and what to do."""
    return f"{say('Found {what}.', what=fault.found)} {fault.remedy}"


def allowed(fault: Fault) -> str:
    """What is allowed in place of a fault."""
    return say("allowed: {what}", what=fault.allowed)


def no_plan_yet(shown: Shown, title: str, what: str) -> None:
    """What a page says before there is a plan."""
    st.header(title)
    if shown.run.state == "running":
        note(say("{what} will stand here as soon as the plan is made.", what=what))
    else:
        note(
            say("No plan yet for {name} as its files are now.", name=shown.scenario.name),
            [
                say(
                    "Press Plan, and {what} will stand here.",
                    what=what if locale() else f"{what[0].lower()}{what[1:]}",
                ),
                say("On a phone, Plan is behind » at the top."),
            ],
        )
