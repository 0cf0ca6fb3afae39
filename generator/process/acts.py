"""What is done about a warning: one sentence each, so that the same thing is asked in the same words."""

from __future__ import annotations

from generator.process.trace import Act

DIRECTION = Act("Check the direction of travel of this weld while you step through the program.", "dry run")
SECTION = Act("Prove the settings on a macro section of the coupon.", "coupon")
SECTION_OF_ALL_PASSES = Act("Prove every pass on a macro section of the coupon.", "coupon")
BARE_OR_SECTION = Act(
    "Remove the coating at the joint, or prove the settings on a macro section of the coupon.", "coupon"
)
MEASURE_THROAT = Act("Measure the throat on a macro section of the coupon.", "coupon")
UPPER_EDGE = Act("Check on the coupon that the upper edge of the lap is not melted away.", "coupon")
CURRENT = Act("Compare the current read for the coupon with its allowed range.", "coupon")
PEEL = Act("Prove the weld diameter on the peeled coupon.", "coupon")
PITCH = Act("Check these distances with the designer of the joint.", "dry run")
PEEL_ALL = Act("Peel every joint of the coupon and measure its weld diameter.", "coupon")
PEEL_OUTSIDE = Act("Peel the thinner outside sheet of the coupon and measure its weld diameter.", "coupon")
INDENTATION = Act("Measure the electrode mark on the visible side of the first part.", "first-off")
TARGET = Act("Compare the peeled coupons with the target weld diameter, not only with the minimum.", "coupon")
ENDS = Act("Inspect start and stop of these welds on the first part.", "first-off")
EDGES = Act("Measure the edge distance of these spots on the first part.", "first-off")
