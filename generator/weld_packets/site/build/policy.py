"""The Content-Security-Policy of a page: own files only, inline scripts by their hash."""

from __future__ import annotations

import base64
import hashlib
import re
from functools import cache

_INLINE_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
_RULES = (
    "default-src 'none'",
    "style-src 'self'",
    "img-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
)


def policy_for(frame: str) -> str:
    """Return the policy for a page whose frame (all of it but the packet's own body) is ``frame``."""
    return _policy(tuple(inline_scripts(frame)))


def inline_scripts(page: str) -> list[str]:
    """Return the text of each script in the page itself and would run."""
    return _INLINE_SCRIPT.findall(page)


def with_last_script_allowed(page: str) -> str:
    """Return ``page`` with its last inline script, which was added after the page was written, named in its policy."""
    *_, added = inline_scripts(page)
    return page.replace("script-src 'self'", f"script-src 'self' 'sha256-{_digest(added)}'", 1)


def policy_names(page: str, script: str) -> bool:
    """Return whether the policy in ``page`` allows ``script``."""
    head, _, _ = page.partition("</head>")
    return f"'sha256-{_digest(script)}'" in head


@cache
def _policy(scripts: tuple[str, ...]) -> str:
    hashes = sorted({f"'sha256-{_digest(script)}'" for script in scripts})
    return "; ".join((_RULES[0], " ".join(["script-src 'self'", *hashes]), *_RULES[1:]))


@cache
def _digest(script: str) -> str:
    return base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
