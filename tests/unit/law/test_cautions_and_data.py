"""Cautions stand where their hazards arise; every figure of law has a source; the law stands alone."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import scheduler.law
from scheduler.law.acts import acts, table
from scheduler.law.cautions import CAUTIONS, Hazard, cautions_about, cautions_at
from scheduler.law.composition import Kind
from scheduler.plan_rows import StageKind

BESIDE_THE_BATCH = {"recipe", "label", "day"}


def test_every_hazard_has_its_cautions_at_stages_that_exist() -> None:
    stages = {stage.value for stage in StageKind} | BESIDE_THE_BATCH
    for hazard in Hazard:
        assert cautions_about(hazard)
    for caution in CAUTIONS:
        assert set(caution.stages) <= stages
        assert caution.source


@pytest.mark.parametrize(
    ("stage", "hazard"),
    [("boil", Hazard.HOT_SUGAR), ("pot up", Hazard.GLASS), ("jars in oven", Hazard.GLASS),
     ("recipe", Hazard.LOW_ACID), ("label", Hazard.ALLERGENS), ("soften", Hazard.HOT_JUICE),
     ("strain", Hazard.HOT_JUICE), ("strain", Hazard.SPOILAGE), ("day", Hazard.TIRED_HANDS)],
)  # fmt: skip
def test_a_hazard_is_told_where_it_arises(stage: str, hazard: Hazard) -> None:
    assert hazard in {caution.hazard for caution in cautions_at(stage)}


def test_a_stage_without_hazard_has_no_caution() -> None:
    assert cautions_at("prepare to freeze") == ()


@pytest.mark.parametrize("name", ["acts", "limits", "reserved", "lives", "hazards"])
def test_every_row_of_data_says_where_it_is_from(name: str) -> None:
    rows = table(name)
    assert rows
    for row in rows:
        assert row["provenance"] in {"read", "memory"}
        assert row.get("source", row.get("title"))
        assert None not in row.values(), row
        assert None not in row


def test_a_reserved_word_leads_to_limits_or_says_that_none_are_held() -> None:
    for act in acts():
        names = {name for kind in Kind for name in act.limits.get(kind, {})}
        assert {word.meets for word in act.reserved} - {""} <= names
        assert act.start <= (act.end or act.start)


def test_the_law_imports_nothing_else_of_ours_and_no_library() -> None:
    allowed = {"__future__", "collections", "csv", "dataclasses", "datetime", "enum", "functools",
               "importlib", "math", "re"}  # fmt: skip
    for path in Path(str(scheduler.law.__file__)).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            modules = [name.name for name in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom):
                modules = [node.module or ""]
            for module in modules:
                assert module.startswith("scheduler.law.") or module.split(".")[0] in allowed, (path, module)
