"""``auto`` decided: a bounded search over explicit candidates, each resolved and scored; the reason and the runner-up are kept.

Order: planing and spacer frame from the asked gap, then the batten, then the sight margin, last the feed of the strip. Nothing is
random; the same job gives the same decisions, and a job with the decisions written in gives the same design.
"""

from __future__ import annotations

from dataclasses import replace

from halfsilver.errors import NoDesignError
from halfsilver.layout.choices import Choice, Choices, Word
from halfsilver.layout.constructions import lay_out
from halfsilver.layout.design import Design
from halfsilver.layout.facts import Facts
from halfsilver.ledger.ledger import Ledger
from halfsilver.making.wiring import choose_feed, is_lit
from halfsilver.model.job import Construction, Corner, Job, Side
from halfsilver.model.quantities import Auto
from halfsilver.model.workshop import Workshop

MOST_MARGIN_STEPS = 64
GAP_STEP_MM = 0.05
MOST_BEDDING_MM = 12.0


def decided(job: Job, workshop: Workshop) -> Design:
    """The design of a job, everything it leaves open decided.

    Raises
    ------
    JobError
        If the catalogues lack what the job names.
    NoDesignError
        If nothing feasible exists; names the nearest.
    """
    choices = Choices()
    facts = Facts(job, workshop, choices)
    if job.construction in (Construction.LIT_SCREEN, Construction.LIT_MIRROR):
        choices = _cavity_choices(facts)
        facts = Facts(job, workshop, choices)
        if isinstance(job.battens.width, Auto):
            choices = _with_batten(facts)
            facts = Facts(job, workshop, choices)
    if isinstance(job.fit.sight_margin, Auto) and job.size is None:
        choices = _with_margin(facts)
    return _with_feed(lay_out(job, workshop, choices))


def _cavity_choices(facts: Facts) -> Choices:
    planed, spacer, bedding = _gap_choices(facts)
    return Choices(planed=planed, spacer_frame=spacer, bedding=bedding, corner=_corner(facts))


def _gap_choices(facts: Facts) -> tuple[Choice | None, Choice | None, Choice | None]:
    """Planing, a spacer frame and front bedding that meet the asked gap; without one, the least planing that leaves the face flat."""
    rear = facts.job.frame.rear
    planing_open = rear is None or isinstance(rear.planed, Auto)
    least = facts.planed_mm
    flat = f"{least:g} mm leaves the face of {facts.rear_moulding.id} flat enough to glue"
    plain = Choice(value=least, reason=flat) if planing_open else None
    if isinstance(facts.job.gap, Auto):
        return plain, None, None
    wanted, natural = facts.job.gap, _natural_gap_mm(facts, planed_mm=least)
    if abs(wanted - natural) < GAP_STEP_MM:
        return plain, None, None
    if wanted > natural:
        return plain, _spacer(facts, wanted, natural), None
    most = max(facts.rear_profile.lip_back_mm - facts.habits.lip_least, least) if planing_open and facts.rear_moulding.may_plane else least
    planed = min(least + natural - wanted, most)
    by_planing = f"planing {planed:.2f} mm narrows the gap from {natural:.1f} mm towards {wanted:g} mm"
    chosen = Choice(value=planed, reason=by_planing, runner_up="bedding under the front pane") if planed > least else plain
    return chosen, None, _bedding(facts, wanted, _natural_gap_mm(facts, planed_mm=planed))


def _bedding(facts: Facts, wanted: float, natural: float) -> Choice | None:
    """Bedding that moves the front pane back where planing alone does not narrow the gap enough; the strip must keep its room."""
    short = natural - wanted
    if short < GAP_STEP_MM:
        return None
    habit = facts.habits.bedding_front
    room = facts.front_profile.rebate_depth_mm - facts.front_glass.thickness - habit - facts.light.width
    most = min(MOST_BEDDING_MM, room) if isinstance(facts.job.battens.depth, Auto) else 0.0
    if short > most:
        raise NoDesignError(
            f"A gap of {wanted:g} mm is less than these mouldings leave.",
            nearest=f"Nearest gap: {natural - max(most, 0.0):.1f} mm.",
            advice="Choose a front moulding with a shallower rebate, a thicker front pane, or a rear moulding with a thinner lip.",
        )
    return Choice(
        value=habit + short,
        reason=f"bedding {habit + short:.2f} mm thick under the front pane narrows the gap from {natural:.1f} to {wanted:g} mm",
        runner_up="a front moulding with a shallower rebate",
    )


