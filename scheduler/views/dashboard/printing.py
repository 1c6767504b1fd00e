"""Part of some pages: the same on paper, as PDFs that are made when they are asked for."""

from __future__ import annotations

from functools import partial

import streamlit as st

from scheduler.languages import ENGLISH, message, say, speaking, spoken
from scheduler.paper import GRIDS, PAPERS, Wish, empty, print_pdf
from scheduler.paper.labels import Grid
from scheduler.views import words
from scheduler.views.dashboard.state import Shown

_SAYS = {
    "batches": message("A sheet for each batch, to work from and to write on."),
    "labels": message(
        "On plain label sheets. The first page says what is to be settled before any goes on a jar."
    ),
}


def download_buttons(shown: Shown, *whats: str) -> None:
    """Draw an expander with a button for each paper that has anything on it; nothing where none has, nor for
    a plan of files that have changed since."""
    if shown.now is not None:
        return
    offered = [what for what in whats if not empty(what, shown.ready, shown.scenario)]
    if not offered:
        return
    with st.expander(say("On paper")):
        for what in offered:
            if what in _SAYS:
                st.caption(spoken(_SAYS[what]))
            with st.container(horizontal=True):
                for name, wish in _wishes(what).items():
                    _button(shown, what, name, wish)


def _print(what: str, shown: Shown, wish: Wish) -> bytes:
    """The paper, which is in English whatever the page speaks."""
    with speaking(ENGLISH):
        return print_pdf(what, shown.ready, shown.scenario, wish)


def _grid(grid: Grid) -> str:
    """``2 × 7 of 99.1 × 38.1 mm``."""
    return say(
        "{columns} × {rows} of {width} × {height} mm",
        columns=grid.columns,
        rows=grid.rows,
        width=words.general(grid.width),
        height=words.general(grid.height),
    )


def _wishes(what: str) -> dict[str, Wish]:
    """The ways in which a paper is offered, by what its button says."""
    title = spoken(PAPERS[what].title)
    if what == "calendar":
        return {f"{title}, {size.upper()}": Wish(size=size) for size in ("a4", "a3")}
    if what == "labels":
        return {f"{title}, {_grid(grid)}": Wish(grid=name) for name, grid in GRIDS.items()}
    return {title: Wish()}


def _button(shown: Shown, what: str, name: str, wish: Wish) -> None:
    which = {"calendar": f" {wish.size}", "labels": f" {wish.grid}"}.get(what, "")
    file = "".join(each if each.isalnum() else "-" for each in f"{shown.scenario.name} {what}{which}")
    st.download_button(
        name,
        partial(_print, what, shown, wish),
        f"{file}.pdf",
        "application/pdf",
        key=f"print {what} {name}",
        on_click="ignore",
    )
