"""Those that plan the same farms: the planner, the habit, and others that take the problem in one piece."""

from __future__ import annotations

from tests.bench.case import Peer
from tests.bench.peers.allocation import allocation_by_cp_sat, allocation_by_highs
from tests.bench.peers.days import days_by_pyjobshop
from tests.bench.peers.monolith import one_model
from tests.bench.peers.planner import by_habit, joined

PEERS: dict[str, Peer] = {
    "planner": joined,
    "habit": by_habit,
    "monolith": one_model,
    "cp-sat allocation": allocation_by_cp_sat,
    "highs allocation": allocation_by_highs,
    "pyjobshop days": days_by_pyjobshop,
}
