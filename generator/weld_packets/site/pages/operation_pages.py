"""The pages of one operation, in the order in which its setter needs them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Entered
from weld_packets.site.pages import search_index
from weld_packets.site.pages.site_plan import BarKey, PageFragment

_Html = Callable[..., str]
_ON_EVERY_PAGE = ("device_set_up", "judgement", "proof", "device_notices")


class OperationPageKind(NamedTuple):
    """One page of every operation: the end of its file's name, its template, its title, and its own scripts."""

    name: str
    template: str
    title: str
    scripts: tuple[str, ...] = ()


CARD = OperationPageKind("", "card", "Setter's card", ("outcomes", "ticks", "expiry"))
READ_BACK = OperationPageKind("read-back", "read_back", "Read-back", ("read_back",))
SET_UP = OperationPageKind("set-up", "set_up", "Set up", ("name_form", "ticks", "qualified"))
PROVE_OUT = OperationPageKind("prove-out", "prove_out", "Prove-out", ("name_form", "ticks"))
MAP = OperationPageKind("map", "map", "Weld map")
TROUBLESHOOTING = OperationPageKind("troubleshooting", "troubleshooting", "Troubleshooting")
CALCULATIONS = OperationPageKind("calculations", "calculations", "Calculations")
DETAILS = OperationPageKind("details", "details", "Programs and welding details")
QUALIFICATION = OperationPageKind("qualification", "qualification", "Procedure and qualification", ("expiry",))
WPS = OperationPageKind("wps", "wps", "Procedure specification (WPS)")
RECORD = OperationPageKind("record", "record", "Set-up record", ("results", "qualified", "saved_files", "record_file"))

_KINDS = (CARD, READ_BACK, SET_UP, PROVE_OUT, MAP, TROUBLESHOOTING, DETAILS, CALCULATIONS, QUALIFICATION, WPS, RECORD)
_IN_BAR = (READ_BACK, SET_UP, PROVE_OUT, MAP)
_RANKS = {CARD: 0, SET_UP: 1, MAP: 2, PROVE_OUT: 4, DETAILS: 4, CALCULATIONS: 7, QUALIFICATION: 6, WPS: 6}
"""What is set and fitted is looked for before where it is, and where it is before how a value came about."""


def operation_page(operation: OperationSheet, kind: OperationPageKind = CARD) -> str:
    """Return the file of one of an operation's pages; its setter's card is the first."""
    return f"operation-{operation.number}{'-' if kind.name else ''}{kind.name}.html"


class EntryPage(NamedTuple):
    """Where something is entered, and the words of the link that leads there."""

    href: str
    words: str


def entry_page(operation: OperationSheet, enter: Entered) -> EntryPage:
    """Return where the entries of a task are made."""
    if enter in ("settings", "readings"):
        return EntryPage(operation_page(operation, READ_BACK), f"Read back {enter}")
    place = "record-first-off" if enter == "first-off" else "record-results"
    return EntryPage(f"{operation_page(operation, RECORD)}#{place}", "Enter the results")


def operation_pages(packet: Packet, operation: OperationSheet, html: _Html, data: str) -> Iterator[PageFragment]:
    """Yield the pages of ``operation``; ``html`` fills a template, ``data`` is what the scripts of all of them know."""
    searched = search_index.operation_entries(operation)
    for kind in _KINDS:
        yield PageFragment(
            operation_page(operation, kind),
            f"Operation {operation.number}: {operation.name if kind is CARD else kind.title}",
            kind.title,
            html(f"operation/{kind.template}", operation=operation),
            sheet=(
                f"{kind.title}, operation {operation.number} of {len(packet.operations)}: {operation.name}, "
                f"cell {operation.cell}, {operation.process} {operation.process_name}"
            ),
            group=f"Operation {operation.number}: {operation.name}",
            search=searched.get(kind.name, ()),
            bar=tuple(_bar(operation, kind)),
            scripts=script_paths(*_ON_EVERY_PAGE, *kind.scripts),
            part=operation_page(operation).removesuffix(".html"),
            has_strip=True,
            rank=_RANKS.get(kind, 3),
            data=data if kind is CARD else "",
        )


def script_paths(*names: str) -> tuple[str, ...]:
    """Return where own scripts are inside a site; they run in this order."""
    return tuple(f"assets/{name}.js" for name in names)


def _bar(operation: OperationSheet, shown: OperationPageKind) -> Iterator[BarKey]:
    """Yield what one tap leads to; the card takes the place of the page itself, or the first place on a page beside."""
    away = shown if shown in _IN_BAR else READ_BACK
    for kind in _IN_BAR:
        led = CARD if kind is away and shown is not CARD else kind
        yield BarKey(led.title, operation_page(operation, led), led.name)
