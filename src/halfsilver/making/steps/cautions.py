"""Where a step can hurt someone: what to mind, and who decides."""

from __future__ import annotations

GLASS = (
    "Glass: cut-resistant gloves and sleeves, eye protection, shoes. Carry a pane upright on its edge, two people for a large one; nobody "
    "below a raised pane. Which glass a place calls for is decided by local codes and the authority there."
)
SCORING = (
    "Cut glass: score away from the body, keep a brush, a pan and a rigid bin for the pieces. Never try to cut toughened or "
    "laminated glass."
)
BLADES = (
    "Blades and cutters: guards in place, work clamped or held by push blocks, eye and ear protection, no gloves at a running blade; "
    "power off "
    "and at rest before a setting is changed."
)
NAILS = (
    "Pins: eye protection, sequential trigger, air off before a jam is cleared; no hand in the line of a pin, which can glance "
    "out sideways."
)
DUST = "Dust: extraction at the source and a mask; wood dust burns and some timbers irritate. No sparks near it."
SOLVENTS = (
    "Glue, paint, finish and solvents: read the data sheet, air the room, gloves, no flames. Lay oily rags out flat to dry: they can "
    "heat up "
    "by themselves."
)
MAINS = (
    "Mains: unplug before touching a wire; fixed wiring, and everything inside a supply or a wall, is for a licensed electrician. "
    "Local codes "
    "decide."
)
VOLTS = (
    "Low voltage: it can still start a fire. Fuse the run, check polarity before power, leave no bare joint. Draw off the fumes of solder."
)
LIGHT = "Light: do not stare at bare lights at full; strobing and fast flicker can set off seizures."
WEIGHT = (
    "Weight: enough people for the mass, path clear, hands clear of the edge it lands on; nobody stands below a piece that is being lifted."
)
WALLS = (
    "Walls: fixings are for a competent installer who knows what the wall is, what mass it takes and which cables and pipes are in "
    "it. Local "
    "codes decide."
)
