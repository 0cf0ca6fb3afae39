"""The SHA-256 of every file of an emitted site, and what differs from it."""

from __future__ import annotations

import json
from collections.abc import Mapping

MANIFEST = "manifest.json"
"""Name of the manifest inside a site; it does not list itself."""


def manifest_of(digests: Mapping[str, str]) -> bytes:
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
    return missing + foreign + altered + ([] if manifest_of(listed) == manifest else [(MANIFEST, "is altered")])


def _listed(manifest: bytes) -> dict[str, str] | None:
    try:
        content = json.loads(manifest)["sha256"]
    except (ValueError, TypeError, KeyError):
        return None
    whole = isinstance(content, dict) and all(isinstance(digest, str) for digest in content.values())
    return content if whole else None
