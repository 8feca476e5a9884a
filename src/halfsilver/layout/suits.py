"""Which mouldings of the catalogue would do for a job, and why the others would not."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.geometry.profile import Profile
from halfsilver.layout.facts import Facts
from halfsilver.ledger.shown import fine, shower
from halfsilver.model.design import Suitability
from halfsilver.model.job import CarriedBy
from halfsilver.model.workshop import Moulding


def suits_two_frames(facts: Facts) -> Iterator[Suitability]:
    """Every moulding as a front frame and as a rear frame of a two-frame build."""
    for moulding in facts.workshop.mouldings.values():
        profile = Profile(moulding.profile)
        yield _told(moulding, "front", _front_reasons(facts, profile))
        yield _told(moulding, "rear", [*_planing_reasons(facts, moulding, profile), *_seat_reasons(facts, profile)])


def suits_one_frame(facts: Facts) -> Iterator[Suitability]:
    """Every moulding as the only frame."""
    for moulding in facts.workshop.mouldings.values():
        profile = Profile(moulding.profile)
        short = facts.front_glass.thickness + facts.habits.backing - profile.rebate_depth_mm
        shallow = [f"rebate too shallow for pane and backing by {_length(facts, short)}"] if short > 0 else []
        yield _told(moulding, "front", [*shallow, *_seat_reasons(facts, profile)])


def _told(moulding: Moulding, place: str, why: list[str]) -> Suitability:
    return Suitability(moulding=moulding.id, place=place, works=not why, why=tuple(why))


def _length(facts: Facts, length_mm: float) -> str:
    return fine(shower(units=facts.job.units.value, fraction=facts.job.fraction), length_mm)


def _front_reasons(facts: Facts, profile: Profile) -> list[str]:
    left = profile.rebate_depth_mm - facts.front_glass.thickness - facts.bedding_mm("front")
    reasons = []
    if left < facts.light.width:
        reasons.append(
            f"rebate too shallow: {_length(facts, left)} left behind the pane for a strip {_length(facts, facts.light.width)} wide"
        )
    return reasons


def _planing_reasons(facts: Facts, moulding: Moulding, profile: Profile) -> list[str]:
    if not moulding.may_plane:
        return ["its face may not be planed, and cannot be glued flat"]
    left = profile.lip_back_mm - moulding.plane_least
    if left < facts.habits.lip_least:
        return [f"lip too thin after planing: {_length(facts, left)} left of at least {_length(facts, facts.habits.lip_least)}"]
    return []


def _seat_reasons(facts: Facts, profile: Profile) -> list[str]:
    reasons = []
    pane = facts.rear_glass.thickness if facts.job.glass.rear is not None else facts.front_glass.thickness
    if profile.rebate_depth_mm < pane + facts.habits.spacer:
        deep, needed = _length(facts, profile.rebate_depth_mm), _length(facts, pane + facts.habits.spacer)
        reasons.append(f"rebate too shallow: {deep} for pane and spacer of {needed}")
    land = facts.plate.inset + facts.plate.width
    plates = facts.job.screen is not None and facts.job.mounting.carried_by is CarriedBy.FRAME
    if plates and profile.body_mm < land:
        reasons.append(f"no land for screws: body of {_length(facts, profile.body_mm)}, plates need {_length(facts, land)}")
    margin = facts.job.fit.sight_margin if isinstance(facts.job.fit.sight_margin, float) else 0.0
    fit = facts.job.fit.screen if facts.job.fit.screen is not None else facts.habits.fit_screen
    for part in facts.screen.screen.sticks_out if facts.job.screen else ():
        wall = profile.body_mm - (part.out + part.added - margin - fit / 2)
        if facts.job.size is None and wall < facts.habits.wall_least:
            left, least = _length(facts, wall), _length(facts, facts.habits.wall_least)
            reasons.append(f"pocket for the {part.id} breaks through: {left} of wall left of at least {least}")
    return reasons
