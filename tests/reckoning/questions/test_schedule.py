"""What a schedule question refuses, by the field's path."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions.schedule import schedule_question

GOOD: dict[str, Any] = {
    "origin": "2031-05-05T00:00",
    "resources": [{"id": "me", "capacity": 1}],
    "stores": [{"id": "resin", "amount": 410}],
    "activities": [
        {"id": "cad", "ways": [{"id": "main", "minutes": 60, "uses": {"me": 1}}]},
        {"id": "cut", "ways": [{"id": "main", "minutes": 5}], "after": [{"id": "cad"}]},
    ],
}


def with_cut(**change: Any) -> dict[str, Any]:
    cad, cut = GOOD["activities"]
    return {**GOOD, "activities": [cad, {**cut, **change}]}


def with_way(**change: Any) -> dict[str, Any]:
    return with_cut(ways=[{"id": "main", "minutes": 5, **change}])


def test_what_is_left_out_has_its_default() -> None:
    asked = schedule_question(GOOD)
    cad, cut = asked.activities
    assert (cad.pinned, cad.after, cad.ready, cad.due) == (None, (), None, None)
    assert (cad.unbroken, cad.required, cut.after[0].lag) == (False, True, 0)
    way = cut.ways[0]
    assert (way.uses, way.points, way.takes, way.after, way.spares) == (
        *({}, 0, {}, (), ()),
    )
    assert asked.resources[0].windows is None
    assert (asked.deadline, asked.time_limit_s) == (None, 5)


@pytest.mark.parametrize(
    ("question", "line"),
    [
        ({**GOOD, "origins": "x"}, "origins: unknown field"),
        ({**GOOD, "origin": "2031-05-05"}, "origin: '2031-05-05' is not a time like"),
        ({**GOOD, "deadline": "2031-13-05T00:00"}, "deadline: '2031-13-05T00:00' is"),
        (
            {**GOOD, "resources": [{"id": "me", "capacity": -1}]},
            "resources[0].capacity: must be at least 0",
        ),
        (
            {
                **GOOD,
                "resources": [
                    {"id": "me", "windows": [["2031-05-05T18:00", "2031-05-05T18:00"]]}
                ],
            },
            "resources[0].windows[0][1]: 2031-05-05T18:00 is not after the start",
        ),
        (with_cut(id="cad"), "activities[1].id: activity 'cad' is already"),
        (with_cut(ways=[]), "activities[1].ways: must have at least 1 entries"),
        (with_cut(after=[{"id": "w9"}]), "activities[1].after[0]: no activity 'w9'"),
        (
            with_cut(after=[{"id": "cad", "lag": -1}]),
            "activities[1].after[0].lag: must be at least 0",
        ),
        (with_cut(pinned="buy"), "activities[1].pinned: 'cut' has no way 'buy'"),
        (with_cut(ready="soon"), "activities[1].ready: 'soon' is not a time"),
        (with_cut(due="soon"), "activities[1].due: 'soon' is not a time"),
        (with_way(minutes=-1), "activities[1].ways[0].minutes: must be at least 0"),
        (with_way(minutes=1.5), "activities[1].ways[0].minutes: expected a whole"),
        (with_way(uses={"you": 1}), "activities[1].ways[0].uses: no resource 'you'"),
        (with_way(takes={"tin": 1}), "activities[1].ways[0].takes: no store 'tin'"),
        (
            with_way(after=[{"id": "w9"}]),
            "activities[1].ways[0].after[0]: no activity 'w9'",
        ),
        (
            with_way(after=[{"id": "cut"}]),
            "activities[1].ways[0].after[0]: 'cut' cannot come after itself",
        ),
        (
            with_way(spares=["w9"]),
            "activities[1].ways[0].spares[0]: no activity 'w9'",
        ),
        (
            with_way(spares=["cut"]),
            "activities[1].ways[0].spares[0]: 'cut' cannot spare itself",
        ),
        (
            {
                **GOOD,
                "activities": [
                    {**GOOD["activities"][0], "after": [{"id": "cut"}]},
                    GOOD["activities"][1],
                ],
            },
            "activities[0].after[0]: no activity can come after itself: "
            "'cad' after 'cut' after 'cad'",
        ),
        (
            {
                **GOOD,
                "activities": [
                    {
                        "id": f"w{n}",
                        "ways": [{"id": f"v{k}", "minutes": 1} for k in range(20)],
                    }
                    for n in range(101)
                ],
            },
            "activities: have 2020 ways in all; at most 2000 can be planned",
        ),
        ({**GOOD, "time_limit_s": 0}, "time_limit_s: must be more than 0"),
    ],
)
def test_what_cannot_be_is_refused_by_name(question: dict[str, Any], line: str) -> None:
    with pytest.raises(BadQuestion) as refusal:
        schedule_question(question)
    assert refusal.value.message.startswith(line)
