"""What preserves may be called, just inside and just under each act's figures.

The source of each figure stands beside its case; "memory" marks figures that were not verified, and the
findings have to say so.
"""

from __future__ import annotations

from datetime import date

import pytest

from scheduler.law.acts import acts, acts_on
from scheduler.law.composition import Composition, Kind
from scheduler.law.naming import ADVICE, Finding, Verdict, name_allowed, names_allowed
from tests.unit.law.jars import preserve

BEFORE, AFTER = date(2026, 6, 13), date(2026, 6, 14)
EU, ENGLAND, WALES, NI = "European Union", "England", "Wales", "Northern Ireland"
US, CODEX, AUSTRALIA = "United States", "Codex Alimentarius", "Australia"


def finding(mix: Composition, jurisdiction: str, name: str, on: date = BEFORE) -> Finding:
    (found,) = (
        found for found in names_allowed(mix, on) if (found.jurisdiction, found.name) == (jurisdiction, name)
    )
    return found


# Least fruit in g per kg.
FRUIT = [
    # Council Directive 2001/113/EC, Annex I (as adopted)
    (EU, BEFORE, "jam", "strawberry", 350, True),
    (EU, BEFORE, "jam", "blackcurrant", 250, True),
    (EU, BEFORE, "jam", "passion fruit", 60, True),
    (EU, BEFORE, "extra jam", "raspberry", 450, True),
    (EU, BEFORE, "extra jam", "redcurrant", 350, True),
    (EU, BEFORE, "jelly", "gooseberry", 350, True),
    (EU, BEFORE, "extra jelly", "redcurrant", 350, True),
    # Summary of Directive (EU) 2024/1438 by the Food Safety Authority of Ireland
    (EU, AFTER, "jam", "strawberry", 450, True),
    (EU, AFTER, "extra jam", "raspberry", 500, True),
    (EU, AFTER, "extra jelly", "gooseberry", 500, True),
    # Directive (EU) 2024/1438, exceptions by fruit: memory
    (EU, AFTER, "jam", "blackcurrant", 350, False),
    (EU, AFTER, "extra jam", "redcurrant", 450, False),
    (EU, AFTER, "jelly", "redcurrant", 350, False),
    # Hampshire Trading Standards on the Jam and Similar Products (England) Regulations 2003
    (ENGLAND, AFTER, "jam", "strawberry", 350, True),
    (ENGLAND, AFTER, "extra jam", "strawberry", 450, True),
    (ENGLAND, AFTER, "jelly", "rosehip", 250, True),
    (ENGLAND, AFTER, "extra jelly", "quince", 350, True),
    # Jam and Similar Products (Wales) Regulations 2018, Schedule 1 Part 2 (its 60 % solids: memory)
    (WALES, AFTER, "jam", "strawberry", 350, False),
    (WALES, AFTER, "jam", "quince", 250, False),
    # Jam and Similar Products Regulations (Northern Ireland) 2018, Schedule 3 (its 60 % for jam: memory)
    (NI, AFTER, "extra jam", "strawberry", 450, False),
    (NI, AFTER, "extra jam", "blackcurrant", 350, False),
    # Codex CXS 296-2009, 3.1.2: memory
    (CODEX, AFTER, "jam", "strawberry", 350, False),
    (CODEX, AFTER, "extra jam", "blackcurrant", 350, False),
    # Australia Food Standards Code, Standard 2.3.2 (as made); its date: memory
    (AUSTRALIA, AFTER, "jam", "strawberry", 400, False),
]


@pytest.mark.parametrize(("place", "on", "name", "fruit", "least", "verified"), FRUIT)
def test_least_fruit(place: str, on: date, name: str, fruit: str, least: float, verified: bool) -> None:
    kind = Kind.JELLY if "jelly" in name else Kind.JAM
    inside = finding(preserve({fruit: least / 10}, kind=kind), place, name, on)
    assert inside.verdict is Verdict.MAY
    assert inside.verified is verified
    under = finding(preserve({fruit: least / 10 - 0.1}, kind=kind), place, name, on)
    assert under.verdict is Verdict.MAY_NOT
    (failed,) = (check for check in under.checks if check.met is False)
    assert failed.limit == least
    assert failed.margin == pytest.approx(-1)
    assert "more fruit" in under.way_out


