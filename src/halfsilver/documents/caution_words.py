"""Where this work can hurt someone: what to mind, and who decides."""

from __future__ import annotations

from halfsilver.model.job import Scope

GLASS = (
    "Panes are handled upright by enough people, with cut-resistant gloves and sleeves, eye protection and shoes. Arrises are taken off"
    " before a pane is handled again. Which glass a place calls for is decided by local codes and the authority there."
)
BLADES = (
    "Mitre saw, router and planer: guards on, stock clamped, hands out of the line of the cut; a pocket is routed with the stick held on"
    " both sides. Dust is extracted and a mask worn. Hold to the makers' instructions for the machines."
)
MAINS = (
    "Mains supply, protective earth, isolation and everything behind the wall are for a licensed electrician; local codes decide."
    " Lights and supply are powered on the bench before the case is closed."
)
WEIGHT = (
    "Lifting, hanging and fixings over people are planned by a competent installer, who proves the wall and the fixings for this mass."
    " Screws and anchors are chosen for the ground they go into."
)
FINISHES = (
    "Paint, solvent and adhesive are used with the ventilation and protection that their data sheets ask for; rags with oil are laid out"
    " flat to dry. Paint is cured before the case is closed."
)


def cautions(scope: Scope) -> list[dict[str, str]]:
    """The cautions for what this scope makes."""
    told = {
        "Glass": GLASS,
        "Blades and cutters": BLADES,
        "Mains and low voltage": MAINS,
        "Weight": WEIGHT,
        "Finishes and adhesives": FINISHES,
    }
    left_out = ("Blades and cutters", "Finishes and adhesives") if scope is Scope.GLASS_ONLY else ()
    return [{"head": head, "text": text} for head, text in told.items() if head not in left_out]
