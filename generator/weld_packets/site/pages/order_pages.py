"""From a packet to its site: which pages there are, what each is called, and in which order they are read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from weld_packets.drawing.signs import safety_alert, sign
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.programs import program_uses
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Control, Packet
from weld_packets.revisions.queries.proposed import Proposed
from weld_packets.revisions.queries.qualified import resting
from weld_packets.revisions.records.canonical import short
from weld_packets.site.pages import search_index
from weld_packets.site.pages.device_data import form_data
from weld_packets.site.pages.operation_pages import (
    CALCULATIONS,
    DETAILS,
    PROVE_OUT,
    QUALIFICATION,
    RECORD,
    SET_UP,
    WPS,
    entry_page,
    operation_page,
    operation_pages,
    script_paths,
)
from weld_packets.site.pages.revisions.change_bars import ChangeBars
from weld_packets.site.pages.revisions.order_history import RevisionView
from weld_packets.site.pages.revisions.review_page import (
    notice_of_proposed,
    proposed_view,
    review_page,
    review_path,
    with_review,
)
from weld_packets.site.pages.shared_lists import (
    shared_changeover,
    shared_inspections,
    shared_procedures,
    shared_starts,
    steps_beside_inspections,
)
from weld_packets.site.pages.site_plan import BarKey, Card, PageFragment, Qualified, SearchEntry, SitePlan, Stamp
from weld_packets.site.pages.stated import Stated
from weld_packets.site.pages.templating import render
from weld_packets.wording.english import listed
from weld_packets.wording.revisions import document_words

_Html = Callable[..., str]
_BEHIND = "Behind the values"
_ORDER = script_paths("device_set_up", "states")
_CHANGEOVER = script_paths("device_set_up", "name_form", "ticks")
_START = script_paths("device_set_up", "states", "start", "device_notices", "name_form", "ticks")
_RUN = (*_START, *script_paths("run_count", "saved_files", "run_file"))


def plan_draft_site(packet: Packet, control: Control, proposed: Sequence[Proposed] = ()) -> SitePlan:
    """Return the whole site of a ``packet`` that has no other revision, as document control ``control`` has it.

    What is ``proposed`` is complete in its folder, with a page for the approver.
    """
    review = review_path(1) if proposed else ""
    return SitePlan(
        slug=packet.head.slug,
        title=site_title(packet),
        stamp=stamp_of(packet, control),
        pages=(*pages_of_revision(RevisionView(packet, control, review=review)), *_proposed_pages(proposed)),
        card=with_review(card_of(packet), proposed),
        shared=dict(sign_files([packet, *(each.packet for each in proposed)])),
    )


def _proposed_pages(proposed: Sequence[Proposed]) -> Iterator[PageFragment]:
    for number, each in enumerate(proposed, 1):
        view = proposed_view(each, number)
        yield review_page(each, number)
        yield from (in_folder(page, view) for page in pages_of_revision(view, "../"))


def in_folder(page: PageFragment, view: RevisionView) -> PageFragment:
    """Return a page of a view beside the main one: kept whole, out of the page list and out of the search."""
    return replace(
        page,
        path=f"{view.folder}/{page.path}",
        html=page.html.replace('src="assets/', 'src="../assets/'),
        listed=False,
        search=(),
        stamp=stamp_of(view.packet, view.control),
        notice=notice_of_proposed(view) if view.control.status == "proposed" else None,
    )


def pages_of_revision(view: RevisionView, home: str = "") -> tuple[PageFragment, ...]:
    """Return the pages of one revision in reading order; ``home`` leads from them to the site's first page."""
    forms = [set_up_form(operation) for operation in view.packet.operations]
    return (*_pages(view, home, forms), _whole(view, forms))


def site_title(packet: Packet) -> str:
    """Return the title of an order's site."""
    return f"{packet.head.number} {packet.head.title}"


def stamp_of(packet: Packet, control: Control) -> Stamp:
    """Return what page heads and sheet feet say of ``packet`` under ``control``."""
    detail = document_words(control.superseded_by, control.effective_from, control.approver)
    head = packet.head
    return Stamp(
        head.number,
        control.revision,
        control.status,
        detail,
        short(control.digest),
        head.supervisor,
        risk_assessment=head.risk_assessment,
    )


def _pages(view: RevisionView, home: str, forms: Iterable[SetUpForm]) -> Iterator[PageFragment]:
    packet = view.packet
    stamp = stamp_of(packet, view.control)
    html = partial(_html, packet=packet, control=view.control, stamp=stamp, bars=ChangeBars(view, home))
    review = home + view.review if view.review else ""
    html = partial(html, nonconformities=view.nonconformities, home=home, review=review)
    yield _order(packet, html)
    yield _changeover(packet, html)
    yield _safety(packet, html)
    for operation, form in zip(packet.operations, forms, strict=True):
        data = form_data(packet, view.control, operation, form)
        yield from operation_pages(packet, operation, partial(html, form=form), data)
    yield _start(html)
    yield _run(packet, html)
    if packet.procedures:
        yield _going_in(packet, html)
    yield _inspection(packet, html)
    yield _run_calculations(html)
    yield _sources(packet, html)


def _order(packet: Packet, html: _Html) -> PageFragment:
    entries = search_index.order_entries(packet)
    return PageFragment("index.html", "Order", "Order", html("order/order"), search=entries, scripts=_ORDER, rank=0)


def _changeover(packet: Packet, html: _Html) -> PageFragment:
    previous = packet.changeover.previous_order if packet.changeover else ""
    entry = SearchEntry("Changeover", f"What to change from order {previous} and what stays" if previous else "")
    return PageFragment(
        "changeover.html", "Changeover", "Changeover", html("order/changeover"), search=(entry,), scripts=_CHANGEOVER
    )


