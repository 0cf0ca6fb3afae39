"""Ed25519 signatures (RFC 8032) over the bytes of a record; needs the extra ``sign``."""

from __future__ import annotations

import base64
import importlib
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import ValidationError

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records import Plain
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.record import Digest
from weld_packets.revisions.register.register import Signing

_PUBLIC_PREFIX = bytes.fromhex("302a300506032b6570032100")
_PRIVATE_PREFIX = bytes.fromhex("302e020100300506032b657004220420")
"""What RFC 8410 puts before the 32 bytes of an Ed25519 key."""


class SignatureFile(Plain):
    """What stands in the file beside a record: who signed, with which key, over which bytes."""

    signature_version: Literal[1] = 1
    algorithm: Literal["Ed25519"] = "Ed25519"
    key: str
    public_key: Digest
    record_digest: Digest
    signature: str


@dataclass(frozen=True)
class Signer:
    """The plant's key by its name; ``secret`` is the 32-byte seed and shows nowhere."""

    key: str
    secret: bytes

    def __repr__(self) -> str:
        """Return the name alone."""
        return f"Signer({self.key!r})"

    def sign(self, data: bytes) -> tuple[bytes, Signing]:
        """Return the signature file over ``data`` and how the register lists it."""
        public = public_of(self.secret).hex()
        made = SignatureFile(
            key=self.key, public_key=public, record_digest=sha256(data), signature=sign(self.secret, data).hex()
        )
        content = canonical(made.model_dump())
        return content, Signing(key=self.key, public_key=public, sha256=sha256(content))


def sign(secret: bytes, message: bytes) -> bytes:
    """Return the 64-byte signature of ``message`` by the key with the 32-byte seed ``secret``."""
    return bytes(_ed25519().Ed25519PrivateKey.from_private_bytes(secret).sign(message))


def public_of(secret: bytes) -> bytes:
    """Return the 32-byte public key of the seed ``secret``."""
    return bytes(_ed25519().Ed25519PrivateKey.from_private_bytes(secret).public_key().public_bytes_raw())


def new_secret() -> bytes:
    """Return a new 32-byte seed."""
    return bytes(_ed25519().Ed25519PrivateKey.generate().private_bytes_raw())


def holds(public: bytes, signature: bytes, message: bytes) -> bool:
    """Return whether ``signature`` is the one of ``message`` by the holder of ``public``."""
    invalid = importlib.import_module("cryptography.exceptions").InvalidSignature
    try:
        _ed25519().Ed25519PublicKey.from_public_bytes(public).verify(signature, message)
    except (ValueError, invalid):
        return False
    return True


def can_sign() -> bool:
    """Return whether the library is installed."""
    try:
        _ed25519()
    except PacketError:
        return False
    return True


def read_signature(content: bytes) -> SignatureFile | None:
    """Return what a signature file says, None where it says nothing that can be read."""
    try:
        return SignatureFile.model_validate_json(content, strict=True)
    except ValidationError:
        return None


def public_pem(public: bytes) -> bytes:
    """Return a public key as other programs read it (SubjectPublicKeyInfo, RFC 8410)."""
    return _pem("PUBLIC KEY", _PUBLIC_PREFIX + public)


def private_pem(secret: bytes) -> bytes:
    """Return a private key as other programs read it (PKCS #8, RFC 8410)."""
    return _pem("PRIVATE KEY", _PRIVATE_PREFIX + secret)


def secret_of(pem: bytes) -> bytes | None:
    """Return the seed in a private key as ``private_pem`` writes it, None for anything else."""
    try:
        body = base64.b64decode(b"".join(pem.split(b"\n")[1:-2]), validate=True)
    except ValueError:
        return None
    secret = body.removeprefix(_PRIVATE_PREFIX)
    return secret if private_pem(secret) == pem else None


def _pem(label: str, body: bytes) -> bytes:
    return f"-----BEGIN {label}-----\n{base64.b64encode(body).decode()}\n-----END {label}-----\n".encode()


def _ed25519() -> Any:
    try:
        return importlib.import_module("cryptography.hazmat.primitives.asymmetric.ed25519")
    except ImportError:
        message = "signing needs a library that is not installed"
        remedy = "install it with: pip install 'weld-cell-packets[sign]'"
        raise PacketError([Problem("", 0, "sign", "", message, remedy)]) from None