def _natural_gap_mm(facts: Facts, *, planed_mm: float) -> float:
    habits = facts.habits
    depth = facts.job.battens.depth
    batten = facts.front_profile.rebate_depth_mm - facts.front_glass.thickness - habits.bedding_front if isinstance(depth, Auto) else depth
    return batten + habits.glue_line + facts.rear_profile.lip_back_mm - planed_mm + habits.bedding_rear


def _spacer(facts: Facts, wanted: float, natural: float) -> Choice:
    thickness = wanted - natural - facts.habits.glue_line
    if thickness < 3.0:
        raise NoDesignError(
            f"A gap of {wanted:g} mm needs a frame of only {thickness:.1f} mm between the two frames; below 3 mm it cannot be made.",
            nearest=f"Nearest gaps: {natural:.1f} mm, or {natural + facts.habits.glue_line + 3.0:.1f} mm and more.",
            advice="Ask for one of them.",
        )
    return Choice(
        value=thickness, reason=f"these mouldings leave a gap of {natural:.1f} mm; {wanted:g} mm is asked",
        runner_up="a front moulding with a deeper rebate, which needs no third frame",
    )  # fmt: skip


def _with_batten(facts: Facts) -> Choices:
    """The widest batten that keeps what is hidden within what the job accepts; else the one that hides least."""
    habits, light = facts.habits, facts.light
    stock = facts.workshop.stock.get(facts.job.battens.stock or habits.batten)
    behind_lip = facts.front_profile.lip_mm - light.thickness
    widths = {habits.batten_land, max(behind_lip, habits.batten_land), stock.width if stock else habits.batten_land}
    accepted = facts.job.accept.hidden_share
    tried = [
        (width, _hidden_share(facts, replace(facts.choices, batten_width=Choice(value=width, reason="tried"))))
        for width in sorted(widths, reverse=True)
    ]
    within = [(width, share) for width, share in tried if accepted is None or share <= accepted]
    best = within[0] if within else min(tried, key=lambda pair: (pair[1], -pair[0]))
    others = [f"{width:.1f} mm hides {100 * share:.1f} %" for width, share in tried if width != best[0]]
    limit = (
        f"within the {100 * accepted:g} % that is accepted"
        if accepted is not None and within
        else "no candidate is within what is accepted"
        if accepted is not None
        else "nothing else was asked"
    )
    reason = (
        f"it is the {'widest' if within else 'least hiding'} that takes pin and strip: {100 * best[1]:.1f} % of "
        f"the picture hidden from the worst place, {limit}"
    )
    return replace(facts.choices, batten_width=Choice(value=best[0], reason=reason, runner_up="; ".join(others)))


def _with_margin(facts: Facts) -> Choices:
    """The least sight margin that brings what is hidden within what the job accepts, in steps of the timber's rounding."""
    accepted = facts.job.accept.hidden_share
    step = 1.5875 if facts.job.units.value == "in" else 1.0
    share = 1.0
    for i in range(MOST_MARGIN_STEPS):
        tried = replace(facts.choices, sight_margin=Choice(value=i * step, reason="tried"))
        share = _hidden_share(facts, tried)
        if accepted is None or share <= accepted:
            reason = (
                "nothing is asked of the share that may be hidden"
                if accepted is None
                else f"it is the least that keeps the hidden share at {100 * share:.1f} %, within {100 * accepted:g} %"
            )
            return replace(
                facts.choices,
                sight_margin=Choice(value=i * step, reason=reason, runner_up=f"{max(i - 1, 0) * step:.1f} mm hides too much" if i else ""),
            )
    raise NoDesignError(
        f"Even a sight margin of {(MOST_MARGIN_STEPS - 1) * step:.0f} mm leaves {100 * share:.1f} % of the picture hidden.",
        nearest=f"Nearest share: {100 * share:.1f} %.",
        advice="Accept more, choose a narrower batten, or move the viewer.",
    )


