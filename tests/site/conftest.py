"""A made-up packet of two operations, one spot and one arc, as the packet room would hand it over."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import subprocess
import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.operation import FaultLine, OperationSheet, Program
from weld_packets.packet.records.order import (
    ChangeLine,
    Changeover,
    Control,
    InspectionLine,
    OrderHead,
    Packet,
    RunEvent,
    RunPlan,
)
from weld_packets.packet.records.settings import (
    Check,
    ComponentLine,
    ComponentOutline,
    Picture,
    SettingGroup,
    WeldGeometry,
    WeldLine,
)
from weld_packets.packet.records.steps import Action, Callout, Task, TaskStage
from weld_packets.packet.records.values import Fact, PutIn, Remark, TableUse, TracePoint, Value
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.status.nonconformities import Reported
from weld_packets.revisions.status.release_rules import Release, Signatures, Withdrawal
from weld_packets.revisions.store.files import open_archive
from weld_packets.revisions.store.nonconforming import NonconformityChange, record_nonconformity
from weld_packets.revisions.store.releasing import record_release, record_withdrawal
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.revisions.order_history import OrderHistory, load_order_history
from weld_packets.units import Amount, Span

ROOT = Path(__file__).parent.parent.parent
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 220" role="img" aria-labelledby="{key}-t {key}-d">'
    '<title id="{key}-t">Weld map</title><desc id="{key}-d">Twelve spots on a panel</desc>'
    '<rect width="400" height="220" fill="#ffffff"/>'
    '<path d="M20 30H380V190H20z" fill="#e4e8ec" stroke="#111111"/>{dots}</svg>'
)


def amount(value: str, unit: str, second: str = "", second_unit: str = "") -> Amount:
    return Amount(value=value, unit=unit, second=second, second_unit=second_unit)


def picture(key: str) -> Picture:
    dots = "".join(
        f'<circle cx="{40 + 30 * at}" cy="{60 if at % 2 else 160}" r="9" fill="#0072b2"/>'
        f'<text x="{40 + 30 * at}" y="{64 if at % 2 else 164}">{at + 1}</text>'
        for at in range(12)
    )
    return Picture(
        key=key,
        title="Spot map, front panel",
        description="Twelve spots on a panel",
        svg=SVG.format(key=key, dots=dots),
        caption="Circles: robot A, diamonds: robot B. Numbers give the sequence. Seen from the operator's side.",
    )


def setting(operation: str, key: str, naming: tuple[str, str], it: Amount, limits: tuple[str, str, str]) -> Value:
    (label, symbol), (low, high, step) = naming, limits
    lookup = TracePoint(
        form="lookup",
        label=label,
        result=it,
        table="spot-lc",
        revision="4",
        source="Works schedule, agreed test welds",
        column=key,
        at="1.2 mm",
        rows=("1.0 mm", "1.5 mm"),
        values=("7.9", "9.2"),
        fraction="0.400",
    )
    formula = TracePoint(
        form="formula",
        label="Smallest weld diameter",
        result=amount("4.4", "mm", "0.173", "in"),
        symbol="d_min",
        expression="k * sqrt(t) + (a - b) / (2 * c ** 2)",
        clause="ISO 14373:2015, 5.2",
        validity="t 0.5 to 3 mm",
        standing="from memory",
        numbers=(
            PutIn(symbol="k", name="factor", amount=amount("4", "")),
            PutIn(symbol="t", name="governing thickness", amount=amount("1.2", "mm")),
        ),
    )
    rounded = TracePoint(
        form="rounded", label="Weld timer of robot A", result=it, origin=f"step {step} {it.unit}, to nearest"
    )
    given = TracePoint(
        form="given", label="Sheet thickness", result=amount("1.2", "mm", "0.047", "in"), origin="order.yaml line 31"
    )
    return Value(
        key=key,
        figure=key,
        label=label,
        symbol=symbol,
        anchor=f"{operation}-{key}",
        amount=it,
        window=Span(low=low, high=high, origin="table spot-lc"),
        step=amount(step, it.unit),
        trace=(given, lookup, formula, rounded),
        remarks=(
            Remark(
                weight="warning",
                text="Near the upper end of the window: watch for expulsion.",
                source="common practice",
            ),
        )
        if key == "current"
        else (),
    )


def spot_operation(name: str, number: int = 1) -> OperationSheet:
    key = f"operation-{number}"
    group = SettingGroup(
        key="g1",
        title="Stack 1.2 + 1.2 mm, uncoated",
        robots=("R11", "R12"),
        welds=tuple(f"S{n}" for n in range(1, 13)),
        pass_count=1,
        dialled=(
            setting(key, "current", ("Welding current", "I"), amount("8.4", "kA"), ("7.9", "8.9", "0.1")),
            setting(key, "force", ("Electrode force", "F"), amount("2.6", "kN", "585", "lbf"), ("2.4", "2.9", "0.05")),
            setting(key, "time", ("Weld time", "t_w"), amount("10", "cycles", "200", "ms"), ("9", "12", "1")),
            setting(key, "squeeze", ("Squeeze time", "t_s"), amount("20", "cycles", "400", "ms"), ("15", "", "1")),
        ),
        derived=(
            setting(
                key, "diameter", ("Weld diameter to reach", "d"), amount("4.4", "mm", "0.173", "in"), ("4.4", "", "0.1")
            ),
            Value(
                key="t85",
                figure="t85",
                label="Cooling time",
                symbol="t_8_5",
                anchor=f"{key}-t85",
                amount=None,
                outside="outside the method: t below 3 mm",
            ),
        ),
        checks=(
            Check(
                subject="Pitch", text="smallest pitch 38 mm, at least 30 mm", outcome="passed", source="table spot-lc"
            ),
        ),
    )
    sheet = OperationSheet(
        key=key,
        number=number,
        name=name,
        cell="C1",
        cell_name="Cell 1, panels",
        robots=("R11", "R12"),
        process="21",
        process_name="Resistance spot welding",
        fixture="FX-2040",
        datum="Pin P1, lower left",
        components=(
            ComponentLine(
                key="p1",
                name="Front panel",
                material="DC04",
                coating="none",
                thickness=amount("1.2", "mm", "0.047", "in"),
            ),
            ComponentLine(
                key="p2",
                name="Hat section",
                material="DC04",
                coating="none",
                thickness=amount("1.2", "mm", "0.047", "in"),
            ),
        ),
        confirm=(
            Action(
                key="plate",
                do="Read the process plate on both robots.",
                see="Both arms carry spot guns.",
                value="SPOT / SPOT",
            ),
            Action(key="fixture", do="Compare the fixture's plate with this page.", value="FX-2040"),
        ),
        programs=(
            Program(robot="R11", side="A", number="2041", code="PRG:R11:2041"),
            Program(robot="R12", side="B", number="2042", code="PRG:R12:2042"),
        ),
        groups=(group,),
        pictures=(picture(f"{key}-map"),),
        weld_columns=("Weld", "Robot", "X mm", "Y mm"),
        welds=tuple(
            WeldLine(key=f"S{n}", cells=(f"S{n}", "R11" if n % 2 else "R12", str(30 * n), "60" if n % 2 else "160"))
            for n in range(1, 13)
        ),
        geometry=(),
        set_up=(
            Action(key="lock", do="Lock the gun's energy off.", callouts=("crush",), see="The lamp is out."),
            Action(key="caps", do="Fit new caps on all four electrodes.", value="F-16, face 6 mm"),
            Action(key="coolant", do="Set the coolant flow.", value="4 L/min", see="The flow switch shows green."),
            Action(key="program", do="Select the program on each pendant.", value="2041 / 2042"),
        ),
        prove=(
            Action(
                key="dry", do="Run the program at reduced speed without current.", value="250 mm/s", callouts=("robot",)
            ),
            Action(key="weld", do="Weld one coupon with each robot.", see="No expulsion."),
            Action(
                key="peel",
                do="Peel the coupon and measure the button.",
                value="at least 4.4 mm",
                hold=True,
                see="Both buttons reach the diameter.",
            ),
        ),
        faults=(
            FaultLine(
                sign="Sparks fly from the sheets",
                remedies=("Dress the caps.", "Raise force to 2.8 kN.", "Lower current to 8.1 kA."),
                stop_when="sparks go on at 7.9 kA",
                source="common practice, no source",
            ),
            FaultLine(
                sign="Button too small",
                remedies=("Raise current by one step, to at most 8.9 kA.",),
                stop_when="two coupons in an operation fail",
                source="common practice, no source",
            ),
        ),
        checks=(
            Check(
                subject="Reach", text="all 12 spots inside the robots' reach", outcome="passed", source="table machines"
            ),
            Check(
                subject="Edge distance", text="the outline of part p2 is not given", outcome="not checked", source=""
            ),
        ),
        callouts=("robot", "crush", "implant"),
        times=(),
        notes=("The panel's burr side faces the fixture.",),
    )
    return sheet.model_copy(
        update={
            "set_up_stages": stages("set-up", (*sheet.confirm, *sheet.set_up)),
            "prove_stages": stages("prove-out", sheet.prove),
        }
    )


def stages(name: str, steps: Sequence[Action]) -> tuple[TaskStage, ...]:
    """Return one stage in which every step is a task by itself; the robots' message is at its head."""
    keys = tuple(dict.fromkeys(key for step in steps for key in step.callouts))
    tasks = tuple(
        Task(
            key=step.key, do=step.do, see=step.see, value=step.value, hold=step.hold,
            callouts=tuple(key for key in step.callouts if key != "robot"),
        )
        for step in steps
    )  # fmt: skip
    head = tuple(key for key in keys if key == "robot")
    title = "Inside, energy on"
    return (TaskStage(key=f"{name}-1", title=title, mode="manual", gate="open", callouts=head, tasks=tasks),)


