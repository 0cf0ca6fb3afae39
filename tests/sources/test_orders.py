"""Orders: what a good one says, and twenty and more broken ones with the message for their writer."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from weld_packets.errors import SourceError, refusal
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.sources.orders.order_folders import check_name, order_names
from weld_packets.sources.orders.orders import SourcedOrder, load_order
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import Quantity, quantity

Load = Callable[[], SourcedOrder]
Refused = Callable[[Callable[[], object]], str]


def mm(value: Quantity) -> float:
    return float(value.m_as("mm"))


def test_spots_come_from_the_enclosed_list_in_its_order(load: Load) -> None:
    operation = load().order.operations[1]
    assert isinstance(operation, SpotOperation)
    assert [(spot.id, mm(spot.x)) for spot in operation.spots] == [("P1", 10.0), ("P2", 50.5), ("P3", 90.0)]


def test_outlines_come_from_yaml_and_drawing_equally(load: Load) -> None:
    typed, drawn, hole = load().order.operations[0].components[1].outlines
    assert typed.points[2] == (Decimal(200), Decimal(100))
    assert drawn.points == ((0, 0), (80, 0), (80, 40), (0, 40))
    assert (drawn.unit, drawn.file, drawn.layer) == ("mm", "outline.dxf", "PLATE")
    assert len(hole.points) == 23


def test_a_thickness_in_inches_stays_in_inches(load: Load) -> None:
    assert load().order.operations[0].components[1].thickness == quantity(0.125, "in")


def change(folder: Path, old: str, new: str, name: str = "order.yaml") -> None:
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{old!r} is {text.count(old)} times in {name}"
    path.write_text(text.replace(old, new), encoding="utf-8")


BROKEN = [
    ("misspelt key", "quantity: 20", "quantitiy: 20", 5, "quantitiy", "did you mean 'quantity'?"),
    ("missing key", "due: 2026-12-04\n", "", 1, "due", "the key 'due' is missing"),
    ("key in program style", "revision intent: f", "revision_intent: f", 7, "revision_intent", "did you"),
    ("date in another form", "2026-12-04", "4.12.2026", 6, "due", "not a calendar date"),
    ("date as a week", "2026-12-04", "2026-W49-5", 6, "due", "not a calendar date"),
    ("day that is not", "2026-12-04", "2026-02-31", 6, "due", "a day that exists"),
    ("date of another age", "2026-12-04", "9999-12-31", 6, "due", "1900 to 2199"),
    ("name of spaces", "name: Frame", 'name: "  "', 10, "operations[0].name", "spaces only"),
    ("throat of nothing", "throat: 3 mm", "throat: 0 mm", 34, "operations[0].seams[0].throat = '0 mm'", "above 0 mm"),
    ("throat below nothing", "throat: 3 mm", "throat: -3 mm", 34, "operations[0].seams[0].throat", "makes no weld"),
    ("two processes", "process: 135", "process: [135, 21]",
     13, "operations[0].process", "a pair of robots shares one process"),
    ("spots in an arc operation", "    seams:", "    spots: []\n    seams:",
     28, "operations[0].spots", "has seams, not spots"),
    ("thickness beyond the material", "0.125 in", "40 mm",
     24, "operations[0].components[1].thickness", "is listed from"),
    ("outline on a line", "100], [0, 100]", "0], [50, 0]",
     26, "operations[0].components[1].outlines[0]", "encloses nothing"),
    ("quantity in words", "quantity: 20", "quantity: twenty", 5, "quantity", "not a whole number"),
    ("bare thickness", "thickness: 3 mm", "thickness: 3",
     20, "operations[0].components[0].thickness", "needs its unit"),
    ("decimal comma", "thickness: 3 mm", 'thickness: "3,0 mm"', 20, "operations[0].components[0].thickness",
     "decimal sign"),
    ("unit of another kind", "0.125 in", "0.125 kN", 24, "operations[0].components[1].thickness", "'kN' is not a unit"),
    ("absurd thickness", "0.125 in", "125 in", 24, "operations[0].components[1].thickness", "outside"),
    ("expression", "0.125 in", "9**9**9 mm", 24, "operations[0].components[1].thickness", "not a thickness"),
    ("not finite", "0.125 in", ".inf mm", 24, "operations[0].components[1].thickness", "not a thickness"),
    ("unknown process", "process: 135", "process: 111", 13, "operations[0].process", "covered are: 131 (MIG"),
    ("no process", "    process: 135\n", "", 10, "operations[0]", "the key 'process' is missing"),
    ("spot key in an arc operation", "    wire: G3", "    stacks: []\n    wire: G3",
     14, "operations[0].stacks", "not kn"),
    ("unknown position", "position: PB", "position: PX", 32, "operations[0].seams[0].position", "allowed: PA, PB"),
    ("point in the plane", "to: [100, 0, 0]", "to: [100, 0]",
     39, "operations[0].seams[0].path.pieces[0].to[2]", "value 3"),
    ("misspelt piece", "{via: [107", "{vai: [107",
     40, "operations[0].seams[0].path.pieces[1].vai", "did you mean 'via'?"),
    ("one sheet", "sheets: [skin, rib]", "sheets: [skin]", 52, "operations[1].stacks[0].sheets", "at least 2 values"),
    ("unknown material", "material: S235JR, t", "material: S23JR, t",
     20, "operations[0].components[0].material", "'S235JR'?"),
    ("unknown wire", "wire: G3Si1-1.0", "wire: G3Si1", 14, "operations[0].wire", "there is no wire of this name"),
    ("wire of another process", "process: 135", "process: 136",
     14, "operations[0].wire", "this wire is for process 135"),
    ("robot as a list", "robot: C1A", "robot: [C1A]", 30, "operations[0].seams[0].robot", "one value is expected"),
    ("components as text", "components: [rail, plate]", "components: rail, plate",
     33, "operations[0].seams[0].components", "a list is expected"),
    ("outline as text", "{unit: mm, points: [[0, 0], [200, 0], [200, 100], [0, 100]]}", "square", 26,
     "operations[0].components[1].outlines[0] = 'square'", "keys with values are expected"),
    ("three robots", "[C5A, C5B]", "[C5A, C5B, C6A]", 43, "operations[1].robots", "at most 2 values"),
    ("points and drawing", "{file: outline.dxf,", "{file: outline.dxf, points: [],", 27,
     "operations[0].components[1].outlines[1].file", "both 'file' and 'points'"),
    ("unknown gas", "gas: M21", "gas: M99", 15, "operations[0].gas", "there is no gas of this name"),
    ("unknown cell", "cell: C5", "cell: K5", 42, "operations[1].cell", "there is no cell of this name"),
    ("unknown robot", "robots: [C5A, C5B]", "robots: [C5A, C5X]",
     43, "operations[1].robots[1]", "there is no robot of this name"),
    ("robot of another cell", "robots: [C5A, C5B]", "robots: [C5A, C6B]",
     43, "operations[1].robots[1]", "is in cell 'C6'"),
    ("one robot twice", "robots: [C5A, C5B]", "robots: [C5A, C5A]", 43, "operations[1].robots[1]", "already named"),
    ("mixed pair", "robots: [C5A, C5B]", "robots: [C5A, C1B]", 43, "operations[1].robots[1]", "in cell 'C1', not"),
    ("no program", "{C5A: 21, C5B: 22}", "{C5A: 21}", 45, "operations[1].programs", "robot 'C5B' has no program"),
    ("program of another robot", "C5B: 22}", "C5B: 22, C1A: 1}",
     45, "operations[1].programs.C1A", "no robot in this operation"),
    ("unknown schedule", "    gas: M21", "    gas: M21\n    chart: x", 16, "operations[0].chart", "no arc chart"),
    ("unknown side", "[skin, rib]", "[skin, rib], visible: x", 52, "operations[1].stacks[0].visible", "no component"),
    ("unknown sheet", "sheets: [skin, rib]", "sheets: [skin, rip]",
     52, "operations[1].stacks[0].sheets[1]", "mean 'rib'?"),
    ("unknown part of a seam", "components: [rail, plate]", "components: [rail, x]",
     33, "operations[0].seams[0].components[1]", "no component"),
    ("two sizes of a seam", "throat: 3 mm", "throat: 3 mm\n        leg: 4 mm", 29, "operations[0].seams[0]", "and leg"),
    ("edge of a T fillet", "throat: 3 mm", "throat: 3 mm\n        edge: web",
     35, "operations[0].seams[0].edge", "for a lap"),
    ("flush of a fillet", "throat: 3 mm", "throat: 3 mm\n        flush: root",
     35, "operations[0].seams[0].flush", "a butt"),
    ("edge of none", "T fillet", "lap fillet\n        edge: webb",
     32, "operations[0].seams[0].edge", "allowed: plate, rail"),
    ("gap of a fillet", "throat: 3 mm", "gap: 1 mm", 29, "operations[0].seams[0]", "needs throat or leg alone; gap"),
    ("unknown section", "name: Rail,", "name: Rail, section: {form: pipe},", 20,
     "operations[0].components[0].section.form", "tube"),
    ("bare radius", "name: Rail,", "name: Rail, section: {form: round tube, corner radius: 6},", 20,
     "operations[0].components[0].section.corner radius", "needs its unit"),
    ("tube of two walls", "name: Rail,", "name: Rail, section: {form: round tube, outside diameter: 1 mm},", 20,
     "operations[0].components[0].section.outside diameter", "no more than two walls"),
    ("piece without length", "to: [100, 0, 0]", "to: [0, 0, 0]",
     39, "operations[0].seams[0].path.pieces[0]", "ends where"),
    ("operation named twice", "name: Panel\n", "name: Frame\n", 41, "operations[1].name", "already named in"),
    ("part named twice", "{id: rib,", "{id: skin,", 50, "operations[1].components[1].id", "on line 49"),
    ("outline without unit", "{unit: mm, points", "{points",
     26, "operations[0].components[1].outlines[0]", "not say its unit"),
    ("flat outline", ", [200, 100], [0, 100]]", "]",
     26, "operations[0].components[1].outlines[0]", "at least 3 points"),
    ("file elsewhere", "points.csv", "../points.csv", 53, "operations[1].welds", "only the plain name"),
    ("missing file", "points.csv", "point.csv", 53, "operations[1].welds", "there is no such file"),
    ("missing drawing", "outline.dxf", "outlin.dxf",
     27, "operations[0].components[1].outlines[1].file", "there is no such file"),
    ("welds twice", "    welds:", "    spots: []\n    welds:", 54, "operations[1].welds", "both 'welds' and 'spots'"),
    ("welds as a list", "welds: points.csv", "welds: [points.csv]", 53, "operations[1].welds", "the name of one file"),
    ("operations as text", "operations:", "notes: x\nrows: none\nrest:", 10, "operations", "a list is expected"),
    ("unknown previous order", "show first:", "previous order: wo-9\nshow first:", 8, "previous order", "no order of"),
    ("own successor", "show first:", "previous order: wo-1\nshow first:", 8, "previous order", "cannot follow itself"),
    ("unsafe previous order", "show first:", "previous order: ../x\nshow first:", 8, "previous order", "becomes"),
    ("long title", "Panel for tests", "x" * 81, 3, "title", "more than 80 characters"),
    ("empty title", "Panel for tests", "''", 3, "title", "the text is empty"),
    ("keys for a title", "title: Panel for tests", "title: {a: b}", 3, "title", "one value is expected"),
    ("repeated key", "quantity: 20", "quantity: 20\nquantity: 30", 6, "quantity", "already given on line 5"),
]  # fmt: skip


def test_a_flare_bevel_is_stated_by_its_throat_alone(load: Load, refused: Refused, folder: Path) -> None:
    change(folder, "joint: T fillet", "joint: flare bevel")
    change(folder, "throat: 3 mm", "leg: 3 mm")
    (text,) = refused(load).split("\ninstructions")
    assert "operations[0].seams[0]" in text
    assert "a flare bevel needs throat alone; leg is given" in text


def test_the_section_of_a_tube_is_read(load: Load, folder: Path) -> None:
    tube = "name: Rail, section: {form: cold-formed tube, corner radius: 0.25 in, axis: X},"
    change(folder, "name: Rail,", tube)
    section = load().order.operations[0].components[0].section
    assert section is not None
    assert (section.form, section.corner_radius, section.axis) == ("cold-formed tube", quantity(0.25, "in"), "X")
    assert load().order.operations[0].components[1].section is None


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "words"), [case[1:] for case in BROKEN], ids=[c[0] for c in BROKEN]
)
def test_a_broken_order_is_reported_with_file_line_and_key(  # noqa: PLR0917 - one case is one line
    load: Load, refused: Refused, folder: Path, old: str, new: str, line: int, key: str, words: str
) -> None:
    change(folder, old, new)
    paragraphs = [text for text in refused(load).split("\ninstructions") if words in text]
    assert paragraphs
    assert f"/wo-1/order.yaml:{line}: {key}" in paragraphs[0]


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "words"),
    [
        ("P2,C5A", "P1,C5A", 3, "operations[1].spots[1].id", "points.csv on line 2"),
        ("P3,C5B", "P3,C5X", 4, "operations[1].spots[2].robot", "no robot in this operation"),
        ("C5B,S1", "C5B,S9", 4, "operations[1].spots[2].stack", "no stack in this operation"),
        ("50.5", "5e9", 3, "operations[1].spots[1].x", "outside"),
        ("P2,", "P 2,", 3, "operations[1].spots[1].id", "short identifier"),
    ],
    ids=["repeated point", "unknown robot", "unknown stack", "absurd coordinate", "unfit name"],
)
def test_a_broken_weld_list_is_reported_with_its_own_file_and_line(  # noqa: PLR0917 - one case is one line
    load: Load, refused: Refused, folder: Path, old: str, new: str, line: int, key: str, words: str
) -> None:
    change(folder, old, new, "points.csv")
    message = refused(load)
    assert f"instructions/wo-1/points.csv:{line}: {key}" in message
    assert words in message


def test_an_operation_that_is_only_text_is_reported(load: Load, refused: Refused, folder: Path) -> None:
    (folder / "order.yaml").write_text("operations:\n  - arc\n", encoding="utf-8")
    assert "order.yaml:2: operations[0] = 'arc'" in refused(load)


def test_the_faults_of_all_files_of_an_order_are_reported_at_once(load: Load, refused: Refused, folder: Path) -> None:
    change(folder, "x (mm)", "x", "points.csv")
    change(folder, "layer: PLATE", "layer: PLAT")
    message = refused(load)
    assert "points.csv:1" in message
    assert "nothing is drawn on layer 'PLAT'" in message


def test_all_faults_of_an_order_are_reported_at_once(load: Load, refused: Refused, folder: Path) -> None:
    for old, new in (("quantity: 20", "quantity: x"), ("thickness: 3 mm", "thickness: 3"), ("cell: C5", "cell: K5")):
        change(folder, old, new)
    change(folder, "C5B,S1", "C5B,S2", "points.csv")
    message = refused(load)
    assert "points.csv:4: operations[1].spots[2].stack = 'S2'" in message
    assert [
        place in message for place in ("yaml:5: quantity", "yaml:20: operations[0]", "yaml:42: operations[1].cell")
    ] == [True] * 3


SEAMS = """\
id;robot;joint;position;component 1;component 2;throat (mm);x (mm);y (mm);z (mm);piece
A1;C1A;T fillet;PB;rail;plate;3;0;0;0;
A1;;;;;;;100;0;0;
A1;;;;;;;107;3;0;via
A1;;;;;;;110;10;0;
A2;C1B;lap fillet;PB;rail;plate;3.5;0;50;0;
A2;C1B;;;;;;60;50;0;to
"""


def with_seam_list(folder: Path, text: str = SEAMS) -> None:
    order = (folder / "order.yaml").read_text(encoding="utf-8")
    start, end = order.index("    seams:"), order.index("  - name: Panel")
    (folder / "order.yaml").write_text(order[:start] + "    welds: seams.csv\n" + order[end:], encoding="utf-8")
    (folder / "seams.csv").write_text(text, encoding="utf-8")


def test_seams_come_from_a_list_of_the_points_of_their_paths(load: Load, folder: Path) -> None:
    typed = load().order.operations[0]
    with_seam_list(folder)
    listed = load().order.operations[0]
    assert isinstance(typed, ArcOperation)
    assert isinstance(listed, ArcOperation)
    assert listed.seams[0] == typed.seams[0]
    assert (listed.seams[1].robot, listed.seams[1].joint, len(listed.seams[1].path.pieces)) == ("C1B", "lap fillet", 1)


def test_a_list_of_seams_may_number_their_sets(load: Load, folder: Path) -> None:
    lines = zip(SEAMS.splitlines(), ("weld schedule", "3", "", "", "", "4", "4"), strict=True)
    with_seam_list(folder, "".join(f"{line};{number}\n" for line, number in lines))
    operation = load().order.operations[0]
    assert isinstance(operation, ArcOperation)
    assert [seam.weld_schedule for seam in operation.seams] == [3, 4]


@pytest.mark.parametrize(
    ("old", "new", "place", "words"),
    [
        ("z (mm)", "z (in)", "seams.csv:1:", "different units"),
        ("A2;C1B;lap", "A0;C1B;lap", "seams.csv:7: operations[0].seams[2].joint", "missing"),
        ("A2;C1B;;;", "A1;;;;", "seams.csv:7: id = 'A1'", "do not follow each other"),
        ("A2;C1B;;;", "A2;C1A;;;", "seams.csv:7: robot = 'C1A'", "given twice"),
        ("60;50;0;to", "60;50;0;via", "seams.csv:7: piece = 'via'", "no end"),
        ("100;0;0;", "100;0;0;via", "seams.csv:4: piece = 'via'", "one point 'via'"),
        ("60;50;0;to", "0;50;0;to", "seams.csv:7: operations[0].seams[1].path.pieces[0]", "ends where it begins"),
        ("T fillet", "T filet", "seams.csv:2: operations[0].seams[0].joint", "did you mean 'T fillet'?"),
    ],
)
def test_a_broken_seam_list_is_reported_with_its_line(  # noqa: PLR0917 - one case is one line
    load: Load, refused: Refused, folder: Path, old: str, new: str, place: str, words: str
) -> None:
    assert SEAMS.count(old) == 1
    with_seam_list(folder, SEAMS.replace(old, new))
    message = refused(load)
    assert place in message
    assert words in message


def test_orders_are_listed_by_name(workspace: Workspace, folder: Path) -> None:
    (folder.parent / "wo-2").mkdir()
    (folder.parent / "wo-2" / "order.yaml").touch()
    (folder.parent / "order.schema.json").touch()
    (folder.parent / ".hidden").mkdir()
    assert order_names(workspace.root) == ("wo-1", "wo-2")


def test_unfit_folders_among_the_orders_are_reported_together(
    workspace: Workspace, refused: Refused, folder: Path
) -> None:
    for name in ("Wo-3", "empty"):
        (folder.parent / name).mkdir()
    message = refused(lambda: order_names(workspace.root))
    assert "instructions/Wo-3:" in message
    assert "rename it: lower-case letters, digits and inner hyphens" in message
    assert "instructions/empty:" in message


def test_a_folder_without_instructions_is_reported(tmp_path: Path, refused: Refused) -> None:
    assert "there is no such folder" in refused(lambda: order_names(tmp_path))


@pytest.mark.parametrize("name", ["a", "wo-1042", "2026", "a" * 64])
def test_a_safe_name_is_accepted(name: str) -> None:
    check_name(name)


@pytest.mark.parametrize(
    "name",
    [
        "",
        "..",
        "a/b",
        "a\\b",
        "Wo-1",
        "wo_1",
        "-a",
        "a-",
        "wo 1",
        "nul",
        "con",
        "com1",
        "lpt9",
        "a" * 65,
        "é",
        "a\n",
        "a.b",
    ],
)
def test_an_unsafe_name_is_refused(name: str) -> None:
    with pytest.raises(SourceError, match="this cannot be the name of an order"):
        check_name(name)


def test_a_number_in_place_of_the_folder_is_refused_with_what_to_write() -> None:
    with pytest.raises(SourceError, match="name of its folder in instructions/, not its number"):
        check_name("LK-2041")


def test_an_unknown_order_is_reported_with_the_nearest(workspace: Workspace, refused: Refused) -> None:
    assert "did you mean 'wo-1'?" in refused(lambda: load_order(workspace, "wo-11"))


def test_a_linked_order_folder_is_not_entered(workspace: Workspace, folder: Path, refused: Refused) -> None:
    (folder.parent / "wo-2").symlink_to(folder)
    assert "folder is a symbolic link" in refused(lambda: load_order(workspace, "wo-2"))


def test_a_linked_weld_list_is_not_followed(load: Load, refused: Refused, folder: Path, tmp_path: Path) -> None:
    (folder / "points.csv").rename(tmp_path / "points.csv")
    (folder / "points.csv").symlink_to(tmp_path / "points.csv")
    assert "symbolic link" in refused(load)


def test_a_later_refusal_finds_its_place_from_its_key(load: Load) -> None:
    sourced = load()
    problem = refusal("too thick", "choose another chart", key="operations[0].components[1].thickness").problems[0]
    assert (sourced.placed(problem).file, sourced.placed(problem).line) == ("instructions/wo-1/order.yaml", 24)
    spot = replace(problem, key="operations[1].spots[2].x")
    assert (sourced.placed(spot).file, sourced.placed(spot).line) == ("instructions/wo-1/points.csv", 4)


def test_an_unknown_robot_is_reported_once_and_not_at_every_weld_of_its_partner(
    folder: Path, load: Load, refused: Refused
) -> None:
    change(folder, "robots: [C1A, C1B]", "robots: [C1Z, C1B]")
    message = refused(load)
    assert "robots[0] = 'C1Z'" in message
    assert "seams[0].robot" not in message


def test_the_path_of_an_order_is_answered_with_its_name() -> None:
    with pytest.raises(SourceError, match="write only the name of its folder: wo-1"):
        check_name("instructions/wo-1/order.yaml")


def test_a_list_beside_an_order_that_nothing_names_is_reported(load: Load, refused: Refused, folder: Path) -> None:
    (folder / "old_points.csv").write_text("id\n")
    assert "wo-1/old_points.csv:\n    nothing names this file, so that it is not read" in refused(load)


def test_a_process_that_no_robot_does_has_a_remedy_of_its_own(
    workspace: Workspace, folder: Path, refused: Refused
) -> None:
    approved = workspace.approved
    none = replace(workspace, approved=replace(approved, power_sources={}))
    message = refused(lambda: load_order(none, "wo-1"))
    assert "no robot in the tables does it" in message
    assert "cannot be the 'previous order' of one after it" in message
    change(
        folder,
        "cell: C5\n    robots: [C5A, C5B]\n    process: 21",
        "cell: C5\n    robots: [C5A, C5B]\n    process: 135",
    )
    assert "no robot in the tables" not in refused(lambda: load_order(workspace, "wo-1"))
