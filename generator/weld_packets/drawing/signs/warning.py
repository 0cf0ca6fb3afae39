"""Pictograms of warning signs on a field of 200; the clear field is x 58-142 at y 100, 46-154 at y 120.

Drawn for this project. ``currentColor`` is the ground: what is cut out of the black.
"""

from __future__ import annotations

from collections.abc import Mapping

_TEETH = "".join(
    f'<path stroke-width="0" transform="rotate({turn} 100 116)" d="M94 82h12l-2 12h-8z"/>' for turn in range(0, 360, 45)
)
PICTOGRAMS: Mapping[str, tuple[str, str]] = {
    "W001": (
        "General warning sign",
        ('<path d="M88 58q0-10 12-10t12 10l-6 56q-6 5-12 0z"/><circle cx="100" cy="136" r="12"/>'),
    ),
    "W006": (
        "Magnetic field",
        (
            '<path d="M68 100h20v22a12 12 0 0 0 24 0v-22h20v22a32 32 0 0 1-64 0z"/>'
            '<path fill="currentColor" stroke="currentColor" d="M66 111h24v4H66zM110 111h24v4h-24z"/>'
            '<path fill="none" stroke-width="4.5" d="M86 92q14-16 28 0M78 90q22-32 44 0"/>'
        ),
    ),
    "W012": (
        "Electricity",
        ('<path d="M108 54L80 106l20-4-7 26-10-3 8 27 20-20-9-3 18-47-21 6 16-34z"/>'),
    ),
    "W017": (
        "Hot surface",
        (
            '<path fill="none" stroke-width="9" d="M52 144h96"/>'
            '<path fill="none" stroke-width="8" d="M76 126q-12-13 0-26t0-26M100 126q-12-13 0-26t0-26M124 '
            '126q-12-13 0-26t0-26"/>'
        ),
    ),
    "W018": (
        "Automatic start-up",
        (
            '<g transform="translate(17 22) scale(.83)">' + _TEETH + '<circle cx="100" cy="116" r="25"/>'
            '<circle fill="currentColor" stroke="currentColor" cx="100" cy="116" r="10"/>'
            '<path fill="none" stroke-width="8" d="M58 128a44 44 0 0 1 10-44M142 104a44 44 0 0 1-10 44"/>'
            '<path d="M80 70l-2 24-20-12zM120 162l2-24 20 12z"/>'
            "</g>"
        ),
    ),
    "W019": (
        "Crushing",
        (
            '<path d="M46 146h16V92H46z" transform="translate(14)"/>'
            '<path d="M124 92h16v54h-16z"/>'
            '<g transform="translate(100 68) scale(0.78)">'
            '<circle cx="0" cy="11" r="11"/>'
            '<path d="M-9 25H9q8 0 8 9v27q0 4-4 4t-4-4V38H8v58q0 4-4 4t-4-4V64h0v32q0 4-4 4t-4-4V38h-1v23q0 4-4 '
            '4t-4-4V34q0-9 8-9z"/>'
            "</g>"
            '<path d="M38 112v16h12v8l14-16-14-16v8z" transform="translate(-2 12)"/>'
            '<path d="M162 112v16h-12v8l-14-16 14-16v8z" transform="translate(2 12)"/>'
        ),
    ),
    "W022": (
        "Sharp element",
        (
            '<g transform="translate(-6 -22) scale(1.06)">'
            '<path d="M58 132v-15q2-5 12-6l22-5q8-1 9 4l28 1q9 0 9 6t-6 7q4 5-2 8z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="2.5" d="M104 116h26M104 123h24"/>'
            "</g>"
            '<path stroke="currentColor" stroke-width="7" d="M100 66L122 152H78z"/>'
            '<path d="M100 66L120 152H80z"/>'
        ),
    ),
    "W024": (
        "Crushing of hands",
        (
            '<path d="M54 140h92v11H54zM70 86h60v11H70z"/>'
            '<path d="M95 54h10v12h9l-14 16-14-16h9z"/>'
            '<path d="M58 132v-15q2-5 12-6l22-5q8-1 9 4l28 1q9 0 9 6t-6 7q4 5-2 8z"/>'
            '<path fill="none" stroke="currentColor" stroke-width="2.5" d="M104 116h26M104 123h24"/>'
        ),
    ),
    "W027": (
        "Optical radiation",
        (
            '<circle cx="100" cy="112" r="15"/>'
            '<path fill="none" stroke-width="7" d="M122.0 112.0L140.0 112.0M115.6 127.6L128.3 140.3M100.0 '
            "134.0L100.0 152.0M84.4 127.6L71.7 140.3M78.0 112.0L60.0 112.0M84.4 96.4L71.7 83.7M100.0 90.0L100.0 "
            '72.0M115.6 96.4L128.3 83.7"/>'
        ),
    ),
    "W029": (
        "Pressurized cylinder",
        (
            '<g transform="translate(-4 24) scale(.86)">'
            '<g transform="rotate(-18 100 122)">'
            '<path d="M50 106h64q14 2 18 16-4 14-18 16H50q-5 0-5-5v-22q0-5 5-5z"/>'
            '<path fill="currentColor" stroke="currentColor" d="M104 104h5v36h-5z"/>'
            '<path d="M130 116h14v12h-14zM140 110h7v24h-7z"/>'
            "</g>"
            '<path fill="none" stroke-width="5" d="M148 94l5-10M152 106l10-2M136 90l-3-10"/>'
            "</g>"
        ),
    ),
    "W041": (
        "Asphyxiating atmosphere",
        (
            '<path fill="none" stroke-width="6" d="M80 78q10-10 20 0t20 0M66 96q11.3-10 22.7 0t22.7 0 22.7 0M54 '
            '114q11.5-10 23 0t23 0 23 0 23 0"/>'
            '<circle cx="60" cy="142" r="10"/>'
            '<path d="M72 134h46l28 10q5 4 2 8H72q-4-9 0-18z"/>'
            '<path fill="none" stroke-width="8" d="M80 146L62 128"/>'
        ),
    ),
    "W071": (
        "Substance or mixture presenting a health hazard",
        (
            '<g transform="translate(0 4)">'
            '<circle cx="100" cy="74" r="18"/>'
            '<path d="M58 146q-2-46 32-50h20q34 4 32 50z"/>'
            "</g>"
            '<g fill="currentColor" stroke="currentColor">'
            '<path fill="none" stroke-width="5" d="M100.0 128.0L124.0 128.0M100.0 128.0L112.0 148.8M100.0 '
            '128.0L88.0 148.8M100.0 128.0L76.0 128.0M100.0 128.0L88.0 107.2M100.0 128.0L112.0 107.2"/>'
            '<circle cx="100" cy="128" r="9"/>'
            "</g>"
        ),
    ),
    "W087": (
        "High sound volume levels",
        (
            '<path d="M56 108h14l22-18v56l-22-18H56z"/>'
            '<path fill="none" stroke-width="6.5" d="M103 104q9 14 0 28M114 95q16 23 0 46M125 86q23 32 0 64"/>'
        ),
    ),
    "W025": (
        "Counterrotating rollers",
        (
            '<g transform="translate(27 34) scale(.7)">'
            '<circle cx="100" cy="88" r="24"/>'
            '<circle cx="100" cy="140" r="24"/>'
            '<circle fill="currentColor" stroke="currentColor" cx="100" cy="88" r="6"/>'
            '<circle fill="currentColor" stroke="currentColor" cx="100" cy="140" r="6"/>'
            '<path fill="none" stroke-width="6" d="M68 92q2-28 30-36M68 136q2 28 30 36"/>'
            '<path fill="none" stroke-width="9" d="M134 114h28"/>'
            '<path d="M112 114l24-12v24z"/>'
            "</g>"
        ),
    ),
}
"""Code to name and pictogram."""
