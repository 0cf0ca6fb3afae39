"""From a packet to its site: which pages there are, what each is called, and in which order they are read."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from generator.drawing.signs import sign
from generator.packet.records import Control, Packet, RowSheet
from generator.site import findable
from generator.site.markup import render
from generator.site.siteplan import Card, PageFragment, SearchEntry, Section, SitePlan, Stamp

_CALCULATIONS = "How figures came about"
_ROW_SECTIONS = {
    "confirm": "Confirm before anything moves",
    "settings": "Settings",
    "programs": "Programs",
    "diagram": "Where the welds are",
    "setup": "Set up",
    "prove": "Prove before the run",
    "faults": "When a fault shows",
}


def plan_site(packet: Packet, control: Control) -> SitePlan:
    """Return the whole site of ``packet`` as document control ``control`` has it today."""
    pages = tuple(_pages(packet, control))
    return SitePlan(
        slug=packet.head.slug,
        title=f"{packet.head.number} {packet.head.title}",
        stamp=stamp_of(packet, control),
        pages=(*pages, _whole(pages)),
        card=_card(packet),
        files={f"assets/signs/{code}.svg": sign(code).encode() for code in _sign_codes(packet)},
    )


def stamp_of(packet: Packet, control: Control) -> Stamp:
    """Return what page heads and sheet feet say of ``packet`` under ``control``."""
    parts = (
        f"superseded by {control.superseded_by}" if control.superseded_by else "",
        f"from {control.effective_from}" if control.effective_from else "",
        f"approved by {control.approver}" if control.approver else "",
    )
    detail = ", ".join(part for part in parts if part)
    return Stamp(packet.head.number, control.revision, control.status, detail, control.digest[:12])


def row_page(row: RowSheet) -> str:
    """Return the file of a row's page."""
    return f"row-{row.number}.html"


def figures_page(row: RowSheet) -> str:
    """Return the file of a row's calculation page."""
    return f"row-{row.number}-figures.html"


def _pages(packet: Packet, control: Control) -> Iterator[PageFragment]:
    yield _glance(packet, control)
    yield _changeover(packet)
    yield _safety(packet)
    for row in packet.rows:
        yield _row(packet, row)
    yield _start(packet)
    yield _inspection(packet)
    for row in packet.rows:
        yield _figures(packet, row)
    yield _sources(packet, control)


def _glance(packet: Packet, control: Control) -> PageFragment:
    html = _html("glance", packet=packet, control=control)
    return PageFragment("index.html", "Order at a glance", "At a glance", html, search=findable.found_in_order(packet))


def _changeover(packet: Packet) -> PageFragment:
    html = _html("changeover", packet=packet)
    previous = packet.changeover.previous_order if packet.changeover else ""
    entry = SearchEntry("Changeover", f"What to change from order {previous} and what stays" if previous else "")
    return PageFragment("changeover.html", "Changeover", "Changeover", html, search=(entry,))


def _safety(packet: Packet) -> PageFragment:
    html = _html("safety", packet=packet)
    return PageFragment("safety.html", "Safety", "Safety", html, search=findable.found_in_safety(packet.callouts))


def _row(packet: Packet, row: RowSheet) -> PageFragment:
    return PageFragment(
        row_page(row),
        f"Row {row.number}: {row.name}",
        f"Row {row.number} {row.name}",
        _html("row", packet=packet, row=row),
        sheet=f"Row {row.number} of {len(packet.rows)}: {row.name}",
        search=findable.found_in_row(row),
        sections=tuple(Section(f"{row.key}-{key}", title) for key, title in _ROW_SECTIONS.items()),
    )


def _start(packet: Packet) -> PageFragment:
    html = _html("start", packet=packet)
    entries = (
        SearchEntry("Start", "Everyone out, gate, reset from outside, start, watch", "start-steps"),
        SearchEntry("Due during the run", ". ".join(event.what for event in packet.run.events), "run-events"),
    )
    return PageFragment("start.html", "Start and run", "Start and run", html, search=entries)


def _inspection(packet: Packet) -> PageFragment:
    html = _html("inspection", packet=packet)
    text = ". ".join(f"{line.what}: {line.accept}" for line in packet.inspections)
    return PageFragment("inspection.html", "Inspection", "Inspection", html, search=(SearchEntry("Inspection", text),))


def _figures(packet: Packet, row: RowSheet) -> PageFragment:
    title = f"Row {row.number}: how its figures came about"
    return PageFragment(
        figures_page(row),
        title,
        f"Row {row.number} figures",
        _html("figures", packet=packet, row=row),
        group=_CALCULATIONS,
        search=findable.found_in_figures(row),
    )


def _sources(packet: Packet, control: Control) -> PageFragment:
    html = _html("sources", packet=packet, control=control)
    entries = findable.found_in_sources(packet.tables, packet.formulas)
    return PageFragment("sources.html", "Sources", "Sources", html, search=entries)


def _whole(pages: tuple[PageFragment, ...]) -> PageFragment:
    """Return all pages in reading order as one, for paper; the search leaves it out."""
    bodies = Markup().join(Markup(page.html) for page in pages)  # noqa: S704 - each was rendered with escaping
    return PageFragment(
        "packet.html", "The whole packet", "The whole packet, to print", render("whole.html", bodies=bodies)
    )


def _html(template: str, **context: object) -> str:
    return render(f"{template}.html", row_page=row_page, figures_page=figures_page, **context)


def _card(packet: Packet) -> Card:
    head = packet.head
    rows = tuple(f"Row {row.number}: {row.process_name}, {_programs(row)}" for row in packet.rows)
    return Card(head.title, f"{head.quantity} × {head.part_number} {head.part_name}, due {head.due}", rows)


def _programs(row: RowSheet) -> str:
    return " and ".join(f"{program.arm} {program.number}" for program in row.programs)


def _sign_codes(packet: Packet) -> list[str]:
    return sorted({code for callout in packet.callouts for code in callout.signs})
