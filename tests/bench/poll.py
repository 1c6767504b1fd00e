"""How fast feeds answer while a plan is being solved: ``python -m tests.bench.poll [PEOPLE] [MINUTES]``.

Starts the dashboard with so many people's calendars of the glut week, plans that week in another process on
all cores, and has every phone ask once a minute, evenly spread: the first time for the calendar, then for
news. Prints how many requests failed, and the median, 95th in 100 and longest time of an answer.
"""

from __future__ import annotations

import http.client
import os
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from scheduler.domain.scenario import Situation
from scheduler.feeds import Store, publish
from scheduler.feeds.entry import of_person
from scheduler.intake import read_scenario
from scheduler.plan_rows import Plan
from scheduler.planner import Settings, make_plan

ROOT = Path(__file__).parents[2]
GLUT = ROOT / "scenarios" / "glut-week"


def crowded(plan: Plan, situation: Situation, people: int) -> tuple[Plan, Situation]:
    """The same work done by as many people as asked, each a namesake of one of the farm's."""
    farm = situation.scenario
    alike = {
        person.name: [f"{person.name} {n}" for n in range(i, people, len(farm.people))]
        for i, person in enumerate(farm.people)
    }
    stages = tuple(
        replace(stage, people=tuple(other for name in stage.people for other in alike[name]))
        for stage in plan.stages
    )
    shifts = tuple(replace(shift, person=other) for shift in plan.shifts for other in alike[shift.person])
    hands = tuple(replace(person, name=other) for person in farm.people for other in alike[person.name])
    return (
        replace(plan, stages=stages, shifts=shifts),
        replace(situation, scenario=replace(farm, people=hands)),
    )


@contextmanager
def served(home: Path) -> Iterator[int]:
    """The dashboard on a free port, its plans in ``home``."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    command = [sys.executable, "-m", "streamlit", "run", "app.py", "--server.port", str(port)]
    server = subprocess.Popen(command, cwd=ROOT, env=os.environ | {"MASLIN_PLANS": str(home)})
    try:
        while True:
            try:
                ask(port, "/_stcore/health", "")
                break
            except OSError:
                time.sleep(0.2)
        yield port
    finally:
        server.terminate()
        server.wait(30)


def ask(port: int, path: str, tag: str) -> tuple[int, str, float]:
    """Status, entity tag and seconds of one request, connecting included."""
    began = time.perf_counter()
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        connection.request("GET", path, headers={"If-None-Match": tag} if tag else {})
        answer = connection.getresponse()
        answer.read()
        return answer.status, answer.headers.get("ETag", ""), time.perf_counter() - began
    finally:
        connection.close()


def follow(port: int, path: str, offset: float, minutes: int) -> list[tuple[bool, bool, float]]:
    """A phone that asks once a minute: whether each answer was right, whether it was news, seconds."""
    began, tag, found = time.monotonic(), "", []
    for minute in range(minutes):
        time.sleep(max(0.0, began + 60 * minute + offset - time.monotonic()))
        try:
            status, new, seconds = ask(port, path, tag)
        except OSError:
            found.append((False, not tag, 30.0))
            continue
        found.append((status == (304 if tag else 200), not tag, seconds))
        tag = new
    return found


def main(people: int = 200, minutes: int = 3) -> None:
    """Poll, and print what was measured."""
    situation = read_scenario(GLUT)
    plan, crowd = crowded(make_plan(situation, Settings("habit")), situation, people)
    with tempfile.TemporaryDirectory() as home:
        store = Store(Path(home), situation.scenario.kitchen_id)
        began = time.perf_counter()
        changes = publish(plan, crowd, store, datetime.now(UTC))
        print(f"published {changes.new} entries in {time.perf_counter() - began:.1f} s")
        paths = [f"/feeds/{store.renew(of_person(one.name))}.ics" for one in crowd.scenario.people]
        cores = os.cpu_count() or 1
        solve = [sys.executable, "-c", "from scheduler.cli import main; main()", "plan", str(GLUT)]
        solve += ["--seconds", str(60 * minutes), "--workers", str(cores), "--seed"]
        with served(Path(home)) as port, ThreadPoolExecutor(people) as phones:
            began = time.monotonic()
            waits = [
                phones.submit(follow, port, path, 60 * n / people, minutes) for n, path in enumerate(paths)
            ]
            solved = 0
            while time.monotonic() - began < 60 * minutes:
                planner = subprocess.Popen([*solve, str(solved)], stdout=subprocess.DEVNULL, cwd=ROOT)
                while planner.poll() is None and time.monotonic() - began < 60 * minutes:
                    time.sleep(0.2)
                planner.terminate()
                planner.wait(30)
                solved += 1
            answers = [answer for wait in waits for answer in wait.result()]
    for name, kind in (("whole calendar", True), ("no news", False)):
        times = sorted(1000 * seconds for _, whole, seconds in answers if whole is kind)
        if times:
            print(
                f"{name}: {len(times)} answers, median {times[len(times) // 2]:.1f} ms, "
                f"95 in 100 within {times[int(0.95 * len(times))]:.1f} ms, longest {times[-1]:.1f} ms"
            )
    failed = sum(not right for right, _, _ in answers)
    print(f"failed: {failed} of {len(answers)}; plans begun meanwhile: {solved}, on {cores} cores")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