def callouts() -> tuple[Callout, ...]:
    return (
        Callout(
            key="robot",
            word="DANGER",
            signs=("W018", "W019"),
            hazard="Robots start without warning.",
            consequence="Being struck or trapped kills.",
            avoid="Stay outside. Lock the gate before you enter.",
            why="Both cells of this order hold robots.",
            source="ISO 10218-2:2025",
            stages=("prove", "start"),
        ),
        Callout(
            key="crush",
            word="WARNING",
            signs=("W024",),
            hazard="The gun closes with 2.6 kN.",
            consequence="Fingers are crushed.",
            avoid="Keep hands out of the gun. Lock the energy off.",
            why="Electrode force 2.6 kN in operation 1.",
            source="29 CFR 1910.255",
            stages=("set_up",),
        ),
        Callout(
            key="implant",
            word="WARNING",
            signs=("W006", "P007"),
            hazard="Strong magnetic field at the guns.",
            consequence="Implants can fail.",
            avoid="Keep wearers of implants out of the cell.",
            why="8.4 kA in operation 1.",
            source="Directive 2013/35/EU",
            stages=("set_up",),
        ),
        Callout(
            key="wire",
            word="NOTICE",
            signs=(),
            hazard="A wrong program spoils the part.",
            consequence="The batch is scrapped.",
            avoid="Scan the code on the page.",
            why="Two programs in this order.",
            source="",
            stages=("set_up",),
        ),
    )


