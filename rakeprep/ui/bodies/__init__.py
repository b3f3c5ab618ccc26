"""Pictures of the steps, one a file; each is drawn from the record and the machine's data.

A picture is imported only when its step is opened, so that the first window does not wait for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rakeprep.model.entry import Slot

if TYPE_CHECKING:
    from rakeprep.ui.bodies.body import Body


def body_for(slot: Slot) -> type[Body] | None:
    """The picture that goes with a task; None where words are enough."""
    match slot.step, slot.field:
        case "fasteners", "bolts_out" | "pins_in":
            from rakeprep.ui.bodies.joint_plan import JointPlan

            return JointPlan
        case "driveline", "distance" | "closed" | "half" | "cut" | "gap_shortest" | "overlap_longest":
            from rakeprep.ui.bodies.shaft_map import ShaftMap

            return ShaftMap
        case "hydraulics", (
            "remote"
            | "lever"
            | "connected"
            | "purge"
            | "time_out"
            | "time_in"
            | "time_spread"
            | "drift"
            | "leak"
        ):
            from rakeprep.ui.bodies.hose_map import HoseMap

            return HoseMap
        case "lights", "lit" | "dim":
            from rakeprep.ui.bodies.lamp_board import LampBoard

            return LampBoard
        case "tyres", "size" | "pressure_found" | "pressure_set" | "nuts" | "castor":
            from rakeprep.ui.bodies.wheel_plan import WheelPlan

            return WheelPlan
        case ("arms", "turning" | "free_turn" | "loose" | "hand" | "coil" | "tines" | "twist") | (
            "levelling",
            "arm_clearance",
        ):
            from rakeprep.ui.bodies.arm_ring import ArmRing

            return ArmRing
        case "levelling", "floor" | "clearance" | "chassis_pins" | "turnbuckle" | "crank":
            from rakeprep.ui.bodies.clock_face import ClockFace

            return ClockFace
        case "guards", "depth" | "pull_test" | "cord":
            from rakeprep.ui.bodies.latch_gauge import LatchGauge

            return LatchGauge
        case "width", "gauge_reading" | "working":
            from rakeprep.ui.bodies.width_gauge import WidthGauge

            return WidthGauge
        case "test_run", _:
            from rakeprep.ui.bodies.run_timeline import RunTimeline

            return RunTimeline
    return None
