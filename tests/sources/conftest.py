"""A small workspace: the demo's tables, and one order with an enclosed weld list and drawing."""

import shutil
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
from weld_packets.errors import SourceError
from weld_packets.sources.orders.orders import SourcedOrder, load_order
from weld_packets.sources.tables.tables import Workspace, load_workspace

ROOT = Path(__file__).resolve().parents[2]
GOOD = Path(__file__).parent / "good"
Load = Callable[[], SourcedOrder]
Refused = Callable[[Callable[[], object]], str]


def draw_outline(path: Path) -> None:
    drawing = ezdxf.new("R2010")
    drawing.header["$INSUNITS"] = 4
    corners = [(0, 0), (80, 0), (80, 40), (0, 40)]
    drawing.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "PLATE"})
    drawing.modelspace().add_circle((20, 20), 5, dxfattribs={"layer": "PLATE"})
    drawing.modelspace().add_line((0, 0), (5, 5), dxfattribs={"layer": "NOTES"})
    drawing.saveas(path)


@pytest.fixture(scope="session")
def good_workspace(tmp_path_factory: pytest.TempPathFactory) -> Workspace:
    root = tmp_path_factory.mktemp("workspace")
    shutil.copytree(ROOT / "tables", root / "tables")
    return load_workspace(root)


@pytest.fixture(scope="session")
def outline(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The drawing of the order, which takes longer to make than to read."""
    path = tmp_path_factory.mktemp("drawing") / "outline.dxf"
    draw_outline(path)
    return path


@pytest.fixture
def workspace(good_workspace: Workspace, outline: Path, tmp_path: Path) -> Workspace:
    """The demo's tables, and a fresh folder with the order ``wo-1``."""
    folder = tmp_path / "instructions" / "wo-1"
    folder.mkdir(parents=True)
    for name in ("order.yaml", "points.csv"):
        shutil.copy(GOOD / name, folder / name)
    shutil.copy(outline, folder)
    return Workspace(tmp_path, good_workspace.approved, good_workspace.places)


@pytest.fixture
def load(workspace: Workspace) -> Load:
    """Loads the order ``wo-1`` as it now is."""
    return lambda: load_order(workspace, "wo-1")


@pytest.fixture
def folder(workspace: Workspace) -> Path:
    """The folder of the order ``wo-1``."""
    return workspace.root / "instructions" / "wo-1"


@pytest.fixture
def refused() -> Refused:
    """Runs a call that must be refused and returns the message to the user."""

    def run(call: Callable[[], object]) -> str:
        with pytest.raises(SourceError) as caught:
            call()
        return str(caught.value)

    return run
