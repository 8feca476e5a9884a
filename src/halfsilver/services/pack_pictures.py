"""The stills of a pack: every viewer with everything on and off, the first one also with the screen or the lights alone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from halfsilver.documents.looks import Look
from halfsilver.layout.design import Design
from halfsilver.optics.still import State
from halfsilver.services.pictures import picture, still_of

FIRST_PX, OTHERS_PX = (1600, 900), (960, 540)


def pack_pictures(design: Design, *, folder: Path | None = None, say: Callable[[str], None] = lambda stage: None) -> tuple[Look, ...]:
    """Stills for the pack, the one for the client's first page first.

    Parameters
    ----------
    design : Design
        The resolved job; without viewers there is nothing to show.
    folder : Path, optional
        The workshop's folder, where measured spectra lie.
    say : callable
        Told which picture is begun.

    Raises
    ------
    JobError
        If the optics of the job cannot be used.
    """
    wanted = [(viewer.id, state) for k, viewer in enumerate(design.facts.job.viewers) for state in _states(design, viewer.id, first=k == 0)]
    looks = []
    for k, (viewer, state) in enumerate(wanted):
        say(f"Picture {k + 1} of {len(wanted)}: {viewer}, {state.value}")
        wide, high = OTHERS_PX if k else FIRST_PX
        _, png = picture(design, viewer=viewer, state=state.value, width_px=wide, height_px=high, folder=folder)
        looks.append(Look(viewer=viewer, state=state, png=png))
    return tuple(looks)


def _states(design: Design, viewer: str, *, first: bool) -> tuple[State, ...]:
    """What is worth a picture: the screen or the lights alone only where there are both."""
    still, _ = still_of(design, viewer=viewer, width_px=16, height_px=9)
    both = still.screen is not None and still.strip is not None
    return (State.ALL, State.ON, State.LIGHTS, State.DARK) if first and both else (State.ALL, State.DARK)
