"""What is published, to a calendar server: only what differs, and nothing of what others wrote there.

The server's list of tags tells what somebody changed since (RFC 4791, 5.3.4): such an event is read, and left
as it is, and told, until ours changes too; then ours is written over it, and that is told. What somebody
removed stays removed on the same terms.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256

from scheduler.feeds.dav import Changed, Collection, NotTaken, Server
from scheduler.feeds.entry import title
from scheduler.feeds.ics import event_text, says_the_same, sequence_of
from scheduler.feeds.revising import Revision
from scheduler.feeds.store import Published, Sent, Store
from scheduler.views import words

NAMED_AT_MOST = 5
"""Events told one by one; of more only how many."""


@dataclass
class Outcome:
    """What became of a feed's collection: events written anew, over earlier ones, and removed; those that
    somebody changed there, in words; and why it stopped, where it did."""

    feed: str
    new: int = 0
    changed: int = 0
    removed: int = 0
    theirs: list[str] = field(default_factory=list)
    failed: str = ""

    @property
    def well(self) -> bool:
        """Whether the server has all that is published, but for what somebody changed there."""
        return not self.failed

    def lines(self) -> list[str]:
        """``Aoife: 3 events new, 2 changed, 1 removed``, and what else is to be told."""
        sent = f"{self.new} {'event' if self.new == 1 else 'events'} new, {self.changed} changed"
        done = f"{sent}, {self.removed} removed" if self.new + self.changed + self.removed else ""
        stopped = f"not all was sent: {self.failed}" if self.failed else ""
        first = "; ".join(filter(None, [done, stopped])) or "the server has it all"
        more = len(self.theirs) - NAMED_AT_MOST
        rest = [f"And {more} more that somebody changed there."] if more > 0 else []
        return [f"{title(self.feed)}: {first}", *self.theirs[:NAMED_AT_MOST], *rest]


def send(chosen: Mapping[str, str], published: Published, store: Store, server: Server) -> list[Outcome]:
    """Bring the collection of each feed of ``chosen`` up to what is published; what became of each.

    Once the server is gone it is not asked again. Raises InputFaults if the note of what was sent is damaged,
    OSError if the disk refuses.
    """
    outcomes: list[Outcome] = []
    gone = ""
    for feed, name in chosen.items():
        outcome = Outcome(feed, failed=gone)
        outcomes.append(outcome)
        if gone:
            continue
        collection = Collection(server, name)
        known = store.sent().get(collection.address, {})
        own = [each for each in published.revisions if each.entry.feed == feed]
        task = _Task(collection, known, outcome)
        try:
            task.run(own, f"{title(feed)}, {published.farm}", published.time_zone)
        except NotTaken as error:
            outcome.failed = str(error)
            gone = outcome.failed if error.gone else ""
        finally:
            store.write_sent(collection.address, task.known)
    return outcomes


class _Task:
    """One collection brought up to date; ``known`` is what it was sent, and changes with each event."""

    def __init__(self, collection: Collection, known: Mapping[str, Sent], outcome: Outcome) -> None:
        self.collection, self.known, self.outcome = collection, dict(known), outcome

    def run(self, own: Sequence[Revision], name: str, zone: str) -> None:
        there = self.collection.etags()
        if there is None:
            self.collection.make(name)
            there, self.known = {}, {}
        for revision in own:
            self._event(revision, event_text(revision, zone).decode(), there.get(revision.uid))
        wanted = {each.uid for each in own}
        for uid in [uid for uid in self.known if uid not in wanted]:
            self._remove(uid, there.get(uid))

    def _event(self, revision: Revision, text: str, etag: str | None) -> None:
        uid, digest = revision.uid, sha256(text.encode()).hexdigest()
        was = self.known.get(uid)
        ours_changed = was is None or was.digest != digest
        if etag is None:
            if ours_changed:
                self._put(revision, text, digest, None)
            else:
                self._tell(revision, "removed there by somebody; it stays so until the plan changes it")
        elif was is not None and was.etag and was.etag == etag:
            if ours_changed:
                self._put(revision, text, digest, etag)
        else:
            theirs = self.collection.read(uid)
            if says_the_same(theirs, text):
                self.known[uid] = Sent(digest, etag)
            elif was is None and _is_earlier(theirs, revision):
                self._put(revision, text, digest, etag)
            elif ours_changed and was is not None:
                self._put(revision, text, digest, etag)
                if was.etag:
                    self._tell(
                        revision, "changed there by somebody; the plan changed it, too, and stands now"
                    )
            else:
                self._tell(revision, "changed there by somebody; it stays so until the plan changes it")

    def _put(self, revision: Revision, text: str, digest: str, etag: str | None) -> None:
        uid = revision.uid
        try:
            new = self.collection.put(uid, text, etag)
        except Changed:
            if not says_the_same(self.collection.read(uid), text):
                self._tell(revision, "changed there by somebody just now; send once more")
                return
            new = ""  # an earlier try was kept and its answer lost
        self.known[uid] = Sent(digest, new)
        if etag is None:
            self.outcome.new += 1
        else:
            self.outcome.changed += 1

    def _remove(self, uid: str, etag: str | None) -> None:
        """Take away what is published no more, unless somebody has made it their own."""
        was = self.known[uid]
        if etag is not None and was.etag in {"", etag}:
            try:
                self.collection.remove(uid, etag)
                self.outcome.removed += 1
            except Changed:
                pass
        del self.known[uid]

    def _tell(self, revision: Revision, what: str) -> None:
        entry = revision.entry
        self.outcome.theirs.append(f"{entry.summary}, {words.day_name(entry.day)}: {what}.")


def _is_earlier(theirs: str, revision: Revision) -> bool:
    """Whether what lies there is an earlier writing of ours, of which the note is lost."""
    try:
        return sequence_of(theirs) < revision.sequence
    except ValueError:
        return False
