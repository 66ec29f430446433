"""What there is to see of the drawings of a line or an order, and what is doubtful."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.actions.drawing.hands import hands_of
from fabshop.actions.order.owed import line_name
from fabshop.reckoning.drawing.doubts import Doubt, doubts, mass_mg, said_of_hands
from fabshop.reckoning.drawing.kept import from_json
from fabshop.reckoning.drawing.shape import Shape
from fabshop.records.drawing import Drawing, DrawingSent
from fabshop.records.order import Order, OrderLine


@dataclass(frozen=True)
class Look:
    """The drawing that holds for one line; `held` is the one that they were sent."""

    line: OrderLine
    drawing: Drawing
    shape: Shape | None
    doubts: tuple[Doubt, ...]
    hands: str
    mass_mg: int | None
    held: Drawing | None

    @property
    def is_newer(self) -> bool:
        """They hold another drawing of it than the one that stands here now."""
        return self.held is not None and self.held.pk != self.drawing.pk

    @property
    def said_of_held(self) -> str:
        if self.held is None or not self.is_newer:
            return ""
        theirs, ours = self.held.revision or "none", self.drawing.revision or "none"
        return f"They hold revision {theirs}, yours is {ours}."


def shape_in(drawing: Drawing) -> Shape | None:
    return from_json(drawing.read) if drawing.read is not None else None


def looks_of(order: Order) -> list[Look]:
    """One look for each line of the order that has a drawing, in their order."""
    lines = order.lines.select_related(
        "order__supplier", "material", "component"
    ).prefetch_related("drawings")
    held = held_of(order)
    return [
        look_at(line, drawings, held.get(line.pk))
        for line in lines
        if (drawings := list(line.drawings.all()))
    ]


def look_at(line: OrderLine, drawings: list[Drawing], held: Drawing | None) -> Look:
    """The last of the drawings of a line, with everything that is doubtful about it."""
    latest = drawings[-1]
    latest.line = line
    shape = shape_in(latest)
    earlier = shape_in(drawings[-2]) if len(drawings) > 1 else None
    found = (
        doubts(shape, thickness_um=line.thickness_um, earlier=earlier) if shape else []
    )
    hands = ""
    if pair := hands_of(latest):
        hands, stops = said_of_hands(latest.hand, pair[1])
        if pair[0].line.order_id != line.order_id:
            hands += f" ({line_name(pair[0].line)})"
        if stops:
            found.append(Doubt("hands", hands, True))
            hands = ""
    mass = None
    if shape and line.thickness_um and line.material is not None:
        mass = mass_mg(shape, line.thickness_um, line.material.density_mg_cm3)
    return Look(line, latest, shape, tuple(found), hands, mass, held)


def held_of(order: Order) -> dict[int, Drawing]:
    """The drawing of each line, by its number in the database, that they hold now."""
    sent = (
        DrawingSent.objects.filter(sending__order=order, sending__is_taken_back=False)
        .select_related("drawing")
        .order_by("sending__at", "sending_id")
    )
    return {one.drawing.line_id: one.drawing for one in sent}


def asked_before_sending(order: Order) -> list[str]:
    """What must be said yes to before the drawings of an order go out."""
    return list(
        dict.fromkeys(
            f"{line_name(look.line)}: {doubt.words}"
            if doubt.name != "hands"
            else doubt.words
            for look in looks_of(order)
            for doubt in look.doubts
            if doubt.stops
        )
    )
