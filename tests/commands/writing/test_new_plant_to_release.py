"""A maker of calf feed bunks goes from ``packets init`` to a verified release: inches, 60 Hz, workbook, DXF."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from math import inf
from pathlib import Path
from typing import Any, NamedTuple

import ezdxf
import openpyxl
import pytest
from weld_packets.commands import main

DAY = "1796083200"  # 2026-12-01, 00:00 UTC
AUTHOR, APPROVER = "D. Whitlock", "R. Amos"
BY = ("--author", AUTHOR, "--by", APPROVER, "--reason", "read against the trial sheets")

FILLETS = (
    ("thickness (in)", "leg from (in)", "leg to (in)", "current from (A)", "current to (A)", "voltage from (V)",
     "voltage to (V)", "wire feed from (in/min)", "wire feed to (in/min)", "travel speed from (in/min)",
     "travel speed to (in/min)", "gas flow from (scfh)", "gas flow to (scfh)", "contact distance (in)"),
    (0.1875, 0.17, 0.22, 190, 220, 20, 23, 300, 340, 20, 28, 30, 40, 0.625),
    (0.25, 0.2, 0.26, 200, 235, 20, 24, 320, 360, 16, 22, 30, 40, 0.625),
)  # fmt: skip
SPOTS = (
    ("over (in)", "up to (in)", "cap face (in)", "force from (lbf)", "force to (lbf)", "weld time from (cycles@60Hz)",
     "weld time to (cycles@60Hz)", "current from (kA)", "current to (kA)"),
    (0.05, 0.0635, 0.236, 500, 550, 13, 15, 11.5, 12.5),
    (0.0635, 0.0785, 0.236, 620, 680, 16, 18, 12.5, 13.5),
)  # fmt: skip
ARC_CHART = """\
table: bunk-fillet-045
kind: arc chart
title: Fillets, wire 0.045 in, 90/10
source: Weld trials of the bunk maker, August 2026
revision: A
form: points
process: "135"
bases: [structural steel]
joints: [T fillet]
positions: [PB]
gas: C10
wire diameter: 0.045 in
transfer: short arc
work angle: 45°
travel angle: 10°
travel direction: push
angles source: weld trials
arc start: run-in at half the wire feed
crater fill: 0.5 s
start source: weld trials
pre flow: 0.3 s
post flow: 1 s
flow source: weld trials
rows: {workbook: bunk.xlsx, sheet: Fillet 045, range: A1:N3}
"""
SPOT_CHART = """\
table: bunk-spot-g90
kind: spot chart
title: Spots on galvanised sheet
source: Weld trials of the bunk maker, August 2026
revision: A
form: bands
base: low-carbon steel
coatings: [hot-dip zinc]
governing thickness: thinner
governing source: weld trials
stack limits: {thickness ratio: 3, total to thinnest outside: 4, source: weld trials}
weld diameter: {minimum: 3.5, target: 5, source: weld trials}
spacing: spot-spacing-low-carbon
hold: 10 cycles@60Hz
sequence source: weld trials
rows: {workbook: bunk.xlsx, sheet: Spot G90, range: A1:I3}
"""
MATERIALS = """\
  - id: A36
    designation: ASTM A36 plate
    standard: ASTM A36
    base: structural steel
    density: 0.284 lb/in³
    thickness from: 3/16 in
    thickness to: 3/4 in
  - id: A653-G90
    designation: ASTM A653 CS Type B, G90
    standard: ASTM A653
    base: low-carbon steel
    coating: hot-dip zinc
    density: 0.284 lb/in³
    thickness from: 0.0359 in
    thickness to: 0.11 in
"""
WIRES = """\
  - id: ER70S-6-0.045
    designation: ER70S-6 solid wire 0.045 in
    standard: AWS A5.18
    process: "135"
    bases: [low-carbon steel, structural steel]
    diameter: 0.045 in
    density: 0.284 lb/in³
    efficiency: 95 %
    efficiency source: label
    hydrogen: 5 ml/100g
    hydrogen source: label
    current from: 80 A
    current to: 320 A
    current source: label
    spool: 44 lb
    polarity: DC+
    polarity source: label
"""
GASES = """\
  - id: C10
    group: ISO 14175 M20
    content: argon with 10 % carbon dioxide
    carbon dioxide: 10 %
    flow from: 25 scfh
    flow to: 50 scfh
    cylinder: 300 ft³
    cylinder name: cylinder of 300 ft³