# Least soluble solids in per cent.
SOLIDS = [
    (
        EU,
        "jam",
        60,
    ),  # Food Safety Authority of Ireland on Directive (EU) 2024/1438
    (ENGLAND, "jam", 60),  # Hampshire Trading Standards on the 2003 Regulations
    (WALES, "jam", 60),  # memory
    (NI, "jam", 60),  # memory
    (US, "jam or preserves", 65),  # textbook problem that quotes 21 CFR 150.160
    (CODEX, "jam", 60),  # CXS 296-2009, 3.2 (60 to 65 % or greater): memory
    (AUSTRALIA, "jam", 65),  # Standard 2.3.2 (as made): 650 g/kg
]


@pytest.mark.parametrize(("place", "name", "least"), SOLIDS)
def test_least_solids(place: str, name: str, least: float) -> None:
    def verdict(per_cent: float) -> Verdict:
        mix = preserve({"strawberry": 55}, sugar=55, solids=per_cent / 100)
        return finding(mix, place, name, AFTER).verdict

    assert verdict(least) is Verdict.MAY
    assert verdict(least - 0.1) is Verdict.MAY_NOT


def test_english_reduced_sugar_jam_lies_between_25_and_50_per_cent() -> None:
    """Source: Hampshire Trading Standards on the 2003 Regulations."""
    for per_cent, allowed in ((24.9, False), (25, True), (50, True), (50.1, False)):
        mix = preserve({"strawberry": 60}, sugar=30, solids=per_cent / 100)
        verdict = finding(mix, ENGLAND, "reduced sugar jam").verdict
        assert verdict is (Verdict.MAY if allowed else Verdict.MAY_NOT), per_cent


def test_a_jam_of_400_g_loses_its_name_in_the_union_on_14_june_2026_and_keeps_it_in_england() -> None:
    """Source of the day: briefing of the European Parliament on the breakfast directives."""
    jam = preserve({"strawberry": 40})
    assert finding(jam, EU, "jam", BEFORE).verdict is Verdict.MAY
    after = finding(jam, EU, "jam", AFTER)
    assert after.verdict is Verdict.MAY_NOT
    assert after.verified
    assert "2024/1438" in after.act
    assert finding(jam, ENGLAND, "jam", AFTER).verdict is Verdict.MAY


def test_american_jam_sets_fruit_against_sugar() -> None:
    """47:55 and 45:55: US Food and Drug Administration guidance on 21 CFR 150, as quoted."""
    for fruit, parts in (("strawberry", 47), ("gooseberry", 45)):
        inside = finding(preserve({fruit: parts}, sugar=55), US, "jam or preserves")
        under = finding(preserve({fruit: parts - 0.1}, sugar=55), US, "jam or preserves")
        assert (inside.verdict, under.verdict) == (Verdict.MAY, Verdict.MAY_NOT)
    # currants in group II: memory
    red = finding(preserve({"redcurrant": 45}, sugar=55), US, "jam or preserves")
    assert (red.verdict, red.verified) == (Verdict.MAY, False)
    # mixed groups are held to the stricter figure, which is a reading of ours
    mixed = finding(preserve({"strawberry": 23, "gooseberry": 23}, sugar=55), US, "jam or preserves")
    assert (mixed.verdict, mixed.verified) == (Verdict.MAY_NOT, False)
    # blackcurrant stands in neither list as far as they were read
    black = finding(preserve({"blackcurrant": 60}, sugar=55), US, "jam or preserves")
    assert black.verdict is Verdict.NOT_KNOWN
    assert "blackcurrant" in str(black)


def test_american_mixtures_hold_a_fifth_of_each_of_at_most_five_fruits() -> None:
    """Permitted combinations: read in 21 CFR 150.140 for jelly, from memory for jam."""
    jelly = preserve({"strawberry": 40, "raspberry": 10}, sugar=55, kind=Kind.JELLY)
    assert finding(jelly, US, "jelly").verdict is Verdict.MAY
    trace = preserve({"strawberry": 41, "raspberry": 9}, sugar=55, kind=Kind.JELLY)
    assert "smallest fruit" in finding(trace, US, "jelly").way_out
    six = dict.fromkeys(["strawberry", "raspberry", "cherry", "grape", "blackberry", "peach"], 10.0)
    assert "fewer kinds" in finding(preserve(six, sugar=55), US, "jam or preserves").way_out


