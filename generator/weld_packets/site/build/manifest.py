"""The SHA-256 of every file of a site, written beside them, so that an altered page shows."""

from __future__ import annotations

import json
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

MANIFEST = "manifest.json"
"""Name of the manifest inside a site; it does not list itself."""


def manifest_bytes(digests: Mapping[str, str]) -> bytes:
    """Return the manifest over files by path inside the site, with their SHA-256."""
    text = json.dumps({"sha256": dict(digests)}, indent=1, sort_keys=True, ensure_ascii=False)
    return (text + "\n").encode()


def compare_manifest(manifest: bytes, found: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return each file that differs between ``manifest`` and the SHA-256 that were ``found``, with how it differs."""
    listed = _listed(manifest)
    if listed is None:
        return [(MANIFEST, "is altered and cannot be read")]
    missing = [(name, "is missing") for name in sorted(listed.keys() - found.keys())]
    foreign = [(name, "does not belong to the site") for name in sorted(found.keys() - listed.keys())]
    altered = [(name, "is altered") for name in sorted(listed) if listed[name] != found.get(name, listed[name])]
    return missing + foreign + altered + ([] if manifest_bytes(listed) == manifest else [(MANIFEST, "is altered")])


def write_manifest(site: Path, written: Mapping[str, bytes], linked: Mapping[str, str]) -> None:
    """Write the manifest of ``site``: contents that were ``written`` by path, of what is ``linked`` the SHA-256."""
    listed = {**linked, **{name: sha256(content).hexdigest() for name, content in written.items()}}
    (site / MANIFEST).write_bytes(manifest_bytes(listed))


def _listed(manifest: bytes) -> dict[str, str] | None:
    try:
        content = json.loads(manifest)["sha256"]
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
    whole = isinstance(content, dict) and all(_is_text(name) and _is_text(digest) for name, digest in content.items())
    return content if whole else None


def _is_text(value: object) -> bool:
    """Return whether a value is text that a file can hold: JSON may spell half of a pair of UTF-16."""
    return isinstance(value, str) and not any("\ud800" <= sign <= "\udfff" for sign in value)
