"""The plant's signing keys: the private one wherever its holder keeps it, the public one among the instructions."""

from __future__ import annotations

import re
from pathlib import Path

from weld_packets.errors import PacketError, Problem, unplaced
from weld_packets.files import real_path, reserved
from weld_packets.revisions.register.integrity import public_key_path
from weld_packets.revisions.register.signing import (
    Signer,
    fingerprint,
    new_secret,
    private_pem,
    public_of,
    public_pem,
    secret_of,
)
from weld_packets.revisions.store.disk import Disk

_NAME = re.compile(r"[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?")  # what a person typed
_OWNER_ALONE = 0o600


def make_key(instructions: Path, name: str, private: Path, disk: Disk | None = None) -> Path:
    """Make a key pair and return the file of the public key; the private key goes to ``private``, for its owner alone.

    Raises PacketError for an unsafe name, an existing file, and a private file among the instructions.
    """
    public = instructions / public_key_path(_named(name))
    if reserved(name):
        raise _refused(public, "is a name that Windows keeps for a device", "choose another name")
    if real_path(private).is_relative_to(real_path(instructions)):
        raise _refused(private, "would be published with the instructions", "choose a file elsewhere")
    for path in (public, private):
        if path.exists():
            raise _refused(path, "exists already; keys are never overwritten", "choose another name")
    secret, at = new_secret(), disk or Disk()
    try:
        at.create(private, private_pem(secret), _OWNER_ALONE)
        at.make_folder(public.parent)
        at.create(public, public_pem(public_of(secret)))
    except OSError as error:
        for path in (private, public):  # neither was there: half of a key would bar the next try
            path.unlink(missing_ok=True)
        raise _refused(private, f"cannot be written: {error.strerror}", "choose a folder that you may write") from None
    return public


def key_fingerprints(instructions: Path) -> dict[str, str]:
    """Return the fingerprint of each public key of the plant by its name, empty for a file that holds no key."""
    files = sorted((instructions / "keys").glob("*.pub"))
    return {path.stem: fingerprint(path.read_bytes()) for path in files if path.is_file()}


def key_line(name: str, digits: str) -> str:
    """Return a key with its fingerprint, for writing down."""
    return f"key {name} {digits}"


def load_signer(instructions: Path, name: str, private: Path) -> Signer:
    """Return the signer with the private key in ``private``.

    Raises PacketError for a file that is no such key, and one that does not belong to the public key ``name``.
    """
    public = instructions / public_key_path(_named(name))
    for path in (private, public):
        if not path.is_file():
            raise _refused(path, "there is no such key file", "make a key, or name it right")
    secret = secret_of(private.read_bytes())
    if secret is None:
        raise _refused(private, "is not an Ed25519 private key without a password", "name the right file")
    if public.read_bytes() != public_pem(public_of(secret)):
        raise _refused(private, f"does not belong to the public key {name}", "name the key that it was made with")
    return Signer(name, secret)


def _named(name: str) -> str:
    if _NAME.fullmatch(name) is None:
        message = "is not a name for a key"
        raise PacketError([unplaced("key", name, message, "use lower-case letters, digits and inner hyphens")])
    return name


def _refused(path: Path, message: str, remedy: str) -> PacketError:
    return PacketError([Problem(str(path), 0, "", "", message, remedy)])
