"""Keys to the charts as HTML: swatches that wrap on a phone and can be read aloud."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from html import escape

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.plan_rows import Plan, StageKind
from scheduler.views.look import FATES, Fill, Look, break_fill, fate_fills, fruit_fill, ink_on, stage_fill

_HATCH = {
    "/": "repeating-linear-gradient(135deg,{ink} 0 1.5px,transparent 1.5px 6px)",
    "\\": "repeating-linear-gradient(45deg,{ink} 0 1.5px,transparent 1.5px 6px)",
    "-": "repeating-linear-gradient(0deg,{ink} 0 1.2px,transparent 1.2px 5px)",
    "|": "repeating-linear-gradient(90deg,{ink} 0 1.2px,transparent 1.2px 5px)",
    ".": "radial-gradient({ink} 1.1px,transparent 1.4px)",
    "x": "repeating-linear-gradient(45deg,{ink} 0 1.2px,transparent 1.2px 6px),"
    "repeating-linear-gradient(135deg,{ink} 0 1.2px,transparent 1.2px 6px)",
    "+": "repeating-linear-gradient(0deg,{ink} 0 1.2px,transparent 1.2px 6px),"
    "repeating-linear-gradient(90deg,{ink} 0 1.2px,transparent 1.2px 6px)",
}

_STAGE_WORDS = {
    StageKind.REBOIL: message("re-boil allowance"),
    StageKind.STAND_BY: message("within call to pot up"),
}
_THIN = frozenset({StageKind.STAND_BY})
"""Stages that are drawn as a strip beside others: they fill nobody's time."""


def fruit_key(plan: Plan, scenario: Scenario, look: Look, patterned: bool = True) -> str:
    """Letter, swatch and name of every fruit of the plan; on the clock fruits have no pattern."""
    seen = {m.fruit for m in plan.mixes} | {r.fruit for r in plan.lots} | {r.fruit for r in plan.freezer}
    fruits = [fruit for fruit in scenario.fruits if fruit.name in seen]
    fills = [fruit_fill(fruit, scenario, look) for fruit in fruits]
    drawn = fills if patterned else [Fill(fill.colour) for fill in fills]
    return _key([(fill, f.letter, f.name) for fill, f in zip(drawn, fruits, strict=True)], look)


def stage_key(look: Look, kinds: Iterable[StageKind], with_break: bool = False) -> str:
    """Stages as they are drawn, in a neutral colour (each batch has its fruit's)."""
    listed = [*kinds]
    drawn = [
        (stage_fill(kind, look.faint, look), spoken(_STAGE_WORDS.get(kind, kind.value))) for kind in listed
    ]
    if with_break:
        drawn.append((break_fill(look), say("break")))
    thin = {place for place, kind in enumerate(listed) if kind in _THIN}
    return _key([(fill, "", name) for fill, name in drawn], look, thin)


def fate_key(look: Look, drawn: Collection[str] = FATES) -> str:
    """What becomes of fruit, as drawn."""
    return _key([(fill, "", spoken(fate)) for fate, fill in fate_fills(look).items() if fate in drawn], look)


def stages_drawn(plan: Plan, kinds: Iterable[StageKind]) -> list[StageKind]:
    """Those of ``kinds`` that a plan has, in their order."""
    used = {stage.kind for stage in plan.stages}
    return [kind for kind in kinds if kind in used]


def _key(entries: Iterable[tuple[Fill, str, str]], look: Look, thin: Collection[int] = ()) -> str:
    """A list of swatches with their names; those at the places ``thin`` are strips."""
    items = "".join(
        f'<li style="display:flex;align-items:center;gap:.4rem">'
        f'<span aria-hidden="true" style="{_swatch(fill, look, place in thin)}"></span>'
        f"{escape(f'{letter} {name}'.strip())}</li>"
        for place, (fill, letter, name) in enumerate(entries)
    )
    return (
        f'<ul style="display:flex;flex-wrap:wrap;gap:.3rem 1rem;list-style:none;margin:.2rem 0;padding:0;'
        f'font-size:.85rem;color:{look.ink}">{items}</ul>'
    )


def _swatch(fill: Fill, look: Look, thin: bool) -> str:
    ink = ink_on(fill.colour)
    hatch = _HATCH.get(fill.pattern, "").format(ink=f"{ink}99")
    layers = f"background-image:{hatch};" if hatch else ""
    size = "background-size:5px 5px;" if fill.pattern == "." else ""
    return (
        f"display:inline-block;width:1.5rem;height:{'.35rem' if thin else '1.1rem'};border-radius:3px;"
        f"border:1px solid {look.faint};"
        f"background-color:{fill.colour};{layers}{size}"
    )