def test_mixed_fruit_counts_by_share() -> None:
    """The rule is from Swiss law (ordinance on foods of plant origin, Article 40(9)); for others memory."""
    # half strawberry (350), half redcurrant (250): 300 g per kg in England
    inside = finding(preserve({"strawberry": 15, "redcurrant": 15}), ENGLAND, "jam")
    assert (inside.verdict, inside.verified) == (Verdict.MAY, False)
    under = finding(preserve({"strawberry": 14.9, "redcurrant": 14.9}), ENGLAND, "jam")
    assert (under.verdict, under.verified) == (Verdict.MAY_NOT, False)
    # above and below both figures the way of mixing does not matter
    for grams, verdict in ((17.5, Verdict.MAY), (12.4, Verdict.MAY_NOT)):
        sure = finding(preserve({"strawberry": grams, "redcurrant": grams}), ENGLAND, "jam")
        assert (sure.verdict, sure.verified) == (verdict, True)


def test_some_fruits_are_not_mixed_in_extra_jam() -> None:
    """Source: Council Directive 2001/113/EC, Annex I; Northern Ireland 2018, Schedule 3 Part 3."""
    for place in (EU, NI):
        assert finding(preserve({"apple": 60}), place, "extra jam").verdict is Verdict.MAY
        mixed = finding(preserve({"Blackberries": 40, "Apples": 20}), place, "extra jam")
        assert mixed.verdict is Verdict.MAY_NOT
        assert "fewer kinds" in mixed.way_out
        assert finding(preserve({"blackberry": 40, "apple": 20}), place, "jam").verdict is Verdict.MAY


def test_marmalade_is_citrus_with_enough_of_its_inside() -> None:
    """Source: Jam and Similar Products Regulations (Northern Ireland) 2018, Schedule 3 Part 6."""

    def marmalade(fruit: str, grams: float, endocarp: float | None) -> Finding:
        mix = preserve({fruit: grams}, kind=Kind.MARMALADE, endocarp=endocarp)
        return finding(mix, NI, "marmalade")

    assert marmalade("Seville orange", 20, 7.5).verdict is Verdict.MAY
    assert marmalade("Seville orange", 20, 7.5).verified
    assert marmalade("Seville orange", 19.9, 7.5).verdict is Verdict.MAY_NOT
    assert marmalade("Seville orange", 20, 7.4).verdict is Verdict.MAY_NOT
    assert marmalade("Seville orange", 20, None).verdict is Verdict.NOT_KNOWN
    assert marmalade("rhubarb", 40, 10).verdict is Verdict.MAY_NOT


@pytest.mark.parametrize(
    ("left_out", "verdict", "measured"),
    [
        (0, Verdict.MAY, 500),
        (5, Verdict.MAY, 450),  # the strictest count, all water used deducted, still meets the 450 g
        (5.1, Verdict.NOT_KNOWN, None),
        (90, Verdict.NOT_KNOWN, None),
    ],
)
def test_juice_counts_without_its_water_and_where_the_counts_disagree_nothing_is_settled(
    left_out: float, verdict: Verdict, measured: float | None
) -> None:
    """Deduction of the water: Council Directive 2001/113/EC, Annex I; 450 g: extra jelly in England."""
    mix = preserve({"gooseberry": 50}, kind=Kind.JELLY, left_out=left_out)
    found = finding(mix, ENGLAND, "extra jelly")
    assert found.verdict is verdict
    assert found.checks[0].measured == measured
    assert ("500 g if not" in str(found)) is (measured is None)


def test_too_little_juice_by_either_count_is_too_little() -> None:
    """350 g of juice for jelly: Hampshire Trading Standards on the 2003 Regulations."""
    found = finding(preserve({"gooseberry": 34.9}, kind=Kind.JELLY, left_out=5), ENGLAND, "jelly")
    assert (found.verdict, found.verified, found.checks[0].measured) == (Verdict.MAY_NOT, True, 349)


def test_water_left_in_the_pulp_is_no_part_of_the_american_ratio() -> None:
    """21 CFR 150.140 counts juice by its solids (factors read; the rule from memory): 45 to 55."""
    inside = finding(preserve({"gooseberry": 45}, sugar=55, kind=Kind.JELLY, left_out=30), US, "jelly")
    assert inside.verdict is Verdict.MAY


@pytest.mark.parametrize(
    ("fruit", "grams", "solids", "verdict"),
    [
        ("plum", 75, 0.43, Verdict.MAY),
        ("plum", 74.9, 0.43, Verdict.MAY_NOT),
        ("plum", 75, 0.429, Verdict.MAY_NOT),
        ("blackcurrant", 75, 0.43, Verdict.NOT_KNOWN),  # not among its fruits
    ],
)
def test_american_fruit_butter(fruit: str, grams: float, solids: float, verdict: Verdict) -> None:
    """Five parts of fruit to two of sugar and 43 %: 21 CFR 150.110(d), from memory; its fruits read."""
    mix = preserve({fruit: grams}, sugar=30, solids=solids, kind=Kind.BUTTER)
    found = finding(mix, US, "fruit butter")
    assert (found.verdict, found.verified) == (verdict, False)


