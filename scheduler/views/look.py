"""The look of every chart: paper and ink in two lights, fruit colours, patterns and one template."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import plotly.graph_objects as go

from scheduler.domain.fruit import Fruit
from scheduler.domain.scenario import Scenario
from scheduler.languages import message
from scheduler.languages.formats import separators
from scheduler.plan_rows import OF_NO_BATCH, StageKind

FONT = "'Trebuchet MS', 'Gill Sans', 'Liberation Sans', 'DejaVu Sans', sans-serif"
"""A stack of fonts that machines already have; nothing is fetched."""

PATTERNS = ("", "/", ".", "-", "x", "|", "\\", "+")
"""Fills of the fruits in their order, so that three red fruits differ without colour."""


@dataclass(frozen=True, slots=True)
class Look:
    """Colours of one light: ``paper`` lies under charts, ``ink`` writes, ``line`` rules."""

    dark: bool
    paper: str
    card: str
    ink: str
    faint: str
    line: str
    leaf: str
    berry: str
    amber: str
    water: str


LIGHT = Look(
    False, "#fbf7ee", "#f3ecdd", "#2d2a24", "#6a6354", "#ddd3bf", "#3d6b38", "#94264a", "#a8630b", "#2f6f93"
)
DARK = Look(
    True, "#1e1b17", "#2a2621", "#efe7d8", "#b3a993", "#4a4439", "#9cc98a", "#e58aa6", "#e5b061", "#86bfe0"
)


@dataclass(frozen=True, slots=True)
class Fill:
    """A colour and the pattern drawn over it."""

    colour: str
    pattern: str = ""


FATES = (
    message("sold"),
    message("cooked"),
    message("frozen"),
    message("trimmed"),
    message("given up"),
    message("spoiled"),
    message("left"),
)


def fate_fills(look: Look) -> dict[str, Fill]:
    """What became of fruit. Told apart by lightness and pattern first, by hue second."""
    light = {
        "sold": Fill("#3d6b38"),
        "cooked": Fill("#94264a"),
        "frozen": Fill("#7fb4d3", "."),
        "trimmed": Fill("#d8cbb0", "/"),
        "given up": Fill("#d08a1e", "x"),
        "spoiled": Fill("#4a3a2a", "\\"),
        "left": Fill("#f3ecdd", "-"),
    }
    dark = {
        "sold": Fill("#8fbf7c"),
        "cooked": Fill("#d56b8b"),
        "frozen": Fill("#5f9cc0", "."),
        "trimmed": Fill("#7b705b", "/"),
        "given up": Fill("#e0a344", "x"),
        "spoiled": Fill("#f0dfc4", "\\"),
        "left": Fill("#3a342c", "-"),
    }
    return dark if look.dark else light


def fruit_colour(fruit: Fruit, look: Look) -> str:
    """The fruit's own colour, lifted in dark light so that it stands off the paper."""
    return mixed(fruit.colour, "#ffffff", 0.25) if look.dark else fruit.colour.lower()


def fruit_fill(fruit: Fruit, scenario: Scenario, look: Look) -> Fill:
    """Colour and pattern of a fruit in stacked charts."""
    place = [each.name for each in scenario.fruits].index(fruit.name)
    return Fill(fruit_colour(fruit, look), PATTERNS[place % len(PATTERNS)])


_IN_WATER = OF_NO_BATCH | {StageKind.WASH, StageKind.WASH_JARS}


def stage_fill(kind: StageKind, colour: str, look: Look) -> Fill:
    """How a stage is drawn in a batch of ``colour``: the boil strongest, the re-boil hatched."""
    tint = {
        StageKind.PREPARE: (0.70, ""),
        StageKind.SOFTEN: (0.50, "|"),
        StageKind.STRAIN: (0.80, "+"),
        StageKind.WASH_JARS: (0.85, "x"),
        StageKind.LOAD_JARS: (0.85, "x"),
        StageKind.DISSOLVE: (0.55, ""),
        StageKind.BOIL: (0.0, ""),
        StageKind.SET_TEST: (0.88, ""),
        StageKind.REBOIL: (0.45, "/"),
        StageKind.STAND: (0.80, "."),
        StageKind.STAND_BY: (0.75, ""),
        StageKind.POT_UP: (0.30, ""),
        StageKind.WASH: (0.90, "-"),
        StageKind.FREEZE: (0.70, "."),
        StageKind.LABEL: (0.55, "\\"),
        StageKind.TAKE_OUT: (0.35, "."),
        StageKind.CLEAN_DOWN: (0.60, "-"),
    }
    share, pattern = tint[kind]
    base = look.leaf if kind is StageKind.LABEL else look.water if kind in _IN_WATER else colour
    return Fill(mixed(base, look.paper, share), pattern)


def break_fill(look: Look) -> Fill:
    """A break of a shift."""
    return Fill(look.paper, "|")


def closed_fill(look: Look) -> Fill:
    """A time in which the kitchen is closed."""
    return Fill(look.line, "x")


def mixed(first: str, second: str, share: float) -> str:
    """``first`` with ``share`` of ``second`` stirred in, both #rrggbb."""
    pairs = zip(_channels(first), _channels(second), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def ink_on(colour: str) -> str:
    """Black or white, whichever has more contrast: at least 4.58 to 1 on any colour (WCAG 2.2)."""
    return max(("#000000", "#ffffff"), key=lambda ink: contrast(ink, colour))


def contrast(first: str, second: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (W3C, WCAG 2.2, section 1.4.3)."""
    lighter, darker = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def dress(figure: go.Figure, look: Look, height: int) -> go.Figure:
    """Give a figure the template of this look, no legend and a fixed height in pixels."""
    axis: dict[str, Any] = {
        "gridcolor": look.line,
        "linecolor": look.line,
        "zerolinecolor": look.line,
        "ticks": "",
        "tickfont": {"color": look.faint, "size": 12},
        "title": {"font": {"color": look.faint, "size": 12}},
        "fixedrange": True,
        "automargin": True,
    }
    figure.update_layout(
        template="none",
        separators=separators(),
        height=height,
        showlegend=False,
        bargap=0.28,
        dragmode=False,
        paper_bgcolor="rgba(0,0,0,0)",
        plot_bgcolor="rgba(0,0,0,0)",
        font={"family": FONT, "color": look.ink, "size": 13},
        margin={"l": 8, "r": 12, "t": 12, "b": 34},
        hoverlabel={
            "bgcolor": look.card,
            "bordercolor": look.faint,
            "align": "left",
            "font": {"family": FONT, "color": look.ink, "size": 13},
        },
    )
    figure.update_xaxes(**axis)
    figure.update_yaxes(**axis)
    return figure


def pattern(fill: Fill, look: Look) -> dict[str, Any]:
    """Plotly's pattern of one fill, drawn in ink over its colour."""
    return {
        "shape": fill.pattern,
        "fgcolor": ink_on(fill.colour),
        "fgopacity": 0.2,  # enough to tell fills apart, faint enough to read a number over it
        "size": 8,
        "solidity": 0.2,
        "bgcolor": fill.colour,
        "fillmode": "overlay",
    }


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _luminance(colour: str) -> float:
    scaled = [c / 255 for c in _channels(colour)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in scaled)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
