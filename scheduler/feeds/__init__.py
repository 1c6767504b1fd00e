"""Calendar feeds: a plan's work, deliveries and order dates for the calendars that people already use."""

from scheduler.feeds.publishing import Changes, publish, would_change
from scheduler.feeds.store import Store

__all__ = ["Changes", "Store", "publish", "would_change"]