def test_where_butter_is_kept_for_milk_fruit_butter_is_not_settled() -> None:
    """Source: Regulation (EU) No 1308/2013, Annex VII Part VII (traditional names are let alone)."""
    mix = preserve({"plum": 75}, sugar=30, solids=0.5, kind=Kind.BUTTER)
    for place in (EU, ENGLAND, WALES, NI):
        for found in (finding(mix, place, "fruit butter"), name_allowed(mix, "Plum butter", place, AFTER)):
            assert found.verdict is Verdict.NOT_KNOWN
            assert "Butter is reserved (Regulation (EU) No 1308/2013" in found.way_out
    assert name_allowed(mix, "Plum fruit spread", EU, AFTER).verdict is Verdict.MAY
    assert name_allowed(mix, "Plum jam", EU, AFTER).verdict is Verdict.MAY_NOT


def test_a_cordial_may_not_be_called_jelly_nor_a_jam_fruit_butter() -> None:
    cordial = preserve({"blackcurrant": 50}, kind=Kind.CORDIAL)
    assert name_allowed(cordial, "Blackcurrant jelly", EU, BEFORE).verdict is Verdict.MAY_NOT
    assert name_allowed(cordial, "Blackcurrant cordial", EU, BEFORE).verdict is Verdict.MAY
    assert name_allowed(preserve({"plum": 90}), "Plum fruit butter", US, BEFORE).verdict is Verdict.MAY_NOT


def test_where_no_rule_is_held_it_says_so() -> None:
    chutney = preserve({"gooseberry": 50}, kind=Kind.CHUTNEY)
    assert {found.verdict for found in names_allowed(chutney, AFTER)} == {Verdict.NOT_KNOWN}
    jelly = finding(preserve({"redcurrant": 50}, kind=Kind.JELLY), AUSTRALIA, "jelly")
    assert jelly.verdict is Verdict.NOT_KNOWN
    assert not jelly.verified


@pytest.mark.parametrize(
    ("name", "place", "allowed"),
    [
        ("Raspberry jam", EU, Verdict.MAY),
        ("Raspberry Extra Jam", EU, Verdict.MAY_NOT),  # 400 g, least 450 g
        ("Raspberry jelly", EU, Verdict.MAY_NOT),  # jelly holds juice only
        ("Raspberry marmalade", EU, Verdict.MAY_NOT),  # marmalade is citrus
        ("Raspberry preserve", ENGLAND, Verdict.MAY),  # not reserved: Hampshire Trading Standards
        ("Raspberry reduced sugar jam", ENGLAND, Verdict.MAY_NOT),  # 62 %, most 50 %
        ("Raspberry curd", ENGLAND, Verdict.NOT_KNOWN),  # reserved, its figures not held
        ("Raspberry preserves", US, Verdict.MAY_NOT),  # as jam: 40 to 60, least 47 to 55
        ("Raspberry conserve", CODEX, Verdict.MAY),  # must meet jam: CXS 296-2009, 1.2
        ("Raspberry fruit spread", EU, Verdict.MAY),
    ],
)
def test_the_longest_reserved_word_in_a_name_decides(name: str, place: str, allowed: Verdict) -> None:
    mix = preserve({"raspberry": 40}, solids=0.62)
    assert name_allowed(mix, name, place, BEFORE).verdict is allowed


def test_every_finding_defers_to_the_law_and_names_its_sources() -> None:
    for found in names_allowed(preserve({"strawberry": 40, "redcurrant": 10}), AFTER):
        assert found.advice == ADVICE
        assert ADVICE in str(found)
        assert found.ask in str(found)
        assert all(check.source in str(found) for check in found.checks)
        assert found.verified or "not verified" in str(found)


def test_no_two_acts_of_a_place_are_in_force_on_a_day() -> None:
    for act in acts():
        for day in (act.start, act.end or AFTER):
            places = [other.jurisdiction for other in acts_on(day)]
            assert len(places) == len(set(places))
    assert acts_on(date(1970, 1, 1)) == ()


def test_a_place_that_is_not_held_is_an_error() -> None:
    with pytest.raises(ValueError, match="allowed: European Union, England"):
        name_allowed(preserve({"strawberry": 40}), "jam", "Atlantis", AFTER)