_OUT = Action(key="fixture-out", do="Take fixture FX-2001 out.", see="The table is bare.")


def make_packet(
    title: str = "Locker carcass, 6 doors", operation_name: str = "Front panel", operations: int = 2
) -> Packet:
    return Packet(
        head=OrderHead(
            slug="pl-2041",
            number="PL-2041",
            title=title,
            part_number="KX-600-F",
            part_name="Carcass front",
            quantity=240,
            due="2026-12-04",
            revision_intent="Pattern moved to the new hat section",
            previous_order="PL-2038",
            plant="Hall 2",
            show_first="metric",
        ),
        operations=tuple(spot_operation(operation_name, number) for number in range(1, operations + 1)),
        changeover=Changeover(
            previous_order="PL-2038",
            previous_title="Base frame",
            lines=(
                ChangeLine(
                    cell="C1", what="Program of R11", before="2001", after="2041", stays=False, do="Scan the new code."
                ),
                ChangeLine(cell="C1", what="Welding current", before="7.6 kA", after="8.4 kA", stays=False),
                ChangeLine(cell="C1", what="Electrode caps", before="F-16", after="F-16", stays=True),
            ),
            steps=(_OUT,),
            stages=stages("C1", (_OUT,)),
        ),
        callouts=callouts(),
        cautions=("Operation 1 is near the upper end of its current window.",),
        start=(
            Action(
                do="Call everyone out of the cell and count them.",
                callouts=("robot",),
                see="The count agrees with the board.",
            ),
            Action(do="Close and lock the gate."),
            Action(do="Reset from outside, with the whole cell in view."),
            Action(do="MkDocsBuilder start.", see="The lamp turns green."),
        ),
        run=RunPlan(
            values=(
                Value(
                    key="per-part",
                    figure="per-part",
                    label="Time per part",
                    symbol="T",
                    anchor="run-per-part",
                    amount=amount("74", "s"),
                ),
                Value(
                    key="run",
                    figure="run",
                    label="Whole run",
                    symbol="T_run",
                    anchor="run-whole",
                    amount=amount("4.9", "h"),
                ),
            ),
            bottleneck="Operation 1",
            model="Operations work side by side.",
            events=(
                RunEvent(
                    part_number=60,
                    operation="operation-1",
                    operation_name="Front panel",
                    cell="C1",
                    robot="R11",
                    what="Dress the caps",
                    basis="every 360 spots",
                ),
            ),
        ),
        run_steps=(Action(do="Watch the first part from outside.", see="No sparks."),),
        inspections=(
            InspectionLine(
                operation="operation-1",
                operation_name="Front panel",
                stage="first-off",
                what="Weld diameter",
                how="Peel test",
                accept="at least 4.4 mm",
                every="first part and each shift",
                source="ISO 10447",
            ),
        ),
        tables=(
            TableUse(
                table="spot-lc",
                title="Spot schedule, uncoated steel",
                revision="4",
                source="Test welds of the works",
                approved_by="Welding coordinator",
                approved_on="2026-03-02",
                rows=("1.0 mm", "1.5 mm"),
                notes=(),
            ),
        ),
        formulas=(Fact(name="Smallest weld diameter", value="ISO 14373:2015, 5.2", note="from memory"),),
    )