"""
ORDER = """\
order: CF-7
title: Calf feed bunk, 3 ft
part: {number: CB-36, name: Calf feed bunk}
quantity: 240
due: 2027-02-15
revision intent: First issue
show first: US customary
operations:
  - name: Leg frame
    process: "135"
    cell: W1
    robots: [W1A, W1B]
    programs: {W1A: P71A, W1B: P71B}
    coupon programs: {W1A: {1: T71A}, W1B: {1: T71B}}
    datum: Front left lower corner of the base plate, x along its front, z up
    fixture: F-71 leg frame
    clamps: [K1 base plate, K2 web]
    wire: ER70S-6-0.045
    gas: C10
    quality: C
    tacks: {number: 0}
    components:
      - id: base
        name: Base plate
        material: A36
        thickness: 3/16 in
        outlines:
          - {offset: 3/16 in, unit: in, points: [[0, 0], [10, 0], [10, 6], [0, 6]]}
      - id: web
        name: Leg web
        material: A36
        thickness: 3/16 in
        outlines:
          - {plane: XZ, offset: 3 in, unit: in, points: [[2, 0.1875], [8, 0.1875], [8, 5], [2, 5]]}
    weld defaults: {joint: T fillet, position: PB, components: [web, base], leg: 3/16 in, weld schedule: 1}
    seams:
      - id: F1
        robot: W1A
        path: {unit: in, start: [2.25, 2.90625, 0.1875], pieces: [{to: [7.75, 2.90625, 0.1875]}]}
      - {repeat: F1, ids: [F2], mirror: {y: 3 in}, robot: W1B}
  - name: Trough
    process: "21"
    cell: W2
    robots: [W2A, W2B]
    programs: {W2A: P72A, W2B: P72B}
    coupon programs: {W2A: {2: T72A}, W2B: {2: T72B}}
    datum: Front left corner of the trough sheet, x along its front, z up
    fixture: F-72 trough nest
    clamps: [K3 sheet, K4 rib]
    components:
      - id: sheet
        name: Trough sheet
        material: A653-G90
        thickness: 0.0635 in
        outlines:
          - {file: trough.dxf, layer: OUTLINE}
      - id: rib
        name: Rib
        material: A653-G90
        thickness: 0.0785 in
        outlines:
          - {unit: in, points: [[2, 4], [34, 4], [34, 8], [2, 8]]}
    stacks:
      - {id: rib, sheets: [sheet, rib], weld schedule: 2}
    spots:
      - {id: A1, robot: W2A, stack: rib, x: 4 in, y: 6 in, z: 0 in}
      - {repeat: A1, ids: [A2, A3, A4], step: {x: 3 in}}
      - {repeat: [A1, A2, A3, A4], ids: [B1, B2, B3, B4], mirror: {x: 18 in}, robot: W2B}
"""


class Ended(NamedTuple):
    """How a command ended: exit status, what it printed, what it complained of."""

    status: int
    out: str
    err: str


Run = Callable[..., Ended]


@pytest.fixture
def run(tmp_path: Path, capsys: Any, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs a command on the plant, on one day; what it says on the way depends on the speed of the machine."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", DAY)
    monkeypatch.setattr("weld_packets.commands.shared.parallel._REPORT_EVERY_SECONDS", inf)

    def ran(*words: str) -> Ended:
        capsys.readouterr()
        status = main([*(() if words[0] == "init" else ("--root", str(tmp_path / "bunk"))), *words])
        printed = capsys.readouterr()
        return Ended(status, printed.out, printed.err)

    return ran


def _workbook(path: Path, spots: Any = SPOTS) -> None:
    book = openpyxl.Workbook()
    for title, rows in (("Fillet 045", FILLETS), ("Spot G90", spots)):
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    book.save(path)


def _outline(path: Path) -> None:
    drawing = ezdxf.new(units=ezdxf.units.IN)
    corners = [(0, 0), (36, 0), (36, 12), (0, 12)]
    drawing.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "OUTLINE"})
    drawing.saveas(path)


def _fill_in(plant: Path) -> None:
    """Write what this maker has into the plant that ``packets init`` made."""
    own = plant / "instructions" / "cf-7-calf-bunk"
    own.mkdir()
    (own / "order.yaml").write_text(ORDER, "utf-8")
    _outline(own / "trough.dxf")
    _workbook(plant / "tables" / "bunk.xlsx")
    (plant / "tables" / "arc_bunk.yaml").write_text(ARC_CHART, "utf-8")
    (plant / "tables" / "spot_bunk.yaml").write_text(SPOT_CHART, "utf-8")
    (plant / "tables" / "responsible.yaml").unlink()
    for name, more in (("materials", MATERIALS), ("wires", WIRES), ("gases", GASES)):
        with (plant / "tables" / f"{name}.yaml").open("a", encoding="utf-8") as table:
            table.write(more)
    machines = plant / "tables" / "machines.yaml"
    machines.write_text(machines.read_text("utf-8").replace("permanent current: 4.2 kA", "permanent current: 6 kA"))


def _name(plant: Path) -> None:
    machines = plant / "tables" / "machines.yaml"
    read = machines.read_text("utf-8").replace("An invented example; write the rating plate of the torch here", "plate")
    read = re.sub(r"(?m)^( +(?:margin|keep out|waiting place) source:) an example.*", r"\1 survey of the cells", read)
    machines.write_text(re.sub(r"(?m)^source: Invented examples .*", "source: survey of the cells", read), "utf-8")
    table = plant / "tables" / "plant.yaml"
    text = table.read_text("utf-8").replace("name: Your plant", "name: Bunk maker")
    text = re.sub(r"(?m)^source: Starting values .*", "source: rules of the bunk maker", text)
    table.write_text(text.replace("number to be written here", "ext. 41"), "utf-8")
    for name in ("hazards", "shades"):
        safety = plant / "tables" / f"{name}.yaml"
        read = safety.read_text("utf-8")
        safety.write_text(re.sub(r"  - Starting text .*\n", "", read, count=1), "utf-8")


class _Lines(HTMLParser):
    """Takes the lines of a page that people read apart from what is shown in small."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: list[str] = [""]
        self.within: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.within.append((tag, dict(attrs).get("class") or ""))
        self._end_line(tag)

    def handle_endtag(self, tag: str) -> None:
        while self.within and self.within.pop()[0] != tag:
            pass
        self._end_line(tag)

    def handle_data(self, data: str) -> None:
        if not any(tag in {"script", "style"} for tag, _ in self.within):
            self.lines[-1] += data

    def _end_line(self, tag: str) -> None:
        if tag in {"td", "th", "li", "p", "dt", "dd", "div", "h1", "h2", "h3"}:
            self.lines.append("")


