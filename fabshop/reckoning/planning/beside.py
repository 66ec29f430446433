"""What stands beside an answer, in plain data: enough to tell it without the shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.hours import factors_of
from fabshop.reckoning.planning.question import Asked
from fabshop.reckoning.planning.session import Session
from fabshop.reckoning.planning.way import Variant, variants
from fabshop.reckoning.readiness.wants import unfinished

Data = dict[str, Any]


def told_beside(facts: Facts, asked: Asked, sessions: Sequence[Session]) -> Data:
    """How the activities belong to tasks, parts and lines, and in which words."""
    factors = factors_of(facts)
    tasks = unfinished(facts)
    return {
        "tasks": {
            task.id: {
                "title": task.title,
                "build": task.build,
                "required": task.required,
                "wished": task.wished,
                "is_hold": task.is_hold,
                "under_way": bool(task.under_way_by) or task.state.value == "under-way",
                "ways": {
                    variant.id: _way(variant) for variant in variants(task, factors, {})
                },
            }
            for task in tasks
        },
        "stretches": {
            name: list(stretches) for name, stretches in asked.stretches.items()
        },
        "tails": {name: asdict(tail) for name, tail in asked.tails.items()},
        "blocks": {
            name: {
                "build": block.build,
                "session": block.session,
                "do": block.do,
                "ids": list(block.ids),
                "minutes": block.minutes,
            }
            for name, block in asked.blocks.items()
        },
        "lines": {
            name: {"order": order, "title": facts.order_by_id[order].title}
            for name, order in asked.lines.items()
        },
        "never": asked.never,
        "sessions": [_session(session) for session in sessions],
        "factors": {
            name: {
                "factor": round(factor.factor, 2),
                "finished": factor.finished,
                "bites": factor.bites,
                "lowest": factor.lowest,
                "highest": factor.highest,
            }
            for name, factor in factors.items()
        },
        "notes": [*asked.notes, *_lost_days(facts)],
    }


def _way(variant: Variant) -> Data:
    return {
        "title": variant.title,
        "minutes": variant.minutes,
        "points": variant.points,
        "pk": variant.pk,
        "takes": sorted(variant.takes),
    }


def _session(session: Session) -> Data:
    return {
        "build": session.build,
        "edition": session.edition,
        "ways": session.ways,
        "tasks": list(session.tasks),
        "sessions": [
            {key: one[key] for key in ("start", "finish", "latest_start")}
            for one in session.answer.get("sessions", ())
        ],
        "left_out": session.answer.get("left_out", []),
    }


def _lost_days(facts: Facts) -> list[str]:
    """What the past hours have brought, so that days lost are told, not forgotten."""
    off = sum(1 for day in facts.days if day.is_off and day.on >= facts.now.date())
    if not off:
        return []
    days = "day" if off == 1 else "days"
    return [f"{off} {days} off {'is' if off == 1 else 'are'} taken out of the hours."]