def _safety(packet: Packet, html: _Html) -> PageFragment:
    return PageFragment(
        "safety.html", "Safety", "Safety", html("order/safety"), search=search_index.safety_entries(packet.callouts)
    )


def _start(html: _Html) -> PageFragment:
    entry = SearchEntry("Start", "Everyone out, gate, reset from outside, start, watch", "start-steps")
    return PageFragment("start.html", "Start", "Start", html("order/start"), search=(entry,), scripts=_START)


def _run(packet: Packet, html: _Html) -> PageFragment:
    due = (*(rule.text for rule in packet.run.rules), *(event.what for event in packet.run.events))
    counted = "Due next" if due else "Part count"
    entries = (
        SearchEntry("During the run", "Part count, due next, checks, run record", "run-steps"),
        SearchEntry("Change and dress schedule", ". ".join(dict.fromkeys(due)), "run-events"),
    )
    bar = (BarKey("Start", "start.html", "start"), BarKey(counted, "#run-next", "due"))
    page = html("order/run", counted=counted)
    return PageFragment("run.html", "Run", "Run", page, search=entries, scripts=_RUN, bar=bar)


def _going_in(packet: Packet, html: _Html) -> PageFragment:
    entries = tuple(
        SearchEntry(f"{each.title}, {each.where}", " ".join(step.do for step in each.steps), f"list-{each.key}")
        for each in packet.procedures
    )
    return PageFragment("going-in.html", "Going in during the run", "Going in", html("order/going_in"), search=entries)


def _run_calculations(html: _Html) -> PageFragment:
    title = "Run: calculations"
    return PageFragment("run-calculations.html", title, title, html("order/run_calculations"), group=_BEHIND)


def _inspection(packet: Packet, html: _Html) -> PageFragment:
    text = ". ".join(f"{line.what}: {line.accept}" for line in packet.inspections)
    return PageFragment(
        "inspection.html",
        "Inspection",
        "Inspection",
        html("order/inspection"),
        search=(SearchEntry("Inspection", text),),
    )


def _sources(packet: Packet, html: _Html) -> PageFragment:
    entries = search_index.source_entries(packet.cited, packet.formulas)
    return PageFragment(
        "sources.html", "Sources", "Sources", html("order/sources"), group=_BEHIND, search=entries, rank=8
    )


def _whole(view: RevisionView, forms: Iterable[SetUpForm]) -> PageFragment:
    """Return the page that holds, for paper, what the cell needs of the order; the search leaves it out."""
    packet = view.packet
    html = render(
        "paper/whole.html",
        packet=packet,
        control=view.control,
        operations=tuple(zip(packet.operations, forms, strict=True)),
        shared_starts=shared_starts(packet),
        shared_changeover=shared_changeover(packet),
        procedures=shared_procedures(packet.procedures),
        inspections=shared_inspections(packet),
        steps_during_run=steps_beside_inspections(packet),
    )
    return PageFragment(
        "packet.html",
        "All sheets of the order",
        "Print all sheets",
        html,
        scripts=script_paths("whole"),
        parts=("index", *(f"operation-{operation.number}" for operation in packet.operations)),
    )


def _html(template: str, **context: object) -> str:
    return render(
        f"{template}.html",
        page_of=operation_page,
        set_up_page=SET_UP,
        prove_out_page=PROVE_OUT,
        details_page=DETAILS,
        record_page=RECORD,
        calculations_page=CALCULATIONS,
        qualification_page=QUALIFICATION,
        wps_page=WPS,
        entry_page=entry_page,
        stated=Stated(),
        **context,
    )


def card_of(packet: Packet) -> Card:
    """Return what the list of all orders shows of an order."""
    head = packet.head
    operations = tuple(
        f"Operation {operation.number}: {operation.process_name}, {_programs(operation)}"
        for operation in packet.operations
    )
    summary = f"{head.quantity} × {head.part_number} {head.part_name}, due {head.due}"
    cells = tuple(dict.fromkeys(operation.cell for operation in packet.operations))
    words = search_index.order_words(packet)
    return Card(
        head.title,
        summary,
        operations,
        words,
        cells,
        programs=program_uses(packet),
        qualified=tuple(qualified_of(packet)),
    )


def qualified_of(packet: Packet, folder: str = "", state: str = "") -> Iterator[Qualified]:
    """Yield how each operation of a packet is qualified; its pages are in a folder of the site, or the main ones."""
    for operation, how in zip(packet.operations, resting(packet), strict=True):
        heads = operation.qualification.records if operation.qualification else ()
        ends = {head.record: head.valid_until for head in heads}
        records = tuple((record, ends[record]) for record in how.rests_on)
        named = tuple(head.record for head in heads if head.record not in how.rests_on)
        name = f"{operation.number}, {operation.name}"
        inside = f"{folder}/" if folder else ""
        page, wps_page = (f"{inside}{operation_page(operation, kind)}" for kind in (QUALIFICATION, WPS))
        found = (how.wps, how.outcome or "", how.text, records)
        yield Qualified(page, wps_page, name, *found, packet.head.due, state, named)


def _programs(operation: OperationSheet) -> str:
    return listed(f"{program.robot}\N{NO-BREAK SPACE}{program.number}" for program in operation.programs)


def sign_files(packets: Iterable[Packet]) -> Iterator[tuple[str, bytes]]:
    """Yield path and picture of every sign that the pages of ``packets`` show."""
    for name, colour in (("alert", "#000"), ("alert-on-red", "#fff")):
        yield f"assets/signs/{name}.svg", safety_alert().replace("currentColor", colour).encode()
    for code in sorted({code for packet in packets for callout in packet.callouts for code in callout.signs}):
        yield f"assets/signs/{code}.svg", sign(code).encode()