def refuse(why: str) -> None:
    """Skip where a reader of the tests may lack a browser; never where the project's own check runs."""
    if os.environ.get("CI"):
        pytest.fail(why)
    pytest.skip(why)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    executable = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if executable is None:
        refuse("no Chromium on this machine")
    try:
        from playwright.sync_api import sync_playwright  # noqa: PLC0415 (an extra that may be missing)
    except ImportError:
        refuse("playwright is not installed: pip install -e .[browser]")
    arguments = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=executable, args=arguments)
        yield browser
        browser.close()


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        pass


@pytest.fixture(scope="session")
def serve() -> Iterator[Callable[[Path], str]]:
    """Return a function that serves a folder on this machine and returns its address."""
    servers: list[ThreadingHTTPServer] = []

    def address_of(folder: Path) -> str:
        server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        servers.append(server)
        return f"http://127.0.0.1:{server.server_address[1]}"

    yield address_of
    for server in servers:
        server.shutdown()
        server.server_close()


@pytest.fixture(scope="session")
def text_of_pdf() -> Callable[..., list[str]]:
    """Return a function that returns the text of each sheet of a PDF, with further words for its reader."""
    if shutil.which("pdftotext") is None:
        refuse("no pdftotext on this machine")

    def text_of(target: Path, *words: str) -> list[str]:
        done = subprocess.run(["pdftotext", *words, str(target), "-"], capture_output=True, text=True, check=True)
        return done.stdout.rstrip("\f").split("\f")

    return text_of


@pytest.fixture(scope="session")
def printed(chromium: Any, text_of_pdf: Callable[..., list[str]]) -> Callable[..., list[str]]:
    """Return a function that prints a page, after ``press`` if that is named, and returns the text of each sheet."""

    def text_of(
        address: str, target: Path, size: str = "A4", *, layout: bool = True, day: str = "", press: str = ""
    ) -> list[str]:
        page = chromium.new_page()
        if day:
            page.clock.set_fixed_time(f"{day}T09:00:00Z")
        page.goto(address)
        if page.locator(".whole").count():
            page.wait_for_selector(".whole.laid")
        if press:
            page.click(press)
        page.pdf(path=str(target), format=size)
        page.close()
        return text_of_pdf(target, *(["-layout"] if layout else []))

    return text_of


PAPER_CM = {"A4": (21.0, 29.7), "Letter": (21.59, 27.94)}


PACKET_MARGIN_CM = {"top": 0.6, "bottom": 0.6, "left": 0.7, "right": 0.7}


