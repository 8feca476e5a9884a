"""How much stress a pane may carry, and for how long: EN 16612, ASTM E1300, DIN 18008, and laminated glass.

A coated face keeps its strength; a drilled, notched or sandblasted pane does not belong here without its factor. Results are values to
hold a stress against, not an approval: overhead, public or sloped glass goes to a structural engineer.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, sqrt

from halfsilver.engineering.bounds import entry, not_negative, positive, within
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

ANNEALED_MPA = 45.0  # EN 572-1 [seen]
CHARACTERISTIC_MPA = {"annealed": ANNEALED_MPA, "heat-strengthened": 70.0, "toughened": 120.0}  # EN 1863, EN 12150 [seen]
GLASS_FACTOR, PRESTRESS_FACTOR = 1.8, 1.2  # EN 16612 material factors [seen]
SURFACE = {"float": 1.0, "patterned": 0.75, "sandblasted": 0.6}  # EN 16612 k_sp [seen]
EDGE = {"not bent": 1.0, "polished": 1.0, "seamed": 0.9, "as cut": 0.8}  # EN 16612 k_e [seen]
# NCSEA guide with ASTM E1300, 3 s load, 8 in 1000: on the face, at the edge [MPa]. Seen.
E1300_MPA = {"annealed": (23.3, 18.3), "heat-strengthened": (46.6, 36.5), "toughened": (93.1, 73.0)}
E1300_TYPE = {"annealed": (1.0, 0.43), "heat-strengthened": (2.0, 1.3), "toughened": (4.0, 3.0)}  # short, long [memory]
DIN_DURATION = {"permanent": 0.25, "medium": 0.40, "short": 0.70}  # DIN 18008-1 k_mod [memory]


@formula(name="glass.duration_factor", source="EN 16612:2019, k_mod", status="seen", validity="annealed part; 5 s to 50 years")
def duration_factor(*, duration_h: float) -> float:
    """Share of its short-time strength that annealed glass has under a load of some duration.

    Parameters
    ----------
    duration_h : float
        How long the load acts; 438 300 h for 50 years. [h]

    Returns
    -------
    float
        0.663 t^(-1/16), at most 1 and at least 0.29. [-]

    References
    ----------
    EN 16612:2019. Seen in a transcription; the standard prints 0.29 for 50 years.

    Examples
    --------
    >>> round(duration_factor(duration_h=1 / 6), 2)
    0.74
    """
    positive(duration_h=duration_h)
    factor: float = 0.663 * duration_h ** (-1 / 16)
    return min(1.0, max(0.29, factor))


@formula(name="glass.design_strength", source="EN 16612:2019", status="seen", unit="MPa")
def design_strength_mpa(*, kind: str, k_mod: float, surface: str = "float", edge: str = "not bent", k_v: float = 1.0) -> float:
    """Design value of the bending strength of a pane.

    Parameters
    ----------
    kind : {"annealed", "heat-strengthened", "toughened"}
        Heat treatment.
    k_mod : float
        Load duration factor, see `duration_factor`; 0.29 for a permanent load. [-]
    surface : {"float", "patterned", "sandblasted"}
        Surface.
    edge : {"not bent", "polished", "seamed", "as cut"}
        Edges; the first where the stress is away from them (four edges held).
    k_v : float
        Factor for how it was toughened: 1 lying, less hung from tongs. [-]

    Returns
    -------
    float
        k_e k_mod k_sp 45/1.8, and for a prestressed pane k_v (f_bk - 45)/1.2 more. [MPa]

    References
    ----------
    EN 16612:2019. Seen in a transcription.

    Examples
    --------
    >>> round(design_strength_mpa(kind="toughened", k_mod=0.29), 2)
    69.75
    """
    within("k_mod", k_mod, 0, 1, "EN 16612")
    within("k_v", k_v, 0, 1, "EN 16612")
    characteristic = entry(CHARACTERISTIC_MPA, kind, "kind of glass")
    factors = entry(EDGE, edge, "edge") * entry(SURFACE, surface, "surface") * k_mod
    return factors * ANNEALED_MPA / GLASS_FACTOR + k_v * (characteristic - ANNEALED_MPA) / PRESTRESS_FACTOR


@formula(
    name="glass.duration_factor_by_e1300",
    source="ASTM E1300, static fatigue exponent 16",
    status="seen",
    validity="annealed glass, 3 s or longer",
)
def duration_factor_by_e1300(*, duration_s: float) -> float:
    """Share of its 3 s strength that annealed glass has under a longer load.

    Parameters
    ----------
    duration_s : float
        How long the load acts, 3 s or longer. [s]

    Returns
    -------
    float
        (3/t)^(1/16). [-]

    References
    ----------
    ASTM E1300: exponent 16 seen; 0.43 for a long load from memory.

    Examples
    --------
    >>> round(duration_factor_by_e1300(duration_s=30 * 86400), 3)
    0.426
    """
    within("duration_s", duration_s, 3, 1e12, "ASTM E1300, loads of 3 s or longer")
    factor: float = (3 / duration_s) ** (1 / 16)
    return factor


@formula(name="glass.allowable_by_e1300", source="NCSEA guide to ASTM E1300", status="seen", unit="MPa", validity="3 s load, 8 in 1000")
def allowable_by_e1300_mpa(*, kind: str, at_edge: bool = False) -> float:
    """Stress that goes with eight broken panes in a thousand at the first 3 s loading.

    Parameters
    ----------
    kind : {"annealed", "heat-strengthened", "toughened"}
        Heat treatment.
    at_edge : bool
        Stress at an edge rather than on the face.

    Returns
    -------
    float
        Allowable stress. [MPa]

    References
    ----------
    NCSEA guide with ASTM E1300. Seen.
    """
    face, edge = entry(E1300_MPA, kind, "kind of glass")
    return edge if at_edge else face


@formula(name="glass.type_factor_by_e1300", source="ASTM E1300, glass type factors", status="memory")
def type_factor_by_e1300(*, kind: str, long_load: bool) -> float:
    """Load resistance of a kind of glass over that of annealed glass under a short load.

    Parameters
    ----------
    kind : {"annealed", "heat-strengthened", "toughened"}
        Heat treatment.
    long_load : bool
        About 30 days rather than 3 s.

    Returns
    -------
    float
        Factor. [-]

    References
    ----------
    ASTM E1300: 1, 2, 4 short; 0.43, 1.3, 3.0 long. From memory.
    """
    return entry(E1300_TYPE, kind, "kind of glass")[1 if long_load else 0]


@formula(name="glass.design_strength_by_din", source="DIN 18008-1", status="memory", unit="MPa")
def design_strength_by_din_mpa(*, kind: str, duration: str = "permanent", held_on_lines: bool = True) -> float:
    """Design value of the bending strength by the German standard, for comparison.

    Parameters
    ----------
    kind : {"annealed", "toughened"}
        Heat treatment.
    duration : {"permanent", "medium", "short"}
        Of the load; without effect on toughened glass.
    held_on_lines : bool
        All edges held along lines: annealed glass may then carry 1.8 times as much.

    Returns
    -------
    float
        k_mod k_c f_k/1.8 for annealed, k_c f_k/1.5 for toughened glass. [MPa]

    References
    ----------
    DIN 18008-1. From memory.
    """
    strength = {"annealed": 45.0, "toughened": 120.0}
    if entry(strength, kind, "kind of glass") > ANNEALED_MPA:
        return strength[kind] / 1.5
    return entry(DIN_DURATION, duration, "duration") * (1.8 if held_on_lines else 1.0) * ANNEALED_MPA / 1.8


@formula(
    name="glass.laminated_thickness", source="EN 16612, equivalent thickness", status="memory", unit="mm", validity="relaxed case derived",
)  # fmt: skip
def laminated_thickness_mm(*, plies_mm: Sequence[float], interlayers_mm: Sequence[float] = (), coupling: float = 0.0) -> float:
    """Thickness of a solid pane that bends as much as a laminated one.

    Parameters
    ----------
    plies_mm : sequence of float
        Thickness of each ply, the least ones. [mm]
    interlayers_mm : sequence of float
        Thickness of each interlayer, one fewer; empty counts as none. [mm]
    coupling : float
        Shear transfer of the interlayer: 0 relaxed (a lasting load), 1 full. [-]

    Returns
    -------
    float
        Equivalent thickness for deflection. [mm]

    References
    ----------
    EN 16612: (sum h^3 + 12 w sum h d^2)^(1/3). From memory; w = 0 derived: plies slide, so cubes add. 3 + 3 then bends four times as
    much as 6 solid.

    Examples
    --------
    >>> round((6 / laminated_thickness_mm(plies_mm=[3, 3])) ** 3, 6)
    4.0
    """
    offsets = _ply_offsets_mm(plies_mm, interlayers_mm)
    within("coupling", coupling, 0, 1, "shear transfer")
    cubes = fsum(h**3 for h in plies_mm)
    steiner = fsum(h * d * d for h, d in zip(plies_mm, offsets, strict=True))
    thickness: float = (cubes + 12 * coupling * steiner) ** (1 / 3)
    return thickness


@formula(
    name="glass.laminated_stress_thickness", source="EN 16612, equivalent thickness", status="memory", unit="mm",
    validity="relaxed case derived",
)  # fmt: skip
def laminated_stress_thickness_mm(
    *, plies_mm: Sequence[float], ply: int, interlayers_mm: Sequence[float] = (), coupling: float = 0.0
) -> float:
    """Thickness of a solid pane that is stressed as much as one ply of a laminated pane.

    Parameters
    ----------
    plies_mm : sequence of float
        Thickness of each ply, the least ones. [mm]
    ply : int
        Which ply, from 0.
    interlayers_mm : sequence of float
        Thickness of each interlayer, one fewer; empty counts as none. [mm]
    coupling : float
        As in `laminated_thickness_mm`. [-]

    Returns
    -------
    float
        Equivalent thickness for stress. [mm]

    References
    ----------
    EN 16612: sqrt(h_w^3/(h_j + 2 w d_j)). From memory; w = 0 derived.
    """
    within("ply", ply, 0, len(plies_mm) - 1, "the plies given")
    whole = laminated_thickness_mm(plies_mm=plies_mm, interlayers_mm=interlayers_mm, coupling=coupling)
    offset = abs(_ply_offsets_mm(plies_mm, interlayers_mm)[ply])
    return sqrt(whole**3 / (plies_mm[ply] + 2 * coupling * offset))


def _ply_offsets_mm(plies_mm: Sequence[float], interlayers_mm: Sequence[float]) -> list[float]:
    """Distance of each ply's middle from the common middle plane of the glass."""
    films = list(interlayers_mm) or [0.0] * (len(plies_mm) - 1)
    if not plies_mm or len(films) != len(plies_mm) - 1:
        raise RangeError("a laminated pane has one interlayer fewer than plies")
    positive(**{f"ply {i}": h for i, h in enumerate(plies_mm)})
    not_negative(**{f"interlayer {i}": h for i, h in enumerate(films)})
    middles, top = [], 0.0
    for h, film in zip(plies_mm, [*films, 0.0], strict=True):
        middles.append(top + h / 2)
        top += h + film
    centre = fsum(h * z for h, z in zip(plies_mm, middles, strict=True)) / fsum(plies_mm)
    return [z - centre for z in middles]
