"""Whatever the bytes of a source are, its writer gets an answer in plain words."""

import contextlib
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.errors import SourceError
from weld_packets.model.order import Order
from weld_packets.model.tables.approved import TABLE_KINDS, ApprovedTables
from weld_packets.sources.drawings.outlines import read_outlines
from weld_packets.sources.orders.enclosures import SEAM_COLUMNS, SPOT_COLUMNS, enclose, seams_of
from weld_packets.sources.orders.orders import name_problems
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import decode
from weld_packets.sources.reading.places import Document, Places, key_path, key_text
from weld_packets.sources.reading.sheet import read_sheet
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.tables.rows import expand_rows
from weld_packets.sources.tables.tables import Workspace

ORDER = (Path(__file__).parent / "good" / "order.yaml").read_bytes()
ORDER = ORDER.replace(b"          - {file: outline.dxf, layer: PLATE}\n", b"")
ORDER = ORDER.replace(b"    welds: points.csv\n", b"    spots: [{id: P1, robot: C5A, stack: S1, x: 1 mm}]\n")
SHEET = (Path(__file__).parent / "good" / "points.csv").read_bytes()
SIGNS = st.sampled_from([*":-?[]{},&*!|>'\"%@`#\\~=<\n\r\t \x00\x85\u2028\ufeff\ud7ff", "- ", ": ", "---\n", "<<: "])
MARKUP = st.lists(SIGNS | st.text(max_size=3), max_size=40).map("".join)
quick = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def answered(call: Callable[[], object]) -> None:
    """Run a call that may refuse its source and may not fail in any other way."""
    with contextlib.suppress(SourceError):
        call()


def spoilt(good: bytes) -> st.SearchStrategy[bytes]:
    """Return sources in which a slice of ``good`` is replaced by a few bytes."""
    places = st.integers(0, len(good))
    return st.builds(
        lambda a, b, new: good[: min(a, b)] + new + good[max(a, b) :], places, places, st.binary(max_size=6)
    )


def read_order(data: bytes, approved: ApprovedTables, loader: type = yaml.CSafeLoader) -> None:
    document = read_yaml(decode(data, "order.yaml"), "order.yaml", loader)
    whole = enclose(document, Path("/nowhere"))
    list(name_problems(whole, approved))
    bind(whole, Order)


@quick
@given(data=st.binary(max_size=300) | MARKUP.map(str.encode))
@pytest.mark.parametrize("loader", [yaml.SafeLoader, yaml.CSafeLoader])
def test_any_bytes_as_an_order_are_answered(data: bytes, loader: type, good_workspace: Workspace) -> None:
    answered(lambda: read_order(data, good_workspace.approved, loader))


@quick
@given(data=spoilt(ORDER))
def test_a_spoilt_order_is_answered(data: bytes, good_workspace: Workspace) -> None:
    answered(lambda: read_order(data, good_workspace.approved))


TREES = st.recursive(
    st.text(max_size=8) | st.sampled_from(["3 mm", "1e3", "21", "135", "none", "-5", "nan"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
TABLE_KEYS = st.sampled_from(
    ["columns", "operations", "entries", "chart", "cells", "tolerance", "thickness", "when", "table"]
)


@quick
@given(st.dictionaries(TABLE_KEYS, TREES), st.sampled_from(sorted(TABLE_KINDS)))
def test_any_tree_as_a_table_is_answered(tree: dict[str, object], kind: str) -> None:
    record = TABLE_KINDS[kind]
    answered(lambda: bind(expand_rows(Document(tree | {"kind": kind}, Places("t.yaml")), record), record))


@quick
@given(st.binary(max_size=200) | spoilt(SHEET))
def test_any_bytes_as_a_weld_list_are_answered(data: bytes) -> None:
    answered(lambda: read_sheet(decode(data, "points.csv"), "points.csv", SPOT_COLUMNS))
    answered(lambda: seams_of(read_sheet(decode(data, "points.csv"), "points.csv", SEAM_COLUMNS)))


@pytest.fixture(scope="module")
def drawing(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    document = ezdxf.new("R12")
    document.modelspace().add_polyline2d([(0, 0, 0), (10, 0, 1), (10, 10, 0)], format="xyb", close=True)
    document.modelspace().add_circle((5, 5), 1)
    path = tmp_path_factory.mktemp("drawing") / "a.dxf"
    document.saveas(path)
    return path.read_bytes()


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_spoilt_drawing_is_answered(data: st.DataObject, drawing: bytes, tmp_path: Path) -> None:
    path = tmp_path / "a.dxf"
    path.write_bytes(data.draw(spoilt(drawing) | st.binary(max_size=100)))
    answered(lambda: read_outlines(path, "a.dxf", unit="mm"))


@given(st.lists(st.integers(0, 99) | st.from_regex(r"[a-z][a-z ]{0,8}[a-z]", fullmatch=True), max_size=6))
def test_a_printed_key_path_leads_back_to_its_place(steps: list[str | int]) -> None:
    assert key_path(key_text(tuple(steps))) == tuple(steps)
