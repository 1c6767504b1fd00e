"""Benchmarks: the planner beside others on the same farms; see ``python -m tests.bench --help``.

``instances/`` holds the farms, drawn before anything was tuned on them, ``draw`` writes them again. ``run``
measures, ``report`` shows, ``grow`` lets one number of a farm grow. ``gate`` keeps the figures that do not
depend on the machine.
"""
