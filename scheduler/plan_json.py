"""A plan as JSON text, and back."""

from __future__ import annotations

import json
import types
from dataclasses import MISSING, asdict, fields, is_dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints

from scheduler.plan_rows import PLAN_SCHEMA, Plan


def to_json(plan: Plan) -> str:
    """Write a plan as JSON text; ``from_json`` reads it back to an equal plan."""
    return json.dumps(asdict(plan), default=_plain, indent=1, ensure_ascii=False) + "\n"


def from_json(text: str) -> Plan:
    """Read a plan.

    Raises ValueError if the text is not a plan of this schema.
    """
    raw = json.loads(text)
    if not isinstance(raw, dict) or raw.get("schema") != PLAN_SCHEMA:
        found = raw.get("schema") if isinstance(raw, dict) else type(raw).__name__
        raise ValueError(f"not a plan of schema {PLAN_SCHEMA} (found {found})")
    try:
        plan = _build(Plan, raw)
    except (KeyError, TypeError) as error:
        raise ValueError(f"the plan file is damaged: {error}") from error
    assert isinstance(plan, Plan)
    return plan


def _plain(value: object) -> object:
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"cannot write {type(value).__name__}")


def _build(kind: Any, raw: Any) -> Any:
    """Rebuild a value of the annotated ``kind`` from plain JSON; a field with a default may be absent."""
    origin = get_origin(kind)
    if origin in (types.UnionType, Union):
        inner = next(arg for arg in get_args(kind) if arg is not type(None))
        return None if raw is None else _build(inner, raw)
    if origin is tuple:
        return tuple(_build(get_args(kind)[0], item) for item in raw)
    if is_dataclass(kind) and isinstance(kind, type):
        hints = _hints(kind)
        given = [f.name for f in fields(kind) if f.name in raw or f.default is MISSING]
        known = {name: _build(hints[name], raw[name]) for name in given}
        return kind(**known)
    if kind is date:
        return date.fromisoformat(raw)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return kind(raw)
    return raw


@cache
def _hints(kind: type) -> dict[str, Any]:
    """The types of a row's fields: annotations are text, and reading them anew for each row took long."""
    return get_type_hints(kind)
