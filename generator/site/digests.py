"""Recognise an order whose sources, tables and generator are unchanged without parsing any of them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from importlib.metadata import version
from pathlib import Path

from generator.site.landing import read_card

_GENERATOR = Path(__file__).parent.parent
_LIBRARIES = ("mkdocs", "mkdocs-material", "jinja2", "matplotlib", "pint", "pydantic", "segno", "ezdxf")


def fingerprint(paths: Iterable[Path], root: Path, *, salt: str = "") -> str:
    """Return one digest over the names (relative to ``root``) and contents of ``paths``, and over ``salt``."""
    total = hashlib.sha256(salt.encode())
    for path in sorted(paths):
        content = hashlib.sha256(path.read_bytes()).digest()
        total.update(path.relative_to(root).as_posix().encode() + b"\0" + content)
    return total.hexdigest()


def generator_fingerprint(workspace: Path) -> str:
    """Return a digest of all that shapes every site: this program, its libraries, ``mkdocs.yml``, the overrides."""
    own = [path for path in _GENERATOR.rglob("*") if path.is_file() and path.suffix != ".pyc"]
    libraries = ",".join(f"{name}={version(name)}" for name in _LIBRARIES)
    look = [workspace / "mkdocs.yml", *(p for p in (workspace / "site_overrides").rglob("*") if p.is_file())]
    return fingerprint(look, workspace, salt=fingerprint(own, _GENERATOR, salt=libraries))


def is_current(site: Path, expected: str) -> bool:
    """Return whether ``site`` was built from inputs of the fingerprint ``expected``."""
    card = read_card(site)
    return card is not None and card.get("fingerprint") == expected and (site / "index.html").is_file()
