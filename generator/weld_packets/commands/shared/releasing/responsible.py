"""Who answers for a record, why and from when: options, and what they put into the record."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import timedelta
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from weld_packets import __version__
from weld_packets.commands.shared.code_version import commit_of
from weld_packets.commands.shared.root import NAMED_PATH
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.records.effectivity import UTC_ZONE, read_effective
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.register.register import Register, register_state_text
from weld_packets.revisions.register.signing import Signer
from weld_packets.revisions.status.people import People
from weld_packets.revisions.status.release_rules import CLOCK_ALLOWANCE, Signatures
from weld_packets.revisions.store.clock import machine_clock, moment_now
from weld_packets.revisions.store.keys import load_signer
from weld_packets.revisions.store.releasing import Published
from weld_packets.sources.folders import INSTRUCTIONS

if TYPE_CHECKING:
    from weld_packets.model.tables.plant import Plant
    from weld_packets.sources.tables.tables import Workspace


@dataclass(frozen=True)
class Responsible:
    """Who answers for a record, why, from when; and the key to sign with, where one is named."""

    author: str
    reason: str
    effective: str = ""
    approver: str = ""
    key: str = ""
    private: Path | None = None

    def signatures_today(self, workspace: Workspace) -> Signatures:
        """Return what a record holds that has no day of its own: it holds from the day on which it is made."""
        from weld_packets.plant.people import people_of  # noqa: PLC0415 - tables, which a list has no need of

        today = replace(self, effective=moment_now().date().isoformat())
        return today.signatures(workspace.approved.plant, people_of(workspace))

    def signatures(self, plant: Plant, people: People | None) -> Signatures:
        """Return what the record holds of it, by the plant's rules and time zone; names as its list has them."""
        return Signatures(
            author=_as_listed(self.author, people),
            approver=_as_listed(self.approver, people),
            reason=self.reason,
            effective=read_effective(self.effective, plant.time_zone or UTC_ZONE),
            recorded=moment_now(),
            code=Code(version=__version__, commit=commit_of()),
            **_rules_of(plant, people),
        )

    def signer(self, root: Path) -> Signer | None:
        """Return what signs the record, None where no key is named."""
        return signer_of(root, self.key, self.private)


def _as_listed(name: str, people: People | None) -> str:
    """Return a name as the plant's list spells it."""
    return people.as_listed(name) if people else name


def _rules_of(plant: Plant, people: People | None) -> dict[str, Any]:
    """Return what the plant's tables and this computer's clock say of who may make a record, and when."""
    return {
        "one_person": plant.one_person_may_release,
        "machine_clock": machine_clock(),
        "people": people,
        "must_sign": plant.signatures == "required",
        "clock_allowance": clock_allowance_of(plant),
    }


def clock_allowance_of(plant: Plant) -> timedelta:
    """Return how far a clock may run ahead in a plant."""
    stated = plant.clock_allowance
    return CLOCK_ALLOWANCE if stated is None else timedelta(seconds=float(stated.to("s").m))


def signer_of(root: Path, key: str, private: Path | None) -> Signer | None:
    """Return what signs a record, None where no key is named."""
    return load_signer(root / INSTRUCTIONS, key, private) if private else None


_WHEN = "From when it holds: 2026-12-01, 'part 120' or 'serial LC-0450'."
_NAMED = (
    click.option("--author", required=True, metavar="NAME", help="Who wrote it."),
    click.option("--reason", required=True, metavar="TEXT", help="Why it is made."),
)
_WRITTEN = (*_NAMED, click.option("--effective", required=True, metavar="WHEN", help=_WHEN))
_PROPOSED = (
    click.option("--author", default="", metavar="NAME", help="Who wrote it; left out where it was proposed."),
    click.option("--reason", default="", metavar="TEXT", help="Why it is made; left out where it was proposed."),
    click.option("--effective", default="", metavar="WHEN", help=f"{_WHEN} Left out where it was proposed."),
)
_APPROVED = click.option("--approver", required=True, metavar="NAME", help="Who approved it.")


def signing_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that name a key to sign with."""

    @click.option("--key", default="", metavar="NAME", help="Sign with this key of the plant; needs --private.")
    @click.option("--private", type=NAMED_PATH, metavar="FILE", help="The private key to sign with.")
    @wraps(command)
    def checked(*args: Any, **options: Any) -> Any:
        if bool(options["key"]) != bool(options["private"]):
            raise click.UsageError("--key and --private go together")
        return command(*args, **options)

    return checked


def responsible_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that name who answers for a record; ``command`` takes them as one argument, ``who``."""
    return _with_who(command, (*_WRITTEN, _APPROVED))


def proposing_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that name who proposes a release; ``command`` takes them as one argument, ``who``."""
    return _with_who(command, (*_NAMED, click.option("--effective", default="", metavar="WHEN", help=_WHEN)))


def answering_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that name who approves what may be proposed; ``command`` takes them as one argument, ``who``."""
    return _with_who(command, (*_PROPOSED, _APPROVED))


def naming_options(author: str, approver: str, reason: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Add the options that name who answers for an entry that holds from today, with these texts of their help."""
    texts = (("--author", "NAME", author), ("--approver", "NAME", approver), ("--reason", "TEXT", reason))
    options = [click.option(name, required=True, metavar=metavar, help=text) for name, metavar, text in texts]
    return lambda command: _with_who(command, options)


def _with_who(command: Callable[..., Any], options: Sequence[Callable[[Any], Any]]) -> Callable[..., Any]:
    @signing_options
    @wraps(command)
    def collected(*args: Any, **given: Any) -> Any:
        who = Responsible(**{field.name: given.pop(field.name) for field in fields(Responsible) if field.name in given})
        return command(*args, who=who, **given)

    for option in reversed(options):
        collected = option(collected)
    return collected


def line_to_keep(register: Register) -> str:
    """Return what is printed of the register after a record was made: the line by which `verify` finds a change."""
    return f"keep a copy of this line elsewhere: register {register_state_text(register)}"


def published_lines(published: Published) -> list[str]:
    """Return what is printed of a new record."""
    entry = published.entry
    what = "released" if entry.kind == "release" else "withdrawn"
    file = f"{INSTRUCTIONS}/{entry.path}"
    return [
        f"{entry.order} revision {entry.revision} {what}: {file}, record {short(entry.record_digest)}",
        line_to_keep(published.register),
    ]
