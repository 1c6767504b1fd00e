"""The file of outside checks: as computed now, within the tolerances, from enough sources."""

from __future__ import annotations

import csv
from collections import Counter

import pytest

from tests.outside.check import MEMORY, PRACTICE, PUBLISHED, Check
from tests.outside.checks import CHECKS, COLUMNS, FILE, rows

KEPT = list(csv.DictReader(FILE.read_text(encoding="utf-8").splitlines()))
FIGURES = ("published", "ours", "tolerance")


def name(check: Check) -> str:
    return f"{check.check}, {check.quantity}"


@pytest.mark.parametrize("check", CHECKS, ids=name)
def test_ours_is_the_published_figure_within_tolerance(check: Check) -> None:
    assert abs(check.ours - check.published) <= check.tolerance, check.source


def test_the_file_is_what_is_computed_now() -> None:
    """Figures to a relative 1e-4, so that another release of a library does not trip it; words exactly."""
    assert tuple(KEPT[0]) == COLUMNS
    now = rows(CHECKS)
    assert len(KEPT) == len(now), "run: python -m tests.outside"
    for kept, fresh in zip(KEPT, now, strict=True):
        assert {k: v for k, v in kept.items() if k not in FIGURES} == {
            k: v for k, v in fresh.items() if k not in FIGURES
        }
        for figure in FIGURES:
            assert float(kept[figure]) == pytest.approx(float(fresh[figure]), rel=1e-4), kept["check"]


def test_there_are_enough_checks_from_enough_sources() -> None:
    assert len(CHECKS) >= 60
    assert len({check.source for check in CHECKS}) >= 12
    assert {check.provenance for check in CHECKS} == {PUBLISHED, PRACTICE, MEMORY}


def test_no_two_checks_share_a_name() -> None:
    again = [named for named, times in Counter(map(name, CHECKS)).items() if times > 1]
    assert not again