@pytest.fixture(scope="session")
def drivers() -> Any:
    if importlib.util.find_spec("websockets") is None:
        refuse("websockets is not installed: pip install -e .[browser]")
    spec = importlib.util.spec_from_file_location("drivers", Path(__file__).parent / "browser" / "browser_drivers.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def start_firefox(drivers: Any, tmp_path_factory: pytest.TempPathFactory) -> Callable[[], Any]:
    """Return a function that starts Firefox with a profile of its own."""
    executable = shutil.which("firefox-esr") or shutil.which("firefox")
    if executable is None:
        refuse("no Firefox on this machine")

    def start() -> Any:
        profile = tmp_path_factory.mktemp("firefox") / "profile"
        profile.mkdir()
        return drivers.Firefox(executable, profile)

    return start


@pytest.fixture(scope="session")
def start_webkit(drivers: Any) -> Callable[[], Any]:
    """Return a function that starts the small browser of WebKitGTK."""
    driver = shutil.which("WebKitWebDriver")
    if driver is None or shutil.which("xvfb-run") is None:
        refuse("no WebKitWebDriver or no xvfb-run on this machine")
    return lambda: drivers.WebKit(driver)


@pytest.fixture(scope="session")
def firefox(start_firefox: Callable[[], Any]) -> Iterator[Any]:
    browser = start_firefox()
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def paper(
    request: pytest.FixtureRequest, text_of_pdf: Callable[..., list[str]]
) -> Callable[[str, str, Path, str], list[str]]:
    """Return a function that prints a page in one of three ways and returns the text of each sheet, in its order."""

    def print_in(way: str, address: str, target: Path, size: str) -> None:
        if way == "firefox":
            browser = request.getfixturevalue("firefox")
            browser.open(address)
            target.write_bytes(browser.print(PAPER_CM[size], PACKET_MARGIN_CM))
        elif way == "chromium":
            page = request.getfixturevalue("chromium").new_page()
            page.goto(address)
            page.pdf(path=str(target), format=size)
            page.close()
        else:
            executable = shutil.which("chromium")
            if executable is None:
                refuse("no Chromium on this machine")
            options = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
            command = [executable, *options, f"--print-to-pdf={target}", address]
            subprocess.run(command, check=True, capture_output=True, timeout=120)

    def sheets_of(way: str, address: str, target: Path, size: str = "A4") -> list[str]:
        print_in(way, address, target, size)
        return [" ".join(sheet.split()) for sheet in text_of_pdf(target, "-raw")]

    return sheets_of


def draft() -> Control:
    return Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b")


@pytest.fixture(scope="session")
def looks(tmp_path_factory: pytest.TempPathFactory) -> SiteLooks:
    """The program's own looks: of a plant that sets none."""
    return SiteLooks(tmp_path_factory.mktemp("plant") / "site_overrides")


@pytest.fixture(scope="session")
def places_of() -> Callable[[bytes], list[dict[str, Any]]]:
    """Return what reads the places out of the file of a search, as `search.js` does."""

    def read(content: bytes) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = []
        for path, rank, head, start, places in json.loads(content.removeprefix(b"var __index = "))["docs"]:
            for title, text, anchor, *keys in places:
                found.append(
                    {
                        "location": path if anchor == 0 else f"{path}#{start}{anchor}",
                        "title": head + title,
                        "text": found[text]["text"] if isinstance(text, int) else text,
                        "rank": rank,
                        "keys": "".join(keys),
                    }
                )
        return found

    return read


@pytest.fixture(scope="session")
def named_packet() -> Callable[[str], Packet]:
    return lambda name: make_packet(title=name, operation_name=name)


@pytest.fixture(scope="module")
def module_packet() -> Packet:
    return make_packet()


@pytest.fixture
def packet() -> Packet:
    return make_packet()


@pytest.fixture
def control() -> Control:
    return Control(
        revision="B",
        status="in force",
        effective_from="2026-11-20",
        approver="Welding coordinator",
        digest="9f8b1c2d3e4f5a6b7788",
    )


def with_current(packet: Packet, value: str, revision: str) -> Packet:
    """Return ``packet`` with another current in operation 1, read from another revision of its table."""
    operation = packet.operations[0]
    group = operation.groups[0]
    old = group.dialled[0]
    new = old.model_copy(
        update={
            "amount": amount(value, "kA"),
            "trace": tuple(
                point.model_copy(update={"revision": revision, "values": ("8.1", "9.9")}) if point.table else point
                for point in old.trace
            ),
        }
    )
    group = group.model_copy(update={"dialled": (new, *group.dialled[1:])})
    use = packet.tables[0].model_copy(update={"revision": revision})
    return packet.model_copy(
        update={
            "operations": (operation.model_copy(update={"groups": (group,)}), *packet.operations[1:]),
            "tables": (use,),
        }
    )


def with_spots(packet: Packet, places: tuple[str, ...]) -> Packet:
    """Return ``packet`` with one spot in operation 1 for each x of ``places``."""
    geometry = tuple(
        WeldGeometry(key=f"S{n}", robot="R11", side="A", form="spot", pieces=((x, "60", "0"),), label=f"A{n}")
        for n, x in enumerate(places, 1)
    )
    welds = tuple(WeldLine(key=f"S{n}", cells=(f"S{n}", "R11", x)) for n, x in enumerate(places, 1))
    outline = ComponentOutline(
        component="Front panel", points=(("0", "0", "0"), ("400", "0", "0"), ("400", "220", "0"))
    )
    operation = packet.operations[0].model_copy(
        update={
            "geometry": geometry,
            "welds": welds,
            "weld_columns": ("Spot", "Robot", "x, mm"),
            "outlines": (outline,),
        }
    )
    return packet.model_copy(update={"operations": (operation, *packet.operations[1:])})


class Plant:
    """A folder of instructions with one order, to release from on days of October 2026."""

    def __init__(self, instructions: Path) -> None:
        self.instructions = instructions
        self.packet = with_spots(make_packet(), ("30", "60", "90"))
        for order in ("pl-2041", "PL-2038"):
            (instructions / order).mkdir(parents=True)
            (instructions / order / "order.yaml").write_text("order: PL-2041\n")

    def release(self, packet: Packet, day: int, reason: str = "first issue", start: str = "") -> str:
        by = self._by(day, reason, start)
        return record_release(self.instructions, Release(packet, (), by)).entry.record_digest

    def release_from_part(self, packet: Packet, day: int, part: str) -> None:
        by = replace(self._by(day, "from a part on", ""), effective=Effective(kind="part", start=part))
        record_release(self.instructions, Release(packet, (), by))

    def withdraw(self, revision: str, day: int, reason: str, reported: Reported | None = None) -> None:
        record_withdrawal(self.instructions, Withdrawal("pl-2041", revision, self._by(day, reason, ""), reported))

    def report(self, reported: Reported, revision: str, day: int, reason: str) -> None:
        wanted = NonconformityChange("pl-2041", reported, self._by(day, reason, ""), revision)
        record_nonconformity(self.instructions, wanted)

    def close(self, number: str, day: int, reason: str) -> None:
        by = self._by(day, reason, "")
        record_nonconformity(self.instructions, NonconformityChange("pl-2041", Reported(number), by, closed=True))

    def three(self) -> None:
        """Release A on the 5th, B with another current on the 12th, withdraw it on the 14th, C on the 19th."""
        second = with_current(self.packet, "8.8", "5")
        self.release(self.packet, 5)
        self.release(second, 12, "table spot-lc corrected")
        self.withdraw("B", 14, "spot S2 lies under a clamp")
        self.release(with_spots(second, ("30", "72", "90")), 19, "spot S2 moved clear of the clamp")

    def archive(self) -> Archive:
        return open_archive(self.instructions)

    def history(self, day: int, month: int = 10) -> OrderHistory:
        found = load_order_history(self.archive(), "pl-2041", date(2026, month, day))
        assert found is not None
        return found

    def _by(self, day: int, reason: str, start: str) -> Signatures:
        return Signatures(
            author="welding engineer",
            approver="quality lead",
            reason=reason,
            effective=Effective(kind="date", start=start or f"2026-10-{day:02}"),
            recorded=datetime(2026, 10, day, 8, 0, tzinfo=UTC),
            code=Code(version="0.2.0", commit="0" * 40),
        )


@pytest.fixture
def plant(tmp_path: Path) -> Plant:
    return Plant(tmp_path / "instructions")


@pytest.fixture(scope="module")
def module_plant(tmp_path_factory: pytest.TempPathFactory) -> Plant:
    found = Plant(tmp_path_factory.mktemp("plant") / "instructions")
    found.three()
    return found
