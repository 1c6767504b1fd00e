"""Random but plausible farms for benchmarks, as texts of scenario folders; a name has its own.

Everything is invented. A season is the sum of one bell of picks for each fruit; the kitchen's capacity is
what its pans cook in a day from opening to closing, and *glut* how many times that the days of its highest
week bring. Sizes: S 7 days, M 14, L 84 days of picking, XL 84 days of picking and 182 of running the freezer
down. Families: ``plain``; ``cooks`` has one cook for all pans; ``freezer`` one that is full within days.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from scheduler.domain.scenario import Situation
from scheduler.intake import read_scenario

START = date(2026, 6, 1)
FRUITS = (
    # name, letter, colour, solids, loss, kg/h, sell, peak, cook days, table, kitchen, months, kg a litre
    ("strawberry", "S", "#d6283b", 0.08, 0.08, 18, 4, 3.5, 7, 7.0, 2.4, 10, 0.50),
    ("raspberry", "R", "#b0246a", 0.10, 0.03, 24, 2.5, 2.5, 5, 9.0, 3.4, 12, 0.48),
    ("blackcurrant", "B", "#3b1f4f", 0.13, 0.05, 15, 8, 7, 12, 6.5, 3.0, 12, 0.55),
    ("gooseberry", "G", "#7f9c2a", 0.09, 0.06, 10, 14, 12, 21, 6.0, 2.2, 12, 0.55),
    ("redcurrant", "C", "#e0452f", 0.11, 0.06, 15, 8, 7, 12, 6.5, 2.8, 12, 0.55),
    ("blackberry", "K", "#2f1b45", 0.10, 0.03, 22, 3, 3, 6, 8.0, 3.0, 12, 0.50),
    ("loganberry", "L", "#8c1d3f", 0.10, 0.03, 20, 2.5, 2.5, 5, 9.0, 3.6, 12, 0.48),
    ("blueberry", "U", "#41558f", 0.12, 0.02, 26, 12, 10, 18, 11.0, 4.0, 12, 0.58),
)
LIKE = {"redcurrant": "blackcurrant", "loganberry": "raspberry"}
PANS = ((20, 40), (15, 32), (15, 32), (12, 30), (20, 40), (9, 28))
PEOPLE = (
    ("Aoife", "prepare cook fill", 18.0),
    ("Brendan", "prepare cook", 17.0),
    ("Ciara", "prepare fill", 15.5),
    ("Donal", "prepare cook fill", 15.0),
    ("Eimear", "prepare fill", 15.0),
    ("Fionn", "prepare fill", 14.8),
)
KG_A_DAY_AND_LITRE = 1.9
"""Prepared fruit that a litre of pan cooks in eight hours: four batches at half full, with their sugar."""


@dataclass(frozen=True, slots=True)
class Size:
    """How large a farm is: days in all, days of picking, and counts of fruits, pans and rings, people."""

    days: int
    picking: int
    fruits: int
    pans: int
    people: int


SIZES = {
    "S": Size(7, 7, 3, 3, 3),
    "M": Size(14, 14, 5, 4, 5),
    "L": Size(84, 84, 8, 6, 6),
    "XL": Size(266, 84, 8, 6, 6),
}
FAMILIES = ("plain", "cooks", "freezer")


@dataclass(frozen=True, slots=True)
class Farm:
    """A farm by its name; ``size`` is one of ``SIZES``, or ``own`` says how large a farm of that name is."""

    size: str
    glut: float
    seed: int
    family: str = "plain"
    own: Size | None = None

    @property
    def name(self) -> str:
        return f"{self.size}-{self.family}-{self.glut}-{self.seed}"

    @property
    def how_large(self) -> Size:
        return self.own or SIZES[self.size]

    def texts(self) -> dict[str, str]:
        """File name → text of a scenario folder."""
        rng = Random(f"{self.size} {self.glut} {self.seed} {self.family}")
        return _Drawing(self.how_large, self.glut, self.family, rng).texts()


def read(name: str, texts: dict[str, str]) -> Situation:
    """Read the texts of a scenario folder of that name."""
    with TemporaryDirectory() as place:
        folder = Path(place) / name
        folder.mkdir()
        for file, text in texts.items():
            (folder / file).write_text(text, encoding="utf-8")
        return read_scenario(folder)


class _Drawing:
    """One farm while it is drawn."""

    def __init__(self, size: Size, glut: float, family: str, rng: Random) -> None:
        self.size, self.glut, self.family, self.rng = size, glut, family, rng
        self.days = [START + timedelta(days=n) for n in range(size.days)]
        self.fruits = FRUITS[: size.fruits]
        self.pans = PANS[: size.pans]
        self.kg_a_day = KG_A_DAY_AND_LITRE * sum(litres for litres, _ in self.pans)
        self.picks = self._picks()
        self.recipes: list[tuple[str, ...]] = [(name,) for name, *_ in self.fruits]
        self.recipes += [(a[0], b[0]) for a, b in zip(self.fruits[::2], self.fruits[1::2], strict=False)]

    def _picks(self) -> dict[tuple[int, str], float]:
        """kg of each fruit by day, scaled so that the highest week brings ``glut`` times the capacity."""
        rng, size = self.rng, self.size
        bells = {}
        for n, (name, *_) in enumerate(self.fruits):
            middle = (n + 0.5 + rng.uniform(-0.3, 0.3)) * size.picking / len(self.fruits)
            wide = max(4.0, size.picking / len(self.fruits) * rng.uniform(0.8, 1.4))
            high = rng.uniform(0.6, 1.4)
            for day in range(size.picking):
                kg = high * math.exp(-(((day - middle) / wide) ** 2)) * rng.uniform(0.7, 1.3)
                bells[day, name] = kg
        week = min(7, size.picking)
        by_day = [sum(kg for (day, _), kg in bells.items() if day == d) for d in range(size.picking)]
        highest = max(sum(by_day[d : d + week]) for d in range(size.picking - week + 1))
        share = self.glut * self.kg_a_day * week / highest
        return {key: round(kg * share, 1) for key, kg in bells.items() if kg * share >= 0.5}

    def texts(self) -> dict[str, str]:
        return {
            "kitchen.toml": self._kitchen(),
            "recipes.toml": self._recipes(),
            "fruits.csv": self._fruits(),
            "picks.csv": self._pick_rows(),
            "lots.csv": "lot,fruit,grade,kg,place,picked,use_by\n",
            "punnets.csv": self._punnets(),
            "people.csv": "person,skills,pay,overtime_pay,hours_week\n" + self._people(),
            "shifts.csv": self._shifts(),
            "orders.csv": self._orders(),
            "store.csv": "good,unit,on_hand,price,lead_days\nsugar,kg,100000,1.1,2\n"
            "jar 340 g,each,200000,0.38,2\nlid 63 mm,each,200000,0.09,2\n",
        }

    def _kitchen(self) -> str:
        freezer = self.kg_a_day * (2 if self.family == "freezer" else 6) * (self.size.days / 7) ** 0.5
        rate = self.kg_a_day * (0.15 if self.family == "freezer" else 0.4)
        lines = [
            "schema = 1", 'farm = "Kilbrack"', 'kitchen_id = "bench"', 'currency = "EUR"',
            f"start = {START}", f"days = {self.size.days}",
            '[kitchen]\nopen = "08:00"\nclose = "16:00"\naltitude_m = 60\nroom_c = 21\nheatproof_places = 2',
        ]  # fmt: skip
        for n, (litres, wide) in enumerate(self.pans, 1):
            lines.append(f'[[pan]]\nname = "pan {n}"\nlitres = {litres}\ndiameter_cm = {wide}\nfill = 0.5')
            lines.append(f'[[ring]]\nname = "ring {n}"\nheat = "gas"\nkw = 6.0\nlargest_pan_cm = 42')
        lines += [
            f"[jar_oven]\njars = {40 * len(self.pans)}",
            f"[chiller]\nkg = {round(3 * self.glut * self.kg_a_day)}\ncelsius = 3",
            f"[freezer]\nkg = {freezer:.0f}\nlitres = {2.6 * freezer:.0f}\nfreeze_kg_per_day = {rate:.1f}",
            "[potting]\nfillers = 2\njars_per_filler_hour = 150\nkeep_hot = true",
            "[habits]\nfill_steps = [0.6, 1.0]\npans_per_cook = 2\npeople_while_boiling = 2",
            "[prices]\ngas_price_kwh = 0.12\nelectricity_price_kwh = 0.31",
        ]
        return "\n".join(lines) + "\n"

    def _recipes(self) -> str:
        tables = []
        for mix in self.recipes:
            usual = 5 * self.kg_a_day * self.size.picking / len(self.recipes)
            most = round(usual * self.rng.uniform(0.7, 1.5))
            tables.append(
                f'[[recipe]]\nname = "{" and ".join(mix)} jam"\nsugar_per_kg = 1.0\nfinal_solids = 0.65\n'
                f"ph = 3.2\nfrozen_share = 1\nlongest_boil_minutes = 60\n"
                f'jar = "jar 340 g"\nlid = "lid 63 mm"\njar_kg = 0.34\nmost_jars = {most}'
            )
            band = "" if len(mix) == 1 else "\nlow = 0.3\nhigh = 0.7"
            tables += [f'[[recipe.fruit]]\nfruit = "{name}"{band}' for name in mix]
        return "\n".join(tables) + "\n"

    def _fruits(self) -> str:
        head = (
            "fruit,letter,colour,solids,preparation_loss,prepare_kg_per_hour,sell_days,peak_days,cook_days,"
            "keeps_like,table_value,kitchen_value,wanted_later_kg,freezer_months,frozen_kg_per_litre\n"
        )
        wanted = 0 if self.size.days > self.size.picking else round(2 * self.kg_a_day / len(self.fruits), 1)
        rows = (
            f"{name},{letter},{colour},{solids},{loss},{pace},{sell},{peak},{cook},{LIKE.get(name, name)},"
            f"{table},{cooking},{wanted},{months},{dense}\n"
            for name, letter, colour, solids, loss, pace, sell, peak, cook, table, cooking, months, dense
            in self.fruits
        )  # fmt: skip
        return head + "".join(rows)

    def _pick_rows(self) -> str:
        rows = ["date,fruit,grade,kg\n"]
        for (day, name), kg in sorted(self.picks.items()):
            table = round(kg * self.rng.uniform(0.6, 0.8), 1)
            rows.append(f"{self.days[day]},{name},table,{table}\n")
            rows.append(f"{self.days[day]},{name},kitchen,{round(kg - table, 1)}\n")
        return "".join(rows)

    def _punnets(self) -> str:
        rows = ["date,fruit,kg\n"]
        for (day, name), kg in sorted(self.picks.items()):
            weekend = 1.6 if self.days[day].weekday() >= 5 else 0.8
            wanted = round(kg / self.glut * 0.35 * weekend * self.rng.uniform(0.6, 1.2), 1)
            if wanted:
                rows.append(f"{self.days[day]},{name},{wanted}\n")
        return "".join(rows)

    def _people(self) -> str:
        rows = []
        for n, (name, skills, pay) in enumerate(PEOPLE[: self.size.people]):
            other = self.family == "cooks" and n > 0
            can = skills.replace(" cook", "") if other else skills
            rows.append(f"{name},{can},{pay},{1.5 * pay},44\n")
        return "".join(rows)

    def _shifts(self) -> str:
        """Six days a week in the picking season; two people, two days a week after it."""
        rows = ["date,person,start,end,overtime_minutes\n"]
        for n, day in enumerate(self.days):
            for p, (name, *_) in enumerate(PEOPLE[: self.size.people]):
                picking = n < self.size.picking
                if picking and day.weekday() != p % 7:
                    rows.append(f"{day},{name},08:00,15:00,60\n")
                elif not picking and p in (0, 2, 3) and day.weekday() in (1, 3):
                    rows.append(f"{day},{name},08:00,13:00,0\n")
        return "".join(rows)

    def _orders(self) -> str:
        """One order every other day or so; in all six tenths of what the pans could fill in the season."""
        rows = ["order,customer,recipe,jars,due,price,weight\n"]
        last = self.size.days - 1
        count = max(3, self.size.days // 2)
        jars = 0.6 * 4.5 * self.kg_a_day * self.size.picking / count
        for n in range(1, count + 1):
            mix = self.rng.choice(self.recipes)
            due = self.days[min(last, round(1 + (last - 1) * n / count))]
            asked = max(6, round(jars * self.rng.uniform(0.4, 1.6)))
            price = round(self.rng.uniform(3.6, 4.6), 2)
            weight = self.rng.choice((1, 1, 2))
            rows.append(f"O-{n},shop,{' and '.join(mix)} jam,{asked},{due},{price},{weight}\n")
        return "".join(rows)
