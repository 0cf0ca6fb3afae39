"""Ed25519 signatures (RFC 8032) over the bytes of a record; needs the extra ``sign``."""

from __future__ import annotations

import base64
import importlib
from dataclasses import dataclass
from typing import Any, Literal, TypeVar

from pydantic import ValidationError

from weld_packets.errors import PacketError, unplaced
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.record import Digest
from weld_packets.revisions.register.entries import InlineSignature, SignedInline, Signing
from weld_packets.units import Plain

_ED25519 = bytes.fromhex("302a300506032b6570032100")
"""How the encoding of a public key begins (RFC 8410, section 4)."""
_KEY_BYTES = 32

_Entry = TypeVar("_Entry", bound=SignedInline)


class SignatureFile(Plain):
    """The content of the file beside a record: who signed, with which key, over which bytes."""

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
            key=self.key, public_key=public, record_digest=sha256(data), signature=signature_of(self.secret, data).hex()
        )
        content = canonical(made.model_dump())
        return content, Signing(key=self.key, public_key=public, sha256=sha256(content))

    def signed(self, entry: _Entry) -> _Entry:
        """Return ``entry`` with its signature in it."""
        whole = type(entry).model_validate_json(entry.model_dump_json(), strict=True)  # every key stated
        made = InlineSignature(
            key=self.key,
            public_key=public_of(self.secret).hex(),
            signature=signature_of(self.secret, whole.signed_bytes).hex(),
        )
        return whole.model_copy(update={"signature": made})


def name_of(signer: Signer | None) -> str:
    """Return the name of the key that signs; empty where nobody does."""
    return signer.key if signer else ""


def signed_by(signer: Signer | None, entry: _Entry) -> _Entry:
    """Return ``entry`` with the signature of ``signer`` in it, where there is one."""
    return signer.signed(entry) if signer else entry


def signature_of(secret: bytes, message: bytes) -> bytes:
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
    form = _library("primitives.serialization")
    key = _ed25519().Ed25519PublicKey.from_public_bytes(public)
    return bytes(key.public_bytes(form.Encoding.PEM, form.PublicFormat.SubjectPublicKeyInfo))


def fingerprint(pem: bytes) -> str:
    """Return the SHA-256 of a public key as RFC 8410 encodes it, empty where the file holds no such key.

    Any program for digests gives the same: it needs no library of signatures.
    """
    # The file's two marks and its lines of base64 between them.
    inner = pem.replace(b"-----BEGIN PUBLIC KEY-----", b"").replace(b"-----END PUBLIC KEY-----", b"")
    try:
        encoded = base64.b64decode(b"".join(inner.split()), validate=True)  # a file
    except ValueError:
        return ""
    is_key = encoded.startswith(_ED25519) and len(encoded) == len(_ED25519) + _KEY_BYTES  # bytes
    return sha256(encoded) if is_key else ""


def private_pem(secret: bytes) -> bytes:
    """Return a private key as other programs read it (PKCS #8, RFC 8410), without a password."""
    form = _library("primitives.serialization")
    key = _ed25519().Ed25519PrivateKey.from_private_bytes(secret)
    return bytes(key.private_bytes(form.Encoding.PEM, form.PrivateFormat.PKCS8, form.NoEncryption()))


def secret_of(pem: bytes) -> bytes | None:
    """Return the seed in the file of a private key; None for anything but an Ed25519 key without a password."""
    form = _library("primitives.serialization")
    unsupported = importlib.import_module("cryptography.exceptions").UnsupportedAlgorithm
    try:
        key = form.load_pem_private_key(pem, password=None)
    except (ValueError, TypeError, unsupported):
        return None
    return bytes(key.private_bytes_raw()) if isinstance(key, _ed25519().Ed25519PrivateKey) else None


def _ed25519() -> Any:
    return _library("primitives.asymmetric.ed25519")


def _library(module: str) -> Any:
    """Return a module of the library that signs; raise PacketError where it is not installed."""
    try:
        return importlib.import_module(f"cryptography.hazmat.{module}")
    except ImportError:
        message = "signing needs a library that is not installed"
        remedy = "install it with: pip install 'weld-cell-packets[sign]'"
        raise PacketError([unplaced("sign", "", message, remedy)]) from None
