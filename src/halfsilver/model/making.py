"""What making a piece takes: what is in the shop's scope, cut plans, orders, build steps. Values only."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Trade(Enum):
    """A kind of work or supply; a job's scope says which are the shop's."""

    FRAME = "frame"
    BATTENS = "battens"
    GLASS = "glass"
    LIGHTS = "lights"
    RETAINERS = "retainers"
    BACKING = "backing"
    SCREEN = "screen"
    ASSEMBLY = "assembly"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """The least that any plan can cost, and how it is known (``lp`` or ``material``)."""

    value: float
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutGroup:
    """One material's cut plan, in the neutral form.

    ``unit_mm`` is the length of the instance's unit [mm]; ``piece_to_part`` tells which part each piece becomes; ``stock_to_row`` which row
    of the workshop's stock each stock entry is. Costs of the instance, ``cost`` and ``bound`` count in ``cost_unit``. ``notes`` say what
    the plan alone does not show.
    """

    material: str
    name: str
    unit_mm: float
    instance: dict[str, object]
    solution: dict[str, object]
    cost: float
    bound: Bound
    engines: tuple[str, ...]
    checked: bool
    piece_to_part: dict[str, str]
    stock_to_row: dict[str, str]
    cost_unit: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingStock:
    """A material that cannot be planned: which parts wait for it, why, and what would do.

    ``rule`` is the finding's name: ``cutting.no_stock``, ``cutting.stick_too_short``, ``cutting.sheet_too_small`` or
    ``cutting.stock_runs_short``. ``value_mm`` and ``limit_mm`` are what is wanted and what there is, where one length tells it.
    """

    material: str
    parts: tuple[str, ...]
    rule: str
    why: str
    advice: str
    value_mm: float | None = None
    limit_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GlassOrder:
    """A pane bought to size: ordered after measuring, never cut here."""

    part: str
    glass: str
    width_mm: float
    height_mm: float
    thickness_mm: float
    quantity: int
    edge: str
    impact: str
    coated_side: str
    lead_days: int
    measured: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """Everything that is cut, everything that is ordered to size, and what no stock was found for."""

    groups: tuple[CutGroup, ...]
    orders: tuple[GlassOrder, ...]
    missing: tuple[MissingStock, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Checkpoint:
    """Something to measure before going on: a ledger entry, what is expected, how far it may be off, and a box to write in."""

    entry: str
    label: str
    expected_mm: float
    tolerance_mm: float
    at: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One operation of the build.

    Parameters
    ----------
    id, title : str
        Stable short name, and what is done.
    trade : Trade
        Whose work it is.
    parts : tuple of str
        Ids of the parts it touches.
    tool, setting : str
        With what, and set to what.
    drawing : str
        Stem of the drawing that shows it; empty for none.
    text : str
        How it is done, in plain sentences.
    marks : tuple of str
        What to mark on the part.
    fasteners : str
        Count and kind, with the rule they follow.
    checkpoints : tuple of Checkpoint
        What to measure.
    cautions : tuple of str
        Where glass, blades, nails, dust, mains, solvents or weight are handled.
    work_min, wait_min : float
        Working time, and waiting time afterwards by the clock. [min]
    rate : str
        Id of the workshop's rate for this work; empty: the usual hour.
    after : tuple of str
        Ids of the steps that must be done before.
    """

    id: str
    title: str
    trade: Trade
    parts: tuple[str, ...] = ()
    tool: str = ""
    setting: str = ""
    drawing: str = ""
    text: str = ""
    marks: tuple[str, ...] = ()
    fasteners: str = ""
    checkpoints: tuple[Checkpoint, ...] = ()
    cautions: tuple[str, ...] = ()
    work_min: float
    wait_min: float = 0.0
    rate: str = ""
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheduled:
    """When a step can begin, ends, and is ready for those that wait for it: by the clock from the first morning. [min]"""

    step: str
    start_min: float
    end_min: float
    ready_min: float
