"""What of a text is seen, and whether two names that people typed mean one person."""

from __future__ import annotations

import re
import unicodedata

_UNSEEN_SIGNS = (
    "\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\u2800\u3164"
    "\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufff8\U0001bca0-\U0001bca3\U0001d159\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
)
"""Default ignorable code points of Unicode (DerivedCoreProperties, from memory), blank of braille, empty note."""
_JOINERS = "\u200c\u200d"
"""Two more, without which some languages cannot be written."""
_UNSEEN = re.compile(f"[{_UNSEEN_SIGNS}{_JOINERS}]")
_TURNS = re.compile("[\u202a-\u202e\u2066-\u2069]")
_CONTROL = "\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufff9-\uffff"
UNWANTED = re.compile(f"[{_UNSEEN_SIGNS}{_CONTROL}]")
"""What no source may hold: signs that nobody sees, and those that control a device; line feed and tab are no such."""
_MARKS = frozenset({"Mn", "Me"})
"""Categories of marks that are drawn over the letter before them."""
_WORD = re.compile(r"[^\W\d_]+")
_LOOKALIKE_SCRIPTS = frozenset({"LATIN", "CYRILLIC", "GREEK"})
_LOOKS_LIKE = str.maketrans(
    "авекмнорстухіјѕԁһԛԝαβεζηικμνορτυχı",
    "abekmhopctyxijsdhqwabezhikmnoptyxi",
)
"""Letters of Cyrillic and Greek that look like Latin ones, small or as capitals (from memory)."""
MARKS_AT_MOST = 4
"""More marks on one letter hide the line above; no writing known to us has more (common practice, no source)."""


def seen(text: str) -> str:
    """Return what a reader sees of ``text``: without invisible signs and blank ends."""
    return _UNSEEN.sub("", text).strip()


def unseen_in(text: str) -> str:
    """Return the first sign of ``text`` that nobody sees, by its number in Unicode; empty where there is none."""
    found = _UNSEEN.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def turned_in(text: str) -> str:
    """Return the first sign of ``text`` that turns what follows round, by its number; empty where there is none."""
    found = _TURNS.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def says_something(text: str) -> bool:
    """Return whether ``text`` has a letter or a digit that is seen."""
    return any(unicodedata.category(sign)[0] in "LN" for sign in _UNSEEN.sub("", text))


def shows_something(text: str) -> bool:
    """Return whether ``text`` has any sign that is seen by itself: not blanks and marks alone."""
    return any(unicodedata.category(sign)[0] in "LNPS" for sign in _UNSEEN.sub("", text))


def has_heaped_marks(text: str) -> bool:
    """Return whether more marks are heaped on one letter than any writing needs."""
    heaped = 0
    for sign in "" if text.isascii() else unicodedata.normalize("NFD", text):  # nearly every text of a plant is ASCII
        heaped = heaped + 1 if unicodedata.category(sign) in _MARKS else 0
        if heaped > MARKS_AT_MOST:
            return True
    return False


def mixed_scripts(text: str) -> str:
    """Return the first word whose letters are of two scripts that look the same in part; empty where there is none."""
    return next((word for word in _WORD.findall(text) if len(_scripts(word)) > 1), "")


def _scripts(word: str) -> frozenset[str]:
    """Return which of the scripts with letters in common a word has; the name of a letter begins with its script."""
    names = (unicodedata.name(letter, "").partition(" ")[0] for letter in unicodedata.normalize("NFKC", word))
    return _LOOKALIKE_SCRIPTS.intersection(names)


def meaning(name: str) -> str:
    """Return a name as it is compared: what nobody sees makes no difference.

    That is: forms of letters, capitals, blanks, invisible signs, and letters of other scripts that look like Latin.
    """
    folded = unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", _UNSEEN.sub("", name)).casefold())
    return " ".join(_UNSEEN.sub("", folded).translate(_LOOKS_LIKE).split())


def as_person(name: str) -> str:
    """Return the name of a person as it is compared: by its letters and digits, whatever is over or between them.

    So an accent that a keyboard lacks, a full stop after an initial or a hyphen makes no other person.
    """
    plain: list[str] = []
    for sign in unicodedata.normalize("NFC", meaning(name)):
        kind = unicodedata.category(sign)
        if kind[0] in "LN":
            plain.append(_bare(sign))
        elif kind[0] == "M" and plain and not _scripts(plain[-1]):  # a vowel is a mark in many scripts
            plain.append(sign)
    return "".join(plain).translate(_LOOKS_LIKE)


def _bare(letter: str) -> str:
    """Return a letter of Latin, Cyrillic or Greek without what is over, under or through it; any other as it is."""
    name, _, mark = unicodedata.name(letter, "").partition(" WITH ")
    return unicodedata.lookup(name) if mark and _scripts(letter) else letter
