"""Pictures of the steps, one a file; each is drawn from the record and the machine's data.

A picture is imported only when its step is opened, so that the first window does not wait for it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, cast

from rakeprep.model.entry import Slot

if TYPE_CHECKING:
    from rakeprep.ui.bodies.body import Body

ALL = "*"  # every question of a step that is not named for another picture
# step, questions, file, class
PICTURES = (
    ("fasteners", "bolts_out pins_in", "joint_plan", "JointPlan"),
    ("driveline", "distance closed half cut gap_shortest overlap_longest", "shaft_map", "ShaftMap"),
    (
        "hydraulics",
        "remote lever connected purge time_out time_in time_spread drift leak",
        "hose_map",
        "HoseMap",
    ),
    ("hydraulics", "hold supply fuse", "hold_table", "HoldTable"),
    ("lights", "lit dim", "lamp_board", "LampBoard"),
    ("lights", "boards other_boards", "board_plan", "BoardPlan"),
    ("tyres", "size pressure_found pressure_set nuts castor", "wheel_plan", "WheelPlan"),
    ("arms", "turning free_turn loose hand coil tines twist", "arm_ring", "ArmRing"),
    ("levelling", "arm_clearance", "arm_ring", "ArmRing"),
    ("levelling", "floor clearance chassis_pins turnbuckle crank", "clock_face", "ClockFace"),
    (
        "levelling",
        "follows offset steering_arm rod_per_turn toe_front toe_rear hub_length",
        "axle_plan",
        "AxlePlan",
    ),
    ("guards", "depth pull_test cord", "latch_gauge", "LatchGauge"),
    ("width", "gauge_reading working", "width_gauge", "WidthGauge"),
    (
        "width",
        "headland_clearance limiter_change limiter_effect limiter_hole",
        "limiter_plan",
        "LimiterPlan",
    ),
    ("test_run", ALL, "run_timeline", "RunTimeline"),
)
BY_QUESTION = {
    (step, field): (file, name) for step, fields, file, name in PICTURES for field in fields.split()
}


def body_for(slot: Slot) -> type[Body] | None:
    """The picture that goes with a task; None where words are enough."""
    found = BY_QUESTION.get((slot.step, slot.field)) or BY_QUESTION.get((slot.step, ALL))
    if found is None:
        return None
    file, name = found
    return cast("type[Body]", getattr(import_module(f"{__name__}.{file}"), name))
