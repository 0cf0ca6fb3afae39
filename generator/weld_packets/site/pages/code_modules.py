"""The modules of a QR code (ISO/IEC 18004), made in a tenth of the time that the library takes.

A site has some fifty codes, and each was a sixth of the work of its page. The library lays out a version once, with its
patterns, format and mask; only data and error correction differ from code to code, and those are computed here. What
is too long for the versions below, or has other signs than ASCII, is left to the library.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, pairwise

import segno
from segno import consts

_MASK = 2  # given, it need not be sought; every reader takes any
_ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_VALUE = {sign: value for value, sign in enumerate(_ALPHANUMERIC)}
_FIELD = 0x11D
"""The polynomial of the field in which the error correction is computed."""
_PADDING = (0xEC, 0x11)
_NO_PATTERN = (consts.TYPE_DATA_DARK, consts.TYPE_DATA_LIGHT, consts.TYPE_FORMAT_DARK, consts.TYPE_FORMAT_LIGHT)
"""Outside the corners the library calls one module of data a module of format."""
_CORNER = 9  # modules that a finder takes of a side, with its separator and format
_TIMING = 6  # the column that no data run through


@dataclass(frozen=True)
class Symbol:
    """A version at a level of error correction.

    Attributes:
        version: from 1 on; a line has four modules more with each.
        level: medium, or as much more as the version has room for.
        count: codewords of correction of each block.
        blocks: codewords of data of each block.

    """

    version: int
    level: str
    count: int
    blocks: tuple[int, ...]

    @property
    def room(self) -> int:
        """How many codewords of data it holds."""
        return sum(self.blocks)


SYMBOLS = (
    Symbol(1, "h", 17, (9,)),
    Symbol(1, "q", 13, (13,)),
    Symbol(1, "m", 10, (16,)),
    Symbol(2, "q", 22, (22,)),
    Symbol(2, "m", 16, (28,)),
    Symbol(3, "q", 18, (17,) * 2),
    Symbol(3, "m", 26, (44,)),
    Symbol(4, "q", 26, (24,) * 2),
    Symbol(4, "m", 18, (32,) * 2),
    Symbol(5, "m", 24, (43,) * 2),
    Symbol(6, "m", 16, (27,) * 4),
    Symbol(7, "m", 18, (31,) * 4),
    Symbol(8, "m", 22, (38, 38, 39, 39)),
    Symbol(9, "m", 22, (36, 36, 36, 37, 37)),
)
"""What may be chosen, the smallest first (ISO/IEC 18004, table 9)."""


def modules(text: str) -> list[str]:
    """Return the modules of a code, line by line, ``1`` for dark.

    It is of the smallest version at medium error correction, with as much more correction as there is room for.
    """
    bits = _bits(text)
    symbol = next((each for each in SYMBOLS if bits and len(bits) <= 8 * each.room), None)
    if symbol is None:
        return ["".join(map(str, line)) for line in segno.make(text, error="m", micro=False, mask=_MASK).matrix]
    layout = _layout(symbol)
    words = _corrected(_padded(bits, symbol.room), symbol)
    masked = (int.from_bytes(words) << layout.remainder) ^ layout.mask
    signs = f"{masked:0{len(words) * 8 + layout.remainder}b}01"
    flat = "".join(map(signs.__getitem__, layout.places))
    return [flat[at : at + layout.width] for at in range(0, len(flat), layout.width)]


def _bits(text: str) -> str:
    """Return mode, length and content as bits; empty where the library is asked."""
    if text.isdigit():  # the library takes a third alphabet; no sheet has such a code
        return ""
    if all(sign in _VALUE for sign in text):
        pairs = (text[at : at + 2] for at in range(0, len(text), 2))
        content = "".join(
            f"{45 * _VALUE[pair[0]] + _VALUE[pair[1]]:011b}" if len(pair) > 1 else f"{_VALUE[pair]:06b}"
            for pair in pairs
        )
        return f"0010{len(text):09b}{content}"
    if text.isascii():
        return f"0100{len(text):08b}{int.from_bytes(text.encode()):0{8 * len(text)}b}"
    return ""


def _padded(bits: str, room: int) -> bytes:
    """Return the bits as ``room`` codewords.

    As the library does it, what ends at a word is followed by one of zeros; no reader looks behind the end.
    """
    ended = bits + "0" * min(4, 8 * room - len(bits))
    ended += "0" * (8 - len(ended) % 8)
    words = int(ended, 2).to_bytes(len(ended) // 8)
    return (words + bytes(_PADDING[at % 2] for at in range(room - len(words))))[:room]


def _corrected(data: bytes, symbol: Symbol) -> bytes:
    """Return data and error correction in the order in which they are placed, block by block in turn."""
    blocks = [data[start:end] for start, end in pairwise(accumulate(symbol.blocks, initial=0))]
    corrections = [_correction(block, symbol.count) for block in blocks]
    return bytes([*_in_turn(blocks), *_in_turn(corrections)])


def _in_turn(blocks: Sequence[bytes]) -> Iterator[int]:
    for at in range(max(map(len, blocks))):
        yield from (block[at] for block in blocks if at < len(block))


def _correction(data: bytes, count: int) -> bytes:
    """Return what is left when the data are divided by the generator (Reed and Solomon)."""
    multiples, rest, top = _multiples(count), 0, 8 * (count - 1)
    whole = (1 << 8 * count) - 1
    for word in data:
        rest = (rest << 8 & whole) ^ multiples[word ^ rest >> top]
    return rest.to_bytes(count)


@cache
def _multiples(count: int) -> tuple[int, ...]:
    """Return each multiple of the generator for ``count`` codewords, without its leading one, as a number."""
    generator = [1]
    root = 1
    for _ in range(count):
        shifted = [*generator, 0]
        generator = [a ^ _times(b, root) for a, b in zip(shifted, [0, *generator], strict=True)]
        root = _times(root, 2)
    return tuple(int.from_bytes(bytes(_times(each, by) for each in generator[1:])) for by in range(256))


def _times(one: int, other: int) -> int:
    """Return a product in the field."""
    product = 0
    while other:
        if other & 1:
            product ^= one
        one = one << 1 ^ (_FIELD if one & 0x80 else 0)
        other >>= 1
    return product


@dataclass(frozen=True)
class _Layout:
    """Where the bits of a version go.

    Attributes:
        width: modules in a line.
        remainder: bits that are placed after the last codeword.
        mask: what the bits are masked with, in their order.
        places: for each module the place of its bit; behind the bits stand a light and a dark module for the patterns.

    """

    width: int
    remainder: int
    mask: int
    places: tuple[int, ...]


@cache
def _layout(symbol: Symbol) -> _Layout:
    made = segno.make("0", version=symbol.version, error=symbol.level, micro=False, mask=_MASK, boost_error=False)
    kinds = [list(line) for line in made.matrix_iter(border=0, verbose=True)]
    width = len(kinds)
    order = [place for place in _zigzag(width) if not _is_pattern(kinds[place[0]][place[1]], place, width)]
    bits = {place: at for at, place in enumerate(order)}
    places = (
        bits.get((line, column), len(order) + made.matrix[line][column])
        for line in range(width)
        for column in range(width)
    )
    return _Layout(
        width=width,
        remainder=len(order) % 8,
        mask=int("".join("01"[column % 3 == 0] for _, column in order), 2),
        places=tuple(places),
    )


def _is_pattern(kind: int, place: tuple[int, int], width: int) -> bool:
    """Return whether a module is no place of a bit: in a corner with a finder, or of a kind of pattern."""
    line, column = place
    near, far = _CORNER, width - _CORNER + 1
    at_finder = (line < near and (column < near or column >= far)) or (line >= far and column < near)
    return at_finder or kind not in _NO_PATTERN


def _zigzag(width: int) -> Iterator[tuple[int, int]]:
    """Yield every module in the order in which bits are placed: columns by pairs from the right, up and down."""
    rights = [column if column > _TIMING else column - 1 for column in range(width - 1, 0, -2)]
    for turn, right in enumerate(rights):
        lines = range(width) if turn % 2 else range(width - 1, -1, -1)
        yield from ((line, column) for line in lines for column in (right, right - 1))