_METRIC = re.compile(r"\d\s?(?:mm|kN|m/min|mm/s|l/min|kg/h|g/m|kJ/mm|N/mm²)(?![\w²³/])")


def metric_first(page: str) -> Iterator[str]:
    """Yield the lines of a page in which a metric value has no value in US customary units before it."""
    reader = _Lines()
    reader.feed(page)
    for line in reader.lines:
        first = _METRIC.search(line)
        if first and not re.search(r"\d\s?(?:in|lbf|in/min|ft³/h|lb/h|lb|lb/ft|kJ/in|ksi)\b", line[: first.end()]):
            yield " ".join(line.split())


def test_a_new_maker_goes_from_init_to_a_verified_release_and_a_correction(tmp_path: Path, run: Run) -> None:
    plant = tmp_path / "bunk"
    assert run("init", str(plant), "--units", "US customary").status == 0
    _fill_in(plant)
    checked = run("check", "CF-7")
    assert (checked.status, checked.err) == (0, "")
    assert re.search(r"tables are not approved: .*\bbunk-fillet-045\b", checked.out)
    release = ("--author", AUTHOR, "--approver", APPROVER, "--effective", "2026-12-01")
    assert "are not approved" in run("release", "CF-7", *release, "--reason", "first issue").err
    open_values = run("approve", "--all", *BY)
    assert (open_values.status, open_values.err.count("this was to be filled in by the plant")) == (1, 18)
    looked_at = run("approve", "--all").out
    assert looked_at.count("\nto be filled in first: tables/") == 18
    assert looked_at.endswith("\nonce it is right: packets approve --all --author NAME --by NAME --reason TEXT\n")
    for named in (
        "tables/plant.yaml",
        "tables/machines.yaml",
        "source = 'Starting values of the program",
        "notes[0] = 'Starting text that came with the program",
        "source = 'Invented examples",
        "torch.source = 'An inv",
        "keep out source",
    ):
        assert named in open_values.err
    _name(plant)
    assert run("approve", "--all", *BY).status == 0
    ready = run("check", "CF-7")
    assert "cannot be released yet" not in ready.out
    digest = re.search(r"digest ([0-9a-f]{64})", ready.out)
    assert digest
    assert run("release", "CF-7", *release, "--reason", "first issue", "--digest", digest[1]).status == 0
    assert run("build", "CF-7").status == 0
    verified = run("verify")
    assert (verified.status, verified.err) == (0, "")
    site = plant / "site" / "cf-7-calf-bunk"
    for page in ("operation-1.html", "operation-2.html", "operation-1-set-up.html", "operation-2-map.html"):
        assert list(metric_first((site / page).read_text("utf-8"))) == [], page
    _raise_current(plant)
    assert "does not hold what was approved" in run("check", "CF-7").err
    table = plant / "tables" / "spot_bunk.yaml"
    table.write_text(table.read_text("utf-8").replace("revision: A", "revision: B"), "utf-8")
    assert "would change" in run("impact").out
    assert "current to: 12.5 kA -> 12.7 kA" in run("approve", "bunk-spot-g90").out
    assert run("approve", "bunk-spot-g90", *BY).status == 0
    assert "Weld current" in run("diff", "CF-7", "A", "draft").out
    assert run("release", "CF-7", *release, "--reason", "trial 9: too small a button").status == 0
    history = run("history", "CF-7").out
    assert history.index("first issue") < history.index("trial 9")
    assert "revision B in force since 2026-12-01" in run("as-of", "CF-7", "2026-12-02").out


def _raise_current(plant: Path) -> None:
    header, row, *others = SPOTS
    _workbook(plant / "tables" / "bunk.xlsx", (header, (*row[:-2], 11.7, 12.7), *others))
