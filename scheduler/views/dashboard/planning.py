"""The process that plans for the dashboard: ``python -m scheduler.views.dashboard.planning RUN_FOLDER``."""

from __future__ import annotations

import json
import sys
import threading
import time
import traceback
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from scheduler.curve import make_curve
from scheduler.errors import MaslinError
from scheduler.intake import read_scenario
from scheduler.languages import message
from scheduler.plan_json import to_json
from scheduler.plan_rows import Plan
from scheduler.planner import Progress, Settings, make_plan, with_crates
from scheduler.views.dashboard.made_from import keep_files
from scheduler.views.files import write_whole

_CHANGED = message("The scenario's files changed just now. Press Plan again to plan what they say.")
_UNKNOWN = "Planning failed by a fault of this program, not of your figures. Its last words are in {log}."


def main(folder: Path) -> int:
    """Plan what ``order.json`` in ``folder`` asks and say how it ended in ``end.json``."""
    order = json.loads((folder / "order.json").read_text(encoding="utf-8"))
    began = time.monotonic()
    threading.Thread(target=_pulse, args=(folder / "alive",), daemon=True).start()
    try:
        said = _plan(folder, order)
    except MaslinError as error:
        said = str(error).splitlines()
    except Exception:
        traceback.print_exc()
        said = [_UNKNOWN.format(log=folder / "log.txt")]
    end = {"state": "failed" if said else "done", "said": said, "seconds": time.monotonic() - began}
    write_whole(folder / "end.json", json.dumps(end))
    return 1 if said else 0


def _plan(folder: Path, order: dict[str, Any]) -> Sequence[str]:
    """Plan and keep the plan, or the curve; returns what went wrong, if anything."""
    situation = read_scenario(Path(order["scenario"]))
    if situation.input_hash != order["hash"]:
        return [_CHANGED]
    keep_files(Path(order["scenario"]), folder.parent)
    with (folder / "progress.jsonl").open("a", encoding="utf-8") as out:

        def tell(step: Progress) -> None:
            out.write(json.dumps(asdict(step)) + "\n")
            out.flush()

        settings, stop = Settings(seconds=float(order["seconds"])), (folder / "stop").exists
        if order.get("points"):
            plans = make_curve(situation, int(order["points"]), settings, tell, stop)
            keep_curve(plans, folder.parent / "curve.json")
        else:
            made = make_plan(situation, settings, tell, stop)
            keep(with_crates(situation, made, stop), folder.parent / "plan.json")
    return []


def keep(plan: Plan, path: Path) -> None:
    """Replace the kept plan whole."""
    write_whole(path, to_json(plan))


def keep_curve(plans: Sequence[Plan], path: Path) -> None:
    """Replace the kept curve whole: a list of the texts of its plans."""
    write_whole(path, json.dumps([to_json(plan) for plan in plans]))


def _pulse(path: Path) -> None:
    """Show every second that the process lives. It ends with the process, or with its folder."""
    while path.parent.is_dir():
        path.touch()
        time.sleep(1.0)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
