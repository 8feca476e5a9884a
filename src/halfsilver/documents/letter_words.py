"""Subjects, short titles and plain words for findings: what each rule is about, and how well its source is known."""

from __future__ import annotations

from halfsilver.model.formula import Status

# Subject and, in the order of print, the beginnings of the rules that belong to it.
SUBJECTS: dict[str, tuple[str, ...]] = {
    "Sizes and fit": ("fit.", "cutting.", "screen."),
    "Sight lines": ("sight.",),
    "Frame": ("frame.",),
    "Weight, hanging and standing": ("mass.", "lift.", "mount."),
    "Glass": ("glass.",),
    "Place and people": ("glazing.", "access.", "view.", "place."),
    "Heat": ("heat.",),
    "Electrical": ("wiring.", "elec."),
    "Damp and timber": ("damp.", "timber."),
    "Carriage": ("carriage.",),
    "What will be seen": ("appearance.",),
    "Taken for granted": ("assumed.",),
}
OTHER = "Other"

TITLES = {
    "access.headroom": "Headroom below it",
    "access.mirror": "Height of the mirror's edge",
    "access.path": "Width left to walk",
    "access.protrusion": "Depth off the wall",
    "access.reach": "Reach of the controls",
    "appearance.assumed": "Basis of what will be seen",
    "appearance.beside_picture": "Beside the picture",
    "appearance.echo": "Echo of the picture",
    "appearance.hidden_screen": "Dark screen against its surround",
    "appearance.light_sensor": "Light at the screen's sensor",
    "appearance.numbers": "What will be seen",
    "appearance.radio": "Radio through the sheets",
    "appearance.remote_control": "Remote control through the sheets",
    "appearance.room_contrast": "Contrast in the room's light",
    "appearance.single_diodes": "Single diodes",
    "appearance.standby_light": "Standby light that is still hidden",
    "appearance.viewing_zone": "Picture seen across the zone",
    "appearance.visible_images": "Repeats of the lights that are seen",
    "assumed.entry": "Assumed sizes",
    "assumed.screen": "Assumed of the screen",
    "assumed.unused": "Not used",
    "assumed.walking": "Viewers who walk",
    "carriage.crate": "Crate and its mass packed",
    "carriage.foam": "Pressure on the foam",
    "cutting.no_stock": "No stock to cut from",
    "damp.arrival": "Coming in from the cold: dew point of the room",
    "damp.by_water": "Distance from a tub or shower",
    "damp.carriage": "Coldest on its way, against the dew point inside",
    "damp.dew_point": "Wall behind it, against the dew point",
    "damp.mould": "Humidity at the wall behind it",
    "damp.wet_room": "Wet room",
    "elec.class2": "Power of a limited supply",
    "elec.even": "Evenness of the strip",
    "elec.lead": "Current of the leads",
    "fit.already_cut": "Cut already",
    "fit.batten_depth": "Depth for the battens",
    "fit.batten_proud": "Batten proud of the back",
    "fit.bedding": "Bedding of the batten",
    "fit.bought_clearance": "Clearance of a pane bought to size",
    "fit.clearance": "Clearance of the panes",
    "fit.far_reading": "A reading far from its plan",
    "fit.recess": "Room in the recess",
    "fit.screen": "Play of the screen",
    "fit.strip_run": "Run of the strip",
    "fit.strip_width": "Width for the strip",
    "frame.bar_length": "Length of the bars",
    "frame.bars": "Bars behind the screen",
    "frame.bar_give": "How far a bar gives",
    "frame.bar_screws": "Pull on the screws of a bar",
    "frame.bar_stress": "Stress in a bar",
    "frame.bottom_stick": "Sag of the bottom stick in years",
    "frame.glue_joint": "Glued joint between the frames",
    "frame.lip_left": "Lip left after planing",
    "frame.mitres": "Pull on each lower mitre",
    "frame.moulding": "Mouldings that would do",
    "frame.planing_forbidden": "Planing",
    "frame.relief_rests": "Pocket, if the screen rests",
    "frame.relief_wall": "Timber left outside the pocket",
    "frame.screw_length": "Longest screws",
    "glass.deflection": "Deflection of the pane",
    "glass.heat_stress": "Heat at the panes' edges",
    "glass.linear": "Small-deflection theory",
    "glass.measured": "Measured sheet",
    "glass.own_weight": "Leaning pane under its own weight",
    "glass.painted_back": "Painted back",
    "glass.rear_mirror": "Rear mirror",
    "glass.sag": "Sag of a pane",
    "glass.strength": "Front pane when someone pushes",
    "glass.stress": "Stress in a pane",
    "glazing.overhead": "Glass over people",
    "glazing.pane": "Glass that the place calls for",
    "glazing.touched": "Plain glass within reach",
    "glazing.window": "Glass as of a window",
    "heat.acrylic": "Growth of acrylic",
    "heat.air": "Air inside",
    "heat.blocked": "Air inside, openings blocked",
    "heat.channel": "Growth of the channel",
    "heat.recess": "Air in the recess",
    "heat.screen_vents": "Vents of the screen",
    "heat.strip": "Power of the strip",
    "heat.touch": "Warmest face",
    "heat.vent": "Openings",
    "heat.warm_up": "Warming up",
    "lift.parts": "People to carry one part",
    "lift.team": "Lifting it into place",
    "mass.total": "Mass",
    "mount.combined_load": "Pull and weight on a screw",
    "mount.down": "Pressed down upon outside its foot",
    "mount.fixings": "Fixings in the wall",
    "mount.hanger_screws": "Screws of the hangers",
    "mount.hangers": "Load on a hanger",
    "mount.proof_load": "Proof load",
    "mount.pull_out": "Pull on a top screw",
    "mount.pull_out_person": "Pull on a top screw, a person hanging on",
    "mount.push": "Push that tips it",
    "mount.recess": "What carries it in the recess",
    "mount.recess_bay": "Recess between the studs",
    "mount.screen_holes": "Load on the screen's holes",
    "mount.screen_mount": "Load on the screen's mount",
    "mount.tip": "Tipping",
    "place.cables": "Way of the cables",
    "place.service": "Cleaning and service",
    "place.walk_into": "Glass that can be walked into",
    "screen.diagonal": "Diagonal of the picture",
    "screen.edid_note": "Screen's own data block",
    "screen.edid_pixels": "Pixels of the screen",
    "screen.edid_size": "Size in the screen's data block",
    "screen.record": "Record of the screen",
    "sight.cover": "What covers the picture, looked at straight",
    "sight.gap_cost": "Cost of the gap",
    "sight.hidden_share": "Picture hidden at worst",
    "sight.viewers": "Viewers",
    "sight.window": "Picture off the middle",
    "timber.clearance": "Panes' clearance when it is dampest",
    "timber.glue": "Gluing: temperature of the shop",
    "timber.glued": "Moisture of the timber when glued",
    "timber.mitre": "Opening of the mitres",
    "view.flicker": "Flicker of the lights",
    "view.gaze": "Looking up",
    "view.glare": "Glare of the lights",
    "view.size": "Size of the picture for its distance",
    "wiring.branch": "Current from the mains",
    "wiring.dimmer": "Dimmer",
    "wiring.energy": "Energy in a year",
    "wiring.even": "Dimmest segment of the strip",
    "wiring.fuse": "Fuse",
    "wiring.inrush": "Peak at switching on",
    "wiring.lead": "Current of the leads",
    "wiring.lead_drop": "Voltage lost in the leads",
    "wiring.limited": "Power of a limited supply",
    "wiring.mains": "Connection to the mains",
    "wiring.supply": "Load of the supply",
    "wiring.voltage": "Voltage of the supply",
}

