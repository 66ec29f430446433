"""The tables of fixtures/demo, told to the actions in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

from fabshop.actions.build import (
    add_build,
    add_component,
    close_build,
    link_twins,
    set_covers,
    set_fastenings,
)
from fabshop.actions.log import finish_work
from fabshop.actions.order import (
    Count,
    add_order,
    add_supplier,
    mark_sent,
    promise,
    receive_parcel,
    settle_line,
)
from fabshop.actions.shop import (
    add_machine,
    add_person,
    add_window,
    make_owner,
    make_shop,
    set_day,
)
from fabshop.actions.task import add_task
from fabshop.console.demo.anchor import Anchor, table
from fabshop.console.demo.drawing import tell_checks, tell_drawings
from fabshop.console.demo.joint import tell_joints
from fabshop.console.demo.packout import tell_packout
from fabshop.console.demo.schedule import tell_schedule
from fabshop.console.demo.shelf import tell_shelf
from fabshop.console.demo.stock import tell_stock
from fabshop.errors import Clash
from fabshop.records.build import Build, Component
from fabshop.records.order import Order, OrderLine
from fabshop.records.shop import Person, Shop


@dataclass
class Telling:
    """Tells the tables to the actions, as the owner, at the times they give."""

    shop: dict[str, Any]
    anchor: Anchor

    def tell(self) -> Shop:
        shop = make_shop(
            name=self.shop["name"],
            zone=self.shop["zone"],
            now=self.set_up_at,
            is_demo=True,
        )
        self._people_and_hours()
        self._last_years_build(table("sparrow"))
        for slug in ("tuppence", "gannet"):
            self._build(table(slug))
        orders = table("orders")
        self._orders(orders)
        tell_drawings(by=self.owner, anchor=self.anchor)
        # Told before the tasks: each parcel asks what it frees, and a shop without
        # tasks answers at once.
        for at, code, kind, said in orders["events"]:
            self._event(self.anchor.moment(at), code, kind, said)
        tell_checks(by=self.owner, anchor=self.anchor)
        self._tasks(table("tasks"))
        tell_stock(owner=self.owner, at=self.set_up_at)
        tell_shelf(by=self.owner, at=self.set_up_at, anchor=self.anchor)
        tell_packout(by=self.owner, now=self.set_up_at)
        tell_joints(by=self.owner, at=self.set_up_at, anchor=self.anchor)
        tell_schedule(self.owner, self.set_up_at)
        return shop

    @cached_property
    def set_up_at(self) -> datetime:
        return self.anchor.moment(self.shop["set_up_at"])

    @cached_property
    def owner(self) -> Person:
        return make_owner(name=self.shop["owner"], now=self.set_up_at)

    def _people_and_hours(self) -> None:
        told = {"by": self.owner, "now": self.set_up_at}
        helper = add_person(name=self.shop["helper"], role="helper", **told)
        people = {person.name: person for person in (self.owner, helper)}
        for row in self.shop["windows"]:
            window = dict(row)
            add_window(
                person=people[window.pop("person")],
                on=self.anchor.day(window.pop("on")),
                **window,
                **told,
            )
        for row in self.shop["days"]:
            day = dict(row)
            set_day(on=self.anchor.day(day.pop("on")), **day, **told)
        for code, name in self.shop["machines"]:
            add_machine(code=code, name=name, **told)

    def _last_years_build(self, told: dict[str, Any]) -> None:
        """A finished build, from which the families have their factors."""
        begun_at = self.anchor.moment(told["begun_at"])
        build = self._new_build(told["build"], at=begun_at)
        for row in told["finished"]:
            task = add_task(
                by=self.owner,
                now=begun_at,
                build=build,
                code=row["code"],
                title=row["title"],
                family=row["family"],
                minutes=row["minutes"],
            )
            done_at = self.anchor.moment(row["done_at"])
            finish_work(by=self.owner, task=task, now=done_at, minutes=row["logged"])
        close_build(
            by=self.owner, build=build, now=self.anchor.moment(told["closed_at"])
        )

    def _build(self, told: dict[str, Any]) -> None:
        said: dict[str, Any] = {"by": self.owner, "now": self.set_up_at}
        build = self._new_build(told["build"], at=self.set_up_at)
        parts: dict[str, Component] = {}
        for row in told["components"]:
            fields = {k: v for k, v in row.items() if k not in ("under", "fastenings")}
            part = add_component(build=build, **fields, **said)
            if row["fastenings"]:
                set_fastenings(component=part, fastenings=row["fastenings"], **said)
            parts[part.code] = part
        for row in told["components"]:
            if row["under"]:
                routes = [[parts[code] for code in route] for route in row["under"]]
                set_covers(component=parts[row["code"]], routes=routes, **said)
        for left, right in told["twins"]:
            link_twins(component=parts[left], twin=parts[right], side="L", **said)

    def _new_build(self, row: dict[str, Any], *, at: datetime) -> Build:
        described = dict(row)
        described["event_on"] = self.anchor.day(described["event_on"])
        described["pack_out_at"] = self.anchor.moment(described["pack_out_at"])
        return add_build(by=self.owner, now=at, **described)

    def _orders(self, told: dict[str, Any]) -> None:
        said: dict[str, Any] = {"by": self.owner, "now": self.set_up_at}
        suppliers = {
            name: add_supplier(name=name, **said) for name in told["suppliers"]
        }
        builds = Build.objects.in_bulk(field_name="slug")
        parts = Component.objects.in_bulk(field_name="code")
        for row in told["orders"]:
            order = dict(row)
            order["supplier"] = suppliers[order["supplier"]]
            order["build"] = builds.get(order.get("build", ""))
            if "give_back_on" in order:
                order["give_back_on"] = self.anchor.day(order["give_back_on"])
            order["lines"] = [
                line | {"component": parts.get(line.get("component", ""))}
                for line in order["lines"]
            ]
            add_order(**order, **said)

    def _tasks(self, told: dict[str, Any]) -> None:
        builds = Build.objects.in_bulk(field_name="slug")
        for row in _befores_first(told["tasks"]):
            task = dict(row)
            build = builds.get(task.pop("build") or "")
            add_task(by=self.owner, now=self.set_up_at, build=build, **task)

    def _event(self, at: datetime, code: str, kind: str, said: dict[str, Any]) -> None:
        """One of sent, promised, received, settled, at the time it was."""
        order = Order.objects.get(code=code)
        told: dict[str, Any] = {"by": self.owner, "now": at}
        if kind == "sent":
            mark_sent(order=order, **said, **told)
        elif kind == "promised":
            days = {name: self.anchor.day(day) for name, day in said.items()}
            promise(order=order, **days, **told)
        elif kind == "received":
            counts = [
                Count(line=_line(f"{code}/{row['line']}"), **_without(row, "line"))
                for row in said["counts"]
            ]
            receive_parcel(order=order, counts=counts, **told)
        else:
            again = said.get("reordered_on")
            settle_line(
                line=_line(f"{code}/{said['line']}"),
                reordered_on=_line(again) if again else None,
                **_without(said, "line", "reordered_on"),
                **told,
            )


def _befores_first(rows: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """The tasks in an order in which each comes after tasks that are there already."""
    told: set[str] = set()
    left = list(rows)
    while left:
        ready = [row for row in left if told.issuperset(row.get("after", ()))]
        if not ready:
            raise Clash(f"Nothing can be the first of {left[0]['code']} and the rest.")
        yield from ready
        told.update(row["code"] for row in ready)
        left = [row for row in left if row["code"] not in told]


def _line(name: str) -> OrderLine:
    code, number = name.split("/")
    return OrderLine.objects.get(order__code=code, number=number)


def _without(row: dict[str, Any], *names: str) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name not in names}
