"""Consumables and trays of hardware: what lies there follows from moves alone."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import BigIntegerField, F, OuterRef, Q, Subquery, Sum
from django.db.models.functions import Cast, Coalesce

from fabshop import words
from fabshop.records.build import Component
from fabshop.records.order import OrderLine, Receipt
from fabshop.records.shop import Person
from fabshop.records.task import Task


def _left(of: str) -> Any:
    """What moves and receipts leave; receipts count back where they were taken back."""
    whole = BigIntegerField()
    moves = (
        ShelfMove.objects.filter(**{of: OuterRef("pk")}, is_taken_back=False)
        .order_by()
        .values(of)
        .annotate(total=Sum("change_milli"))
        .values("total")
    )
    # PostgreSQL would overflow at the width of the columns.
    each = Cast("line__supply__each_milli", whole)
    per = Cast("accepted_milli", whole) * each / 1000
    came = (
        Receipt.objects.filter(**{f"line__supply__{of}": OuterRef("pk")})
        .order_by()
        .values(f"line__supply__{of}")
        .annotate(
            total=Coalesce(Sum(per, filter=~Q(kind="taken-back")), 0)
            - Coalesce(Sum(per, filter=Q(kind="taken-back")), 0)
        )
        .values("total")
    )
    total = Coalesce(Subquery(moves, output_field=whole), 0) + Coalesce(
        Subquery(came, output_field=whole), 0
    )
    return Cast(total, whole)


class ConsumableQuerySet(models.QuerySet["Consumable"]):
    def on_the_shelf(self) -> ConsumableQuerySet:
        return self.filter(retired_at=None)

    def with_left(self) -> ConsumableQuerySet:
        """Each with `left_milli`; below nothing where somebody counted wrong."""
        return self.annotate(left_milli=_left("consumable"))


class Consumable(models.Model):
    """What is used up by weight, length, bar or can: resin, paint, gas, electrodes.

    A date that nobody wrote down is empty and reads as unknown, never as fine.
    """

    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    unit = models.CharField(max_length=4, choices=words.ShelfUnit.choices())
    lot = models.CharField(max_length=40, blank=True)
    is_opened = models.BooleanField(default=False)
    opened_on = models.DateField(
        null=True, blank=True, help_text="Empty where it is opened: nobody knows when."
    )
    use_by_on = models.DateField(null=True, blank=True, help_text="Its last good day.")
    opened_life_days = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="How long it keeps once it is opened."
    )
    is_lasting = models.BooleanField(
        default=False, help_text="It does not go off: a person said so."
    )
    place = models.CharField(max_length=60, blank=True)
    hazard = models.CharField(
        max_length=8, choices=words.Hazard.choices(), blank=True, default=""
    )
    note = models.CharField(max_length=160, blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)
    retired_why = models.CharField(max_length=160, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = ConsumableQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(unit__in=list(words.ShelfUnit)),
                name="consumable_unit_known",
            ),
            models.CheckConstraint(
                condition=Q(hazard__in=list(words.Hazard)),
                name="consumable_hazard_known",
            ),
            models.CheckConstraint(
                condition=Q(opened_on=None) | Q(is_opened=True),
                name="consumable_opened_on_a_day_is_opened",
            ),
            models.CheckConstraint(
                condition=Q(is_lasting=False) | Q(use_by_on=None),
                name="consumable_lasts_or_has_a_last_day",
                violation_error_message="What does not go off has no use-by day.",
            ),
            models.CheckConstraint(
                condition=Q(retired_at=None) | ~Q(retired_why=""),
                name="consumable_retired_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"


class TrayQuerySet(models.QuerySet["Tray"]):
    def on_the_shelf(self) -> TrayQuerySet:
        return self.filter(retired_at=None)

    def with_left(self) -> TrayQuerySet:
        """Each with `left_milli`; below nothing where somebody counted wrong."""
        return self.annotate(left_milli=_left("tray"))


class Tray(models.Model):
    """Screws, nuts or ties of one size, counted by the piece."""

    code = models.SlugField(max_length=40, unique=True)
    size = models.CharField(max_length=40)
    kind = models.CharField(
        max_length=8, choices=words.TrayKind.choices(), default=words.TrayKind.SCREW
    )
    is_single_use = models.BooleanField(default=False)
    place = models.CharField(max_length=60, blank=True)
    note = models.CharField(max_length=160, blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)
    retired_why = models.CharField(max_length=160, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = TrayQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind__in=list(words.TrayKind)), name="tray_kind_known"
            ),
            models.CheckConstraint(condition=~Q(size=""), name="tray_has_a_size"),
            models.CheckConstraint(
                condition=Q(retired_at=None) | ~Q(retired_why=""),
                name="tray_retired_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.size}"


_ONE_OF_BOTH = Q(consumable__isnull=False, tray=None) | Q(
    consumable=None, tray__isnull=False
)


class ShelfSupply(models.Model):
    """An order line that fills the shelf: what is accepted of it counts by itself.

    `each_milli`: thousandths on the shelf for each one of the line, 20 g a cartridge.
    """

    line = models.OneToOneField(OrderLine, models.CASCADE, related_name="supply")
    consumable = models.ForeignKey(
        Consumable, models.PROTECT, null=True, blank=True, related_name="supplies"
    )
    tray = models.ForeignKey(
        Tray, models.PROTECT, null=True, blank=True, related_name="supplies"
    )
    each_milli = models.PositiveIntegerField(default=1000)

    class Meta:
        ordering = ["line_id"]
        verbose_name_plural = "shelf supplies"
        constraints = [
            models.CheckConstraint(
                condition=_ONE_OF_BOTH, name="shelf_supply_fills_one_thing"
            ),
            models.CheckConstraint(
                condition=Q(each_milli__gt=0), name="shelf_supply_of_something"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.line_id} fills {self.consumable_id or self.tray_id}"


class ShelfMove(models.Model):
    """So much more or less of one thing, and why; append-only.

    A count-up keeps the figure that was seen and what the record said; their
    difference is what moves.
    """

    consumable = models.ForeignKey(
        Consumable, models.PROTECT, null=True, blank=True, related_name="moves"
    )
    tray = models.ForeignKey(
        Tray, models.PROTECT, null=True, blank=True, related_name="moves"
    )
    kind = models.CharField(max_length=12, choices=words.MoveKind.choices())
    change_milli = models.BigIntegerField()
    was_milli = models.BigIntegerField(null=True, blank=True)
    seen_milli = models.PositiveIntegerField(null=True, blank=True)
    reason = models.CharField(max_length=160, blank=True)
    task = models.ForeignKey(
        Task, models.SET_NULL, null=True, blank=True, related_name="shelf_moves"
    )
    component = models.ForeignKey(
        Component, models.SET_NULL, null=True, blank=True, related_name="shelf_moves"
    )
    is_gone_off = models.BooleanField(
        default=False, help_text="It was past its last good day when it was used."
    )
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    is_taken_back = models.BooleanField(default=False)
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["at", "id"]
        constraints = [
            models.CheckConstraint(condition=_ONE_OF_BOTH, name="shelf_move_of_one"),
            models.CheckConstraint(
                condition=Q(kind__in=list(words.MoveKind)),
                name="shelf_move_kind_known",
            ),
            models.CheckConstraint(
                condition=(
                    Q(kind="counted", seen_milli=F("was_milli") + F("change_milli"))
                    & (Q(change_milli=0) | ~Q(reason=""))
                )
                | (~Q(kind="counted") & Q(was_milli=None, seen_milli=None)),
                name="shelf_count_adds_up_with_a_reason",
                violation_error_message="What differs from the record needs a reason.",
            ),
            models.CheckConstraint(
                condition=Q(kind="counted")
                | Q(kind__in=["came", "back"], change_milli__gt=0)
                | Q(kind__in=["used", "lost", "thrown-away"], change_milli__lt=0),
                name="shelf_move_goes_its_way",
            ),
        ]
        indexes = [
            # The page of one thing shows its latest moves, of a shop that kept years.
            models.Index(fields=["consumable", "-at"], name="move_by_consumable"),
            models.Index(fields=["tray", "-at"], name="move_by_tray"),
        ]

    def __str__(self) -> str:
        return f"{self.consumable_id or self.tray_id}: {self.change_milli}"


class ShelfWaiver(models.Model):
    """The owner lets one task use what has gone off; the reason stays on the sheet."""

    consumable = models.ForeignKey(Consumable, models.PROTECT, related_name="waivers")
    task = models.ForeignKey(Task, models.CASCADE, related_name="shelf_waivers")
    last_good_on = models.DateField(help_text="The day that had passed.")
    reason = models.CharField(max_length=200)
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    is_taken_back = models.BooleanField(default=False)
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["consumable_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(reason=""),
                name="shelf_waiver_has_a_reason",
                violation_error_message="What has gone off is used with a reason or "
                "not at all.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.consumable_id} for {self.task_id}"