def _hidden_share(facts: Facts, choices: Choices) -> float:
    """Share of the picture hidden from the worst viewer, and on the near side at the edge of the cone. [-]"""
    ledger = lay_out(facts.job, facts.workshop, choices).ledger
    if "hidden.share" not in ledger:
        return 0.0
    return max(ledger["hidden.share"], cone_share(ledger))


def cone_share(ledger: Ledger) -> float:
    """Share of the picture hidden at the worst direction of the cone: the near side of each direction, one at a time."""
    if "hidden.left.cone" not in ledger:
        return 0.0
    wide = max(ledger["hidden.left.cone"], ledger["hidden.right.cone"]) / ledger["screen.picture.width"]
    high = max(ledger["hidden.top.cone"], ledger["hidden.bottom.cone"]) / ledger["screen.picture.height"]
    return max(wide, high)


def _with_feed(design: Design) -> Design:
    """The design with its strip fed at the fewest points that keep the dimmest segment bright enough; sizes do not hang on it."""
    facts = design.facts
    if facts.job.lights is None or not isinstance(facts.job.lights.feed, Auto) or not is_lit(design.ledger):
        return design
    choice = choose_feed(facts, design.ledger)
    told = [f"{feed.value.replace('-', ' ')} {100 * share:.0f} %" for feed, share in choice.dimmest.items()]
    kept = choice.dimmest[choice.feed] >= choice.wanted
    reason = (
        f"the dimmest segment has {100 * choice.dimmest[choice.feed]:.0f} % of the light of the brightest; "
        f"{f'{100 * choice.wanted:.0f} % is wanted' if kept else f'no way of feeding keeps the {100 * choice.wanted:.0f} % that is wanted'}"
    )
    feed = Word(value=choice.feed.value, reason=reason, runner_up=", ".join(told[:-1]) if kept else ", ".join(told))
    return replace(design, facts=Facts(facts.job, facts.workshop, replace(facts.choices, feed=feed)))


def _corner(facts: Facts) -> Word | None:
    """Feed at the lower corner on the side where the screen's cables leave."""
    if facts.job.lights is None or not isinstance(facts.job.lights.corner, Auto):
        return None
    cables = facts.screen.screen.cables if facts.job.screen is not None else None
    side = cables.side if cables else Side.RIGHT
    value = Corner.BOTTOM_LEFT if side is Side.LEFT else Corner.BOTTOM_RIGHT
    return Word(
        value=value.value, reason=f"it is the lower corner nearest to the screen's cables, {side.value}", runner_up="the other lower corner"
    )


def decided_values(design: Design) -> dict[str, str | float]:
    """What was decided, by its key in the job file: what ``resolve --job`` writes. Lengths in mm."""
    job, choices, ledger = design.facts.job, design.facts.choices, design.ledger
    found: dict[str, str | float] = {}
    if choices.batten_width:
        found["battens.width"] = choices.batten_width.value
    if choices.sight_margin:
        found["fit.sight_margin"] = choices.sight_margin.value
    if choices.planed:
        found["frame.rear.planed"] = choices.planed.value
    if choices.feed:
        found["lights.feed"] = choices.feed.value
    if choices.corner:
        found["lights.corner"] = choices.corner.value
    if "gap" in ledger and isinstance(job.gap, Auto):
        # The gap as planned: a reading moves what is there, and must not come back as something asked for.
        plan = lay_out(replace(job, measured=()), design.facts.workshop, choices) if job.measured else design
        found["gap"] = plan.ledger["gap"]
    if job.construction is Construction.HIDDEN_SCREEN:
        found |= {f"window.{side}": ledger[f"window.{side}"] for side in ("left", "bottom") if isinstance(getattr(job.window, side), Auto)}
    return found
