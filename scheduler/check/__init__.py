"""The auditor: recomputes every rule from a situation and a plan, with its own arithmetic."""

from scheduler.check.auditing import audit
from scheduler.check.finding import Finding

__all__ = ["Finding", "audit"]