STATUS_WORDS: dict[Status, str] = {
    "seen": "read in the publication",
    "oracle": "agrees with an independent library",
    "derived": "derived from first principles",
    "practice": "common practice",
    "memory": "from memory: unconfirmed",
    "assumed": "assumed: unconfirmed",
}
UNCONFIRMED: tuple[Status, ...] = ("memory", "assumed")

# Who decides where a finding has no working that names them.
DECIDES = {
    "access.": "the owner's accessibility adviser and the local authority",
    "glazing.": "local building authority",
    "heat.": "maker of the screen; a probe in the finished case",
    "mount.": "licensed structural engineer",
    "place.": "the owner",
    "view.": "the owner",
    "wiring.": "licensed electrician, local code",
    "damp.": "whoever answers for the wall",
    "appearance.": "the owner, on a sample",
}
MAKER = "the maker"


def subject_of(rule: str) -> str:
    """What a rule is about.

    Examples
    --------
    >>> subject_of("mount.fixings")
    'Weight, hanging and standing'
    """
    return next((subject for subject, starts in SUBJECTS.items() if rule.startswith(starts)), OTHER)


def title_of(rule: str) -> str:
    """Short title of a rule, with a capital."""
    return TITLES.get(rule) or rule.rpartition(".")[2].replace("_", " ").capitalize()


def decider_of(rule: str) -> str:
    """Who decides on a finding that names nobody itself."""
    return next((who for start, who in DECIDES.items() if rule.startswith(start)), MAKER)
