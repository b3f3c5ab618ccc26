"""Which small drawing stands beside which question.

Several questions that are answered at one place share a drawing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from rakeprep.drawing import help_chassis as chassis
from rakeprep.drawing import help_drive as drive
from rakeprep.drawing import help_level as level
from rakeprep.drawing import help_papers as papers
from rakeprep.drawing import help_repair as repair
from rakeprep.drawing import help_run as run
from rakeprep.drawing import help_start as start
from rakeprep.drawing import help_visit as visit
from rakeprep.drawing.help_parts import Marks

Draws = Callable[[], Marks]

_FAMILIES: Mapping[str, Mapping[Draws, str]] = {
    "arrival": {
        start.sling: "lift_with lift_mass leg_capacity leg leg_spread",
        start.fork_truck: "truck_capacity truck_centre load_centre",
        start.bundles: "load_photo packages",
        start.dent: "damage damage_note damage_photo",
        start.plate: "designation serial serial_paper year plate_photo part_serial",
        papers.delivered: "delivered",
        papers.holidays: "holidays",
        papers.letter_sent: "notice_sent",
        papers.same_number: "declaration",
        papers.flag_on_sheet: "declaration_language",
        papers.spoken_book: "book_language",
        papers.values_accepted: "rules_accepted_by",
        papers.time_planned: "time_planned",
        papers.time_used: "time_used",
        papers.time_lost: "time_lost",
        papers.waits_for: "waits_for",
    },
    "fasteners": {
        start.bolt_and_pin: "bolts_out pins_in by_hand shipping_parts",
        start.over_pin: "pin_size pin_free",
        start.in_hole: "pin_hole",
        start.stands_out: "protrusion",
        start.twisted: "twist",
        start.wrench: "wrench wrench_certificate wrench_pulls wrench_length",
        start.crow_foot: "extension",
        start.bolt_class: "torque",
        start.paint_line: "marked",
    },
    "hitch": {
        start.balls: "category ball span",
        start.over_pin: "pin",
        start.pin_height: "height link_stop",
        start.sway: "side_sway",
        start.link_clip: "stand clip",
        start.turning_room: "tyre_clearance",
        start.guard_room: "guard_clearance",
        start.weighed: "axle_loads_seen ballast front_weighed both_weighed",
    },
    "driveline": {
        drive.stub: "stub",
        drive.joint_angle: "angle wide_angle_end",
        drive.groove_to_groove: "distance customers_tractor",
        drive.full_lock: "turn_angle",
        drive.pushed_home: "closed",
        drive.one_half: "half",
        drive.cut_off: "cut deburred",
        drive.gap_left: "gap_shortest",
        drive.overlap: "overlap_longest",
        drive.in_plane: "yokes",
        drive.locked: "lock_pins",
        drive.guard_chain: "chain chain_span chain_air",
        drive.one_way: "clutch",
    },
    "hydraulics": {
        drive.coupling: "remote lever connected purge",
        drive.oil_heat: "oil_temperature",
        drive.stroke_time: "time_out time_in time_spread",
        drive.rod_mark: "drift drift_shut",
        drive.cardboard: "leak",
        drive.rising: "hold clear stuck",
        drive.socket: "supply fuse",
        chassis.jug: "reservoir",
    },
    "lights": {
        drive.socket: "socket",
        drive.lamps: "lit dim own_lamp",
        drive.battery: "battery",
        drive.at_lamp: "worst_lamp",
        drive.earth_side: "earth_loss",
        drive.board: "boards other_boards",
    },
    "tyres": {
        chassis.warmth: "workshop_temperature use_temperature",
        chassis.side_wall: "size",
        chassis.pressure: "pressure_found pressure_set",
        chassis.star_order: "nuts",
        chassis.castor: "castor",
    },
    "arms": {
        chassis.loose_arms: "loose",
        chassis.seen_from_behind: "turning",
        chassis.turned_by_hand: "free_turn",
        chassis.hands: "hand",
        chassis.coil: "coil",
        chassis.count_tines: "tines",
        start.twisted: "twist",
    },
    "guards": {
        chassis.fastened: "closed signs",
        chassis.guard_turns: "guard_free",
        drive.guard_chain: "chain_holds",
        chassis.reach_in: "shield_overlap",
        chassis.latch_depth: "depth",
        chassis.pull_against: "pull_test",
        chassis.cord: "cord",
    },
    "oil": {
        chassis.vent_plug: "vent",
        chassis.stands_still: "waited",
        chassis.tilt: "tilt",
        chassis.level_plug: "level",
        chassis.jug: "oil_used filled drained",
        chassis.shots: "gun",
        chassis.nipple: "shots fresh",
    },
    "levelling": {
        level.uneven_floor: "floor",
        level.step_block: "clearance",
        level.pins_moved: "chassis_pins",
        level.turnbuckle: "turnbuckle",
        level.crank: "crank",
        level.one_place: "arm_clearance",
        level.steers: "follows",
        level.tracks: "offset",
        level.steering_rod: "steering_arm rod_per_turn",
        level.rims: "toe_front toe_rear",
        level.hub_length: "hub_length",
    },
    "width": {
        level.width_gauge: "gauge_reading",
        level.tip_to_tip: "working",
        level.at_headland: "headland_clearance limiter_effect",
        level.limiter: "limiter_change limiter_hole",
        level.folded_width: "transport_width",
        level.folded_height: "transport_height",
        level.cab_label: "cab_label",
        papers.permit_number: "permit",
        papers.permit_until: "permit_until",
        papers.permit_width: "permit_width",
        papers.permit_height: "permit_height",
    },
    "settings": {
        run.gear_lever: "pto_gear engine_label",
        run.speed: "pto_speed engine_speed",
        run.turns_counted: "turns_counted turns_time",
        level.lowest_tip: "tine_concrete",
        level.wheel_print: "tyre_sink",
        run.planned_speed: "ground_speed",
        visit.yield_of_area: "yield_expected",
        visit.picked_up: "follower_rate",
    },
    "test_run": {
        run.everyone_clear: "clear",
        run.inwards: "direction",
        run.listening: "noise",
        run.runs_down: "coast_down run_time knocks knock_time",
        chassis.warmth: "ambient",
        run.surface: "surface_temperature pull_hub",
        drive.cardboard: "leaks",
        start.paint_line: "second_torque",
        chassis.star_order: "wheel_nuts",
        run.road_pull: "pull_latch",
    },
    "handover": {
        papers.initials: "topic",
        papers.papers_given: "papers",
        papers.day_of_signature: "start_date",
        papers.hours_a_day: "hours_a_day",
        papers.telephone: "call",
    },
    "visit": {
        visit.hour_meter: "hours",
        visit.above_stubble: "field_clearance",
        visit.windrow_section: "windrow",
        visit.hose_looked_at: "hoses",
        visit.magnet_plug: "magnet",
        visit.customer_tells: "noticed",
    },
    "repair": {
        repair.locked_out: "isolated",
        repair.arm_or_carrier: "part",
        repair.stamped_number: "part_number",
        repair.laid_side_by_side: "bolts_out",
        repair.all_in_again: "bolts_in",
        repair.bolt_as_wanted: "new_bolts",
        repair.torque_in_book: "book_torque",
        repair.last_pull: "torque",
        repair.gearbox_dry: "gearbox_dry",
    },
}
DRAWINGS: Mapping[str, Draws] = {
    f"{step}.{field}": draw
    for step, family in _FAMILIES.items()
    for draw, fields in family.items()
    for field in fields.split()
}


def drawing_for(step: str, field: str) -> Marks:
    """The small drawing of a question; nothing for one that no step asks."""
    draw = DRAWINGS.get(f"{step}.{field}")
    return () if draw is None else draw()
