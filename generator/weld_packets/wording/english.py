"""English: lists, counts, capitals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

FEW = 4
"""Names that are listed in full."""


def capital(label: str) -> str:
    """Return a label with a capital letter first."""
    return label[:1].upper() + label[1:]


def inside(label: str) -> str:
    """Return a label as it is written inside a sentence; ``T fillet`` and abbreviations keep their capital."""
    first = label.split(maxsplit=1)[0] if label else ""  # how its first word is written, whatever it says
    keeps = first[1:2].isupper() or (len(first) == 1 and first != "A")
    return label if keeps else label[:1].lower() + label[1:]


def listed(names: Iterable[str]) -> str:
    """Return ``a``, ``a and b``, or ``a, b and c``."""
    words = list(names)
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def counted(number: int, noun: str) -> str:
    """Return a number with its noun, in the plural where it needs one."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def some(names: Sequence[str]) -> str:
    """Return a few names in full, or the first ones and how many there are."""
    if len(names) <= FEW:
        return ", ".join(names)
    return f"{', '.join(names[: FEW - 1])} … {names[-1]} ({len(names)})"


def first_sentence(text: str) -> tuple[str, str]:
    """Return the first sentence of a text, and the rest."""
    head, _, rest = text.partition(". ")  # what a person wrote in a table of the plant
    return (f"{head}." if rest else text), rest


def as_sentences(texts: Iterable[str]) -> str:
    """Return the texts that are not empty as sentences, whether or not they end in a full stop."""
    return " ".join(f"{text.rstrip('.')}." for text in texts if text)


def joined(parts: Iterable[str], separator: str = "; ") -> str:
    """Return the parts that are not empty, joined."""
    return separator.join(part for part in parts if part)
