"""Pictograms of prohibition signs, which lie beneath the bar, on a field of 200.

Drawn for this project. ``currentColor`` is the ground: what is cut out of the black.
"""

from __future__ import annotations

from collections.abc import Mapping

PICTOGRAMS: Mapping[str, tuple[str, str]] = {
    "P004": (
        "No thoroughfare",
        (
            '<circle cx="104" cy="46" r="13"/>'
            '<path d="M90 64h22q8 2 10 10l10 22-8 5-13-18-2 26 4 8H84l4-30-10 20-9-4 12-30q2-8 9-9z"/>'
            '<path fill="none" stroke-width="13" d="M96 114L88 136 68 158M106 114l14 22 8 24"/>'
            '<path fill="none" stroke-width="7" d="M66 160h-8M128 161h10"/>'
        ),
    ),
    "P007": (
        "No access for people with active implanted cardiac devices",
        (
            '<path d="M100 156q-50-36-52-70 0-28 24-30 20 0 28 22 8-22 28-22 24 2 24 30-2 34-52 70z"/>'
            '<g fill="currentColor" stroke="currentColor" stroke-width="0">'
            '<path d="M104 74h30q8 0 8 8v10q0 8-8 8h-30q-8 0-8-8V82q0-8 8-8z"/>'
            "</g>"
            '<path d="M106 81h26q3 0 3 3v6q0 3-3 3h-26q-3 0-3-3v-6q0-3 3-3z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="5" d="M112 100q-2 24-16 32"/>'
            '<circle cx="95" cy="132" r="6" fill="currentColor"/>'
        ),
    ),
    "P010": (
        "Do not touch",
        (
            '<g transform="translate(8 -4)">'
            '<path stroke-width="14" fill="none" d="M74 100L66 66M90 94L86 48M108 94L110 46M125 100L133 62"/>'
            '<path stroke-width="15" fill="none" d="M66 138Q52 124 46 104"/>'
            '<path d="M66 98q32-14 66 0l4 34q-4 28-20 30H88q-18-6-26-26z"/>'
            "</g>"
        ),
    ),
    "P015": (
        "No reaching in",
        (
            '<path d="M40 50h52v34H40zM40 118h52v34H40z"/>'
            '<g transform="translate(36 186) rotate(-90) scale(.78)">'
            '<path stroke-width="14" fill="none" d="M74 100L66 66M90 94L86 48M108 94L110 46M125 100L133 62"/>'
            '<path stroke-width="15" fill="none" d="M66 138Q52 124 46 104"/>'
            '<path d="M66 98q32-14 66 0l4 34q-4 28-20 30H88q-18-6-26-26z"/>'
            "</g>"
            '<path fill="none" stroke-width="32" d="M136 107h26"/>'
        ),
    ),
    "P031": (
        "Do not alter the state of the switch",
        (
            '<path d="M92 52h56v96H92z"/>'
            '<g fill="currentColor" stroke="currentColor">'
            '<path d="M102 62h36v76h-36z"/>'
            "</g>"
            '<path d="M114 70h12v34h-12z"/>'
            '<circle cx="120" cy="122" r="7"/>'
            '<path fill="none" stroke-width="15" d="M112 88H72"/>'
            '<path fill="none" stroke-width="13" d="M88 102H66M86 116H66M84 129H66"/>'
            '<path d="M44 84q10-8 32-4l4 56H52q-10-10-8-52z"/>'
        ),
    ),
    "P003": (
        "No open flame, fire, open ignition source or smoking",
        (
            '<path d="M92 96q-12-22 8-48 4 16 14 24 10 10 6 26-6 14-16 14-9 0-12-16z"/>'
            '<path fill="none" stroke-width="9" d="M104 108l-42 56"/>'
        ),
    ),
    "P008": (
        "No metallic articles or watches",
        (
            '<path d="M84 38h32l4 28H80zM84 162h32l4-28H80z"/>'
            '<circle cx="100" cy="100" r="38"/>'
            '<circle fill="currentColor" stroke="currentColor" cx="100" cy="100" r="28"/>'
            '<path fill="none" stroke-width="6" d="M100 100V80M100 100l14 8"/>'
        ),
    ),
}
"""Code to name and pictogram."""
