"""A shape comes back from its JSON as it was."""

from __future__ import annotations

import json

from fabshop.reckoning.drawing.edge import line
from fabshop.reckoning.drawing.kept import from_json, to_json
from fabshop.reckoning.drawing.shape import shape_of
from tests.reckoning.drawing.drawn import circle, polygon


def test_there_and_back_nothing_is_lost() -> None:
    shape = shape_of(
        [
            *polygon([(0, 0), (60, 0), (60, 30)]),
            circle(40, 10, 2),
            line((0, 5), (9, 5)),
        ],
        "in",
        left_out=(("TEXT", 2),),
        is_metric_file=True,
        notes=("said",),
    )
    told = to_json(shape)
    again = from_json(json.loads(json.dumps(told)))
    assert to_json(again) == told
    assert again.left_out == (("TEXT", 2),)
    assert again.gaps[0].there is not None
    assert again.outlines[0][1] == shape.outlines[0][1]
