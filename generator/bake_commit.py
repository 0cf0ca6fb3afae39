"""Write into each wheel and source archive from which commit it was built, since no git is there to ask later."""

from __future__ import annotations

from pathlib import Path
from runpy import run_path

from setuptools.command.build_py import build_py
from setuptools.command.sdist import sdist

_PACKAGE = Path(__file__).parent / "weld_packets"
_CODE = run_path(str(_PACKAGE / "commands" / "shared" / "code_version.py"))


def _bake(package: Path) -> None:
    (package / _CODE["BAKED"]).write_text(f"{_CODE['commit_of'](_PACKAGE)}\n", encoding="ascii")


class BuildPy(build_py):
    """Bakes the commit into what goes into a wheel; an editable installation is a checkout and can be asked."""

    def run(self) -> None:
        """Copy the package, then write the commit beside it."""
        super().run()
        if not self.editable_mode:
            _bake(Path(self.build_lib) / _PACKAGE.name)


class Sdist(sdist):
    """Bakes the commit into a source archive, from which a wheel may be built elsewhere."""

    def make_release_tree(self, base_dir: str, files: list[str]) -> None:
        """Copy the sources and this file, without which no wheel is made of them, and write the commit beside them."""
        super().make_release_tree(base_dir, [*files, f"{_PACKAGE.parent.name}/{Path(__file__).name}"])
        _bake(Path(base_dir) / _PACKAGE.parent.name / _PACKAGE.name)
