"""What is done about a warning: one sentence each, so that the same thing is said in the same words."""

from __future__ import annotations

from weld_packets.calculation.trace import Countermeasure, InBoth

DIRECTION = Countermeasure("Check the direction of travel of this weld while you step through the program.", "dry run")
SECTION = Countermeasure("Prove the settings on a macro section of the coupon.", "coupon")
SECTION_OF_ALL_PASSES = Countermeasure("Prove every pass on a macro section of the coupon.", "coupon")
BARE_OR_SECTION = Countermeasure(
    "Remove the coating at the joint, or prove the settings on a macro section of the coupon.", "coupon"
)
MEASURE_THROAT = Countermeasure("Measure the throat on a macro section of the coupon.", "coupon")
UPPER_EDGE = Countermeasure("Check on the coupon that the upper edge of the lap is not melted away.", "coupon")
CORNER_EDGES = Countermeasure("Check on the coupon that neither edge of the corner is melted away.", "coupon")
CURRENT = Countermeasure("Compare the current read for the coupon with its allowed range.", "coupon")
LOWER_FEED = Countermeasure(
    "Compare the current read for the coupon with its allowed range. Above it, lower the wire feed inside its range.",
    "coupon",
)
RAISE_FEED = Countermeasure(
    "Compare the current read for the coupon with its allowed range. Below it, raise the wire feed inside its range.",
    "coupon",
)
PEEL = Countermeasure("Prove the weld diameter on the peeled coupon.", "coupon")
PITCH = Countermeasure("Check these distances with the designer of the joint.", "dry run")
PEEL_ALL = Countermeasure("Peel every joint of the coupon and measure its weld diameter.", "coupon")
PEEL_OUTSIDE = Countermeasure("Peel the thinner outside sheet of the coupon and measure its weld diameter.", "coupon")
INDENTATION = Countermeasure("Measure the electrode mark on the visible side of the first-off part.", "first-off")
TARGET = Countermeasure(
    "Compare the peeled coupons with the target weld diameter, not only with the minimum.", "coupon"
)
ENDS = Countermeasure("Inspect start and stop of these welds on the first-off part.", "first-off")
EDGES = Countermeasure("Measure the edge distance of these spots on the first-off part.", "first-off")
FLARE_SECTION = Countermeasure(
    "Cut the coupon of this flare bevel across in three places and measure the effective throat of each section.",
    "coupon",
)
SEAM_PLACE = Countermeasure(
    "Step the program to this seam and check that the wire points at the joint all along it.", "dry run"
)
SEAM_PLACE_OF_ELECTRODE = Countermeasure(
    "Step the program to this seam and check that the electrode points at the joint all along it.", "dry run"
)
COVERED = Countermeasure("Check that no component lies over this seam before the cell is closed.", "set up")
TUBE_CORNER = Countermeasure(
    "Look whether this seam runs along the rounded corner of a tube; if so, stop: it is not a fillet.", "set up"
)
OVERLAP = Countermeasure("Check at the robot that no part of a seam is welded twice.", "dry run")
FUSION_OF_THICKER = Countermeasure(
    "Prove on a macro section of the coupon that the thicker component is fused (no lack of fusion, 401).", "coupon"
)
MEASURE_STEP = Countermeasure(
    "Measure the step of the butt and on which side it lies, and have the order say it.", "first-off"
)
MEASURE_CAP = Countermeasure("Measure width and height of the cap on the coupon.", "coupon")
MEASURE_TACKS = Countermeasure("Measure the tacks of the first-off part before it is welded.", "loading")
TORCH_DUTY = Countermeasure("Compare the current with the rating of the torch for this gas.", "set up")
POLARITY = Countermeasure("Compare the polarity with the data sheet of the wire before you connect it.", "set up")
BUTT_GAP = Countermeasure("Prove the root of this butt on a macro section of the coupon.", "coupon")
KEEP_CURRENT = Countermeasure(
    "Keep the current at or below what the rating is enough for, though its range goes higher.", "coupon"
)
GUN_DUTY = Countermeasure(
    "Keep current and weld time below the upper ends of their ranges: there the gun gets too hot.",
    "coupon",
)
WATCH_BOTH = Countermeasure(
    "Check in both programs where the robots meet, and which of them waits there for a signal.", "dry run"
)
ONE_IDLE = Countermeasure("Check that one robot is meant to weld alone in this operation.", "set up")


def gap_kept(gap: InBoth) -> Countermeasure:
    """Return what is done about a root gap that may cost a throat, which is kept up to ``gap``."""
    do = ("Measure the root gap, clamps closed. Over ", gap, " the throat is not kept: close it, or stop.")
    return Countermeasure(do, "loading")
