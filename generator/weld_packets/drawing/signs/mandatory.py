"""Pictograms of mandatory signs on a field of 200.

Drawn for this project. ``currentColor`` is the ground: what is cut out of the white.
"""

from __future__ import annotations

from collections.abc import Mapping

_HEAD = (
    '<path d="M60 84q0-44 40-44t40 44q0 40-22 56v14l38 12q8 4 10 14l-16 4H50l-16-4q2-10 '
    '10-14l38-12v-14Q60 124 60 84z"/>'
)
"""Head and shoulders, from the front."""
_TEETH = "".join(f'<path transform="rotate({turn} 84 116)" d="M77 76h14l-2 14h-10z"/>' for turn in range(0, 360, 45))
_BLADES = "".join(
    f'<g transform="translate(-28 8) rotate({turn} 100 100)">'
    '<path d="M100 96q-16-6-16-26t16-24q16 4 14 26-1 16-10 24z"/></g>'
    for turn in (0, 120, 240)
)
PICTOGRAMS: Mapping[str, tuple[str, str]] = {
    "M003": (
        "Wear ear protection",
        (
            _HEAD + '<path fill="none" stroke-width="9" d="M52 88q-6-62 48-62t48 62"/>'
            '<g fill="currentColor" stroke="currentColor" stroke-width="10">'
            '<path d="M42 78h22v36H42zM136 78h22v36h-22z"/>'
            "</g>"
            '<path stroke-width="6" d="M44 80h18v32H44zM138 80h18v32h-18z"/>'
        ),
    ),
    "M004": (
        "Wear eye protection",
        (
            _HEAD + '<g fill="currentColor" stroke="currentColor">'
            '<path stroke-width="6" d="M56 76h88v5h-6q0 24-18 24-14 0-17-16h-6q-3 16-17 16-18 0-18-24h-6z"/>'
            "</g>"
            '<path d="M69 83h23q0 15-11 15-12 0-12-15zM108 83h23q0 15-12 15-11 0-11-15z"/>'
        ),
    ),
    "M008": (
        "Wear safety footwear",
        (
            '<path d="M52 44h42v42q4 20 30 24 34 4 38 26v8H52z"/>'
            '<path d="M48 148h116v12h-38v-5H92v7H48z" stroke-width="2"/>'
            '<path fill="none" stroke="currentColor" stroke-width="4" d="M128 112q-10 14-4 32M96 70l14-3M96 '
            '82l15-2M100 96l12-5"/>'
        ),
    ),
    "M009": (
        "Wear protective gloves",
        (
            '<g transform="translate(-24 8) scale(.86)">'
            '<path d="M68 132V78q1-8 8-8t8 8V60q1-8 8-8t8 8v-4q1-8 8-8t8 8v10q1-7 8-7t8 7v58l14-18q7-6 12 0 4 5 '
            '0 10l-30 40z"/>'
            '<path d="M66 148h64v26H66z"/>'
            "</g>"
            '<g transform="translate(86 8) scale(.86)">'
            '<path d="M110 132V78q-1-8-8-8t-8 8V60q-1-8-8-8t-8 8v-4q-1-8-8-8t-8 8v10q-1-7-8-7t-8 7v58L24 '
            '106q-7-6-12 0-4 5 0 10l30 40z"/>'
            '<path d="M48 148h64v26H48z"/>'
            "</g>"
        ),
    ),
    "M010": (
        "Wear protective clothing",
        (
            '<path d="M82 34q18 12 36 0l26 14 20 66-20 6-12-36v88h-28l-4-46-4 46H68V84l-12 36-20-6 20-66z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="4" d="M100 46v70M84 36l16 14 16-14M72 '
            '118h56"/>'
        ),
    ),
    "M013": (
        "Wear a face shield",
        (
            _HEAD + '<path fill="currentColor" stroke="currentColor" stroke-width="6" d="M50 62h100v14H50z"/>'
            '<path stroke-width="5" d="M56 66h88v6H56z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="7" d="M57 80h86v52q-14 22-43 22t-43-22z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="5" d="M74 92l26 40M92 90l20 30"/>'
        ),
    ),
    "M017": (
        "Wear respiratory protection",
        (
            _HEAD + '<path fill="none" stroke="currentColor" stroke-width="6" d="M58 84l26 16M142 84l-26 16"/>'
            '<path fill="currentColor" stroke="currentColor" stroke-width="5" d="M100 88q26 8 26 34 0 22-26 '
            '26-26-4-26-26 0-26 26-34z"/>'
            '<path d="M100 95q19 7 19 27 0 16-19 20-19-4-19-20 0-20 19-27z"/>'
            '<g stroke="currentColor" stroke-width="5">'
            '<circle cx="70" cy="130" r="17"/>'
            '<circle cx="130" cy="130" r="17"/>'
            "</g>"
            '<g fill="currentColor" stroke="currentColor" stroke-width="0">'
            '<circle cx="70" cy="130" r="7"/>'
            '<circle cx="130" cy="130" r="7"/>'
            '<circle cx="100" cy="120" r="6"/>'
            "</g>"
        ),
    ),
    "M019": (
        "Wear a welding mask",
        (
            '<path d="M34 184q4-18 40-26h52q36 8 40 26z"/>'
            '<path stroke="currentColor" stroke-width="5" d="M54 76q4-48 46-48t46 48l-4 66-24 24H82l-24-24z"/>'
            '<path fill="currentColor" stroke="currentColor" stroke-width="4" d="M66 72h68v30H66z"/>'
            '<path d="M74 79h52v16H74z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="5" d="M62 132l22 22M138 132l-22 22"/>'
        ),
    ),
    "M021": (
        "Disconnect before carrying out maintenance or repair",
        (
            '<path d="M42 92h34q10 0 14 8h8v22h-8q-4 8-14 8H42z" transform="rotate(-35 66 110) translate(-4 '
            '12)"/>'
            '<g transform="rotate(-35 100 100)">'
            '<path d="M34 84h34q12 0 12 16t-12 16H34z"/>'
            '<path fill="none" stroke-width="9" d="M80 92h16M80 108h16M34 100H14"/>'
            '<path d="M132 76h18q16 0 16 24t-16 24h-18z"/>'
            '<path fill="none" stroke-width="9" d="M166 100h20"/>'
            '<path fill="none" stroke="currentColor" stroke-width="7" d="M134 92h12M134 108h12"/>'
            "</g>"
        ),
    ),
    "M027": (
        "Check guard",
        (
            _TEETH + '<circle cx="84" cy="116" r="30"/>'
            '<circle fill="currentColor" stroke="currentColor" cx="84" cy="116" r="11"/>'
            '<path fill="none" stroke-width="8" d="M40 166V60h88v106z"/>'
            '<path fill="none" stroke-width="5" d="M62 60v106M84 60v106M106 60v106M40 96h88M40 131h88"/>'
            '<circle fill="currentColor" stroke="currentColor" cx="134" cy="66" r="34"/>'
            '<path fill="none" stroke-width="12" d="M116 66l14 15 26-32"/>'
        ),
    ),
    "M057": (
        "Ensure continuous ventilation",
        (
            _BLADES + '<circle fill="currentColor" stroke="currentColor" stroke-width="5" cx="72" cy="108" r="11"/>'
            '<circle cx="72" cy="108" r="9"/>'
            '<path fill="none" stroke-width="9" d="M132 74h30M132 108h34M132 142h30"/>'
            '<path d="M158 62l20 12-20 12zM162 96l20 12-20 12zM158 130l20 12-20 12z"/>'
        ),
    ),
    "M001": (
        "General mandatory action",
        ('<path d="M88 42h24l-5 74H93z"/><circle cx="100" cy="142" r="14"/>'),
    ),
    "M002": (
        "Refer to the instructions",
        (
            '<circle cx="78" cy="62" r="17"/>'
            '<path d="M56 90q2-8 12-8h20q10 0 13 8l13 24-12 8-14-20v50H58z"/>'
            '<path fill="none" stroke-width="5" d="M104 118l30 10 30-10v38l-30 10-30-10zM134 128v38"/>'
            '<path fill="none" stroke-width="4" d="M112 131l14 5M112 142l14 5M156 131l-14 5M156 142l-14 5"/>'
        ),
    ),
    "M046": (
        "Secure gas cylinders",
        (
            '<path d="M92 64h16v10q20 4 20 24v62H72V98q0-20 20-24zM94 48h12v12H94z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="9" d="M66 112h68"/>'
            '<path fill="none" stroke-width="7" d="M44 104h26M130 104h26M44 120h26M130 120h26"/>'
            '<path fill="none" stroke-width="9" d="M44 92v40M156 92v40"/>'
        ),
    ),
}
"""Code to name and pictogram."""
