"""Compare built sites with what the records give: each is rendered anew, and every file is compared."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from datetime import date
from functools import cached_property
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from weld_packets.errors import PacketError
from weld_packets.files import plain_content
from weld_packets.revisions.register.integrity import Finding
from weld_packets.revisions.register.register import Register, read_register_state
from weld_packets.revisions.status.clock_behind import behind_problems
from weld_packets.revisions.status.status import end_of_day, zone_of
from weld_packets.revisions.store.files import archive_for, known_orders
from weld_packets.revisions.store.verification import held
from weld_packets.site.build.site_card import read_card
from weld_packets.site.build.verification import built_sites, files_of, list_findings, site_findings
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.folders import INSTRUCTIONS, SITES
from weld_packets.units.zones import midnight

if TYPE_CHECKING:
    from weld_packets.commands.shared.sites.worker import Worker

_BUILT = re.compile(r"These pages were built on ([0-9]{4}-[0-9]{2}-[0-9]{2}); register ([0-9a-f:+ ]+)\.")
_BUILD = "build it anew: packets build --all"
_RESTORE = "restore the register first"
_SET_ASIDE = "set one of the two aside, then build it anew"


class SiteChecks:
    """The checks of all sites below a plant's folder, for one register."""

    def __init__(self, root: Path, register: Register, today: date, uncompared: Collection[str] = ()) -> None:
        """Take the register that was verified, the day, and the orders whose records could not be compared."""
        self._root, self._register, self._today, self._uncompared = root, register, today, uncompared
        self._sites = root / SITES
        self.notes: list[str] = []
        """What could not be compared, once `findings` is through."""
        self._remedy = _BUILD if register.is_whole else _RESTORE
        self._is_short = False

    def findings(self) -> Iterator[Finding]:
        """Yield everything in the sites that is not what records, register and this program give."""
        sites = built_sites(self._sites)
        yield from list_findings(self._sites)
        yield from self._census([site.name for site in sites])
        with TemporaryDirectory(prefix="packets-verify-") as folder:
            for site in (each for each in sites if each.name not in self._uncompared):
                links = list(_links(site))
                yield from links or [*site_findings(site), *self._rendered_anew(site, Path(folder))]

    def _census(self, names: Sequence[str]) -> Iterator[Finding]:
        """Yield the sites that are missing, where any is built or listed, and those that belong to no order."""
        orders = known_orders(self._root / INSTRUCTIONS)
        for name in sorted(set(names) - orders - self._register.by_order.keys() - set(self._uncompared)):
            yield Finding(name, "is the site of no order")
        expected = self._register.by_order.keys() if names or (self._sites / "index.html").exists() else set()
        for name in sorted(expected - set(names)):
            yield Finding(name, f"has no site, or one without its first page; {_BUILD}")

    def _rendered_anew(self, site: Path, folder: Path) -> Iterator[Finding]:
        if site.name in self._register.forks:
            yield Finding(site.name, f"says what was in force before two branches made a record; {_SET_ASIDE}")
            return
        if site.name not in self._register.by_order:
            yield from self._draft_anew(site, folder)
            return
        card = read_card(site) or {}
        if card.get("status") == "draft":
            yield Finding(site.name, f"is a draft, and a revision of this order has been released since; {_BUILD}")
            return
        stated = _stated(site)
        if stated is None:
            yield Finding(
                f"{site.name}/history.html", f"does not say when and from which register it was built; {_BUILD}"
            )
            return
        built, register = stated
        if fault := self._fault_of(site.name, built, register):
            yield Finding(f"{site.name}/history.html", f"{fault}; {self._remedy}")
            return
        yield from self._short_of(site.name, register)
        fingerprint = str(card.get("fingerprint", ""))
        try:
            fresh = self._worker.rendered(site.name, folder, built, register, fingerprint)
        except PacketError as error:
            yield from (Finding(site.name, f"cannot be rendered anew: {problem}") for problem in error.problems)
            return
        yield from self._differences(site, fresh, "the records")

    def _draft_anew(self, site: Path, folder: Path) -> Iterator[Finding]:
        """Compare a draft with what its sources give, where they are those that it was built from."""
        card = read_card(site) or {}
        if card.get("status") != "draft":
            yield Finding(site.name, f"is not a draft, and no revision of this order is released; {_BUILD}")
            return
        if not self._register.is_whole:
            self.notes.append(f"{site.name} is a draft, which may rest on entries that are missing: not compared")
            return
        fingerprint = self._digests.of(site.name)
        if card.get("fingerprint") != fingerprint:
            self.notes.append(
                f"{site.name} is a draft of other sources or another program than are here now: not compared; {_BUILD}"
            )
            return
        try:
            fresh = self._worker.rendered_draft(site.name, folder, fingerprint)
        except PacketError as error:
            yield from (Finding(site.name, f"cannot be rendered anew: {problem}") for problem in error.problems)
            return
        yield from self._differences(site, fresh, "its sources")

    def _fault_of(self, order: str, built: date, register: str) -> str:
        """Return why the pages of an order cannot have been built on a day from a register, empty where they can."""
        state, listed = read_register_state(register), len(self._register.listed)
        is_known = not self._register.is_whole or state[0] > listed or held(self._register, *state)
        if built > self._today or not is_known:
            return "names a day to come or a register that never was"
        end = end_of_day(self._register.of(order), midnight(built, zone_of(self._register.of(order))))
        if state[0] == listed and behind_problems(self._register, end):
            return f"was built on {built}, by a clock that was before the records of its register"
        return ""

    def _short_of(self, name: str, register: str) -> Iterator[Finding]:
        """Yield once that the register holds fewer entries than when a site was built: the newest are missing."""
        records, listed = read_register_state(register)[0], len(self._register.listed)
        if records > listed and self._register.is_whole and not self._is_short:
            self._is_short = True
            message = f"held {records} records when the website of {name} was built, now {listed}; restore it"
            yield Finding("the register", f"{message} from a copy, or with git")

    def _differences(self, site: Path, fresh: Path, given: str) -> Iterator[Finding]:
        here, anew = files_of(site), files_of(fresh)
        differ = sorted(name for name in here.keys() | anew.keys() if here.get(name) != anew.get(name))
        if differ:
            first = f"{site.name}/{differ[0]}"
            more = f", and {len(differ) - 1} more files of this site" if differ[1:] else ""
            yield Finding(first, f"is not what {given} and this program give{more}; {self._remedy}")

    @cached_property
    def _digests(self) -> OrderDigests:
        return OrderDigests(self._root)

    @cached_property
    def _worker(self) -> Worker:
        from weld_packets.commands.shared.sites.worker import Worker  # noqa: PLC0415 - loads all that builds a site

        return Worker(self._root, archive_for(self._register, self._root / INSTRUCTIONS))


def _links(site: Path) -> Iterator[Finding]:
    for path in (site, *sorted(site.rglob("*"))):
        if path.is_symlink():
            yield Finding(
                f"{site.name}/{path.relative_to(site).as_posix()}", "is a link: what it shows is kept elsewhere"
            )


def _stated(site: Path) -> tuple[date, str] | None:
    """Return the day on which a site says that it was built, and the register that it names."""
    try:
        found = _BUILT.search(plain_content(f"{site}/history.html").decode())
        return (date.fromisoformat(found[1]), found[2]) if found else None
    except (OSError, ValueError):
        return None
