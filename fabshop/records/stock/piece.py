"""Materials, pieces and drops, what was counted of them and is held for a task."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import BigIntegerField, F, OuterRef, Q, Subquery, Sum
from django.db.models.functions import Coalesce

from fabshop import words
from fabshop.records.shop import Person
from fabshop.records.task import Task

# What is neither melted nor rolled from a numbered heat.
_WITHOUT_HEAT = ("plastic", "laminate", "wood", "filament")


class Material(models.Model):
    """What pieces are made of: taken over from the reference, or the shop's own."""

    code = models.CharField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    family = models.CharField(max_length=40)
    density_mg_cm3 = models.PositiveIntegerField(
        help_text="Milligrams to the cubic centimetre: 8000 for stainless."
    )
    source = models.CharField(max_length=300, help_text="Where its density is from.")
    is_own = models.BooleanField(default=False)

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(density_mg_cm3__gt=0), name="material_weighs_something"
            ),
            models.CheckConstraint(
                condition=~Q(source=""), name="material_says_its_source"
            ),
        ]

    def __str__(self) -> str:
        return self.name


def _sum(rows: Any, amount: Any, **of: Any) -> Coalesce:
    """The sum of `amount` over what happened to a piece, undone things apart."""
    mine = rows.objects.filter(piece=OuterRef("pk"), is_taken_back=False, **of)
    total = mine.order_by().values("piece").annotate(total=Sum(amount)).values("total")
    return Coalesce(Subquery(total, output_field=BigIntegerField()), 0)


class PieceQuerySet(models.QuerySet["Piece"]):
    def on_the_rack(self) -> PieceQuerySet:
        return self.filter(retired_at=None)

    def with_left(self) -> PieceQuerySet:
        """Each with `left_um` and `wide_um`, from its cuts and counts; never clipped.

        Both are what the record says: below nothing where two cuts were made apart.
        """
        cuts = self.model.cuts.rel.related_model
        lost = F("part") + F("kerf") + F("scrap")
        return self.annotate(
            left_um=F("length_um")
            + _sum(PieceCount, "length_difference_um")
            - _sum(cuts, lost, along=words.CutAlong.LENGTH),
            wide_um=F("width_um")
            + _sum(PieceCount, "width_difference_um")
            - _sum(cuts, lost, along=words.CutAlong.WIDTH),
        )


class Piece(models.Model):
    """One tube, rod, sheet or roll, or a drop of one.

    `length_um` and `width_um` are what it measured when it came; what is left is that
    less its cuts, corrected by its counts. A round thing has a diameter, a tube a
    wall as well, a sheet or roll a thickness and a width.
    """

    code = models.SlugField(max_length=40, unique=True)
    form = models.CharField(max_length=8, choices=words.PieceForm.choices())
    material = models.ForeignKey(Material, models.PROTECT, related_name="pieces")
    od_um = models.PositiveIntegerField(null=True, blank=True)
    wall_um = models.PositiveIntegerField(null=True, blank=True)
    thickness_um = models.PositiveIntegerField(null=True, blank=True)
    length_um = models.PositiveIntegerField()
    width_um = models.PositiveIntegerField(null=True, blank=True)
    grain = models.CharField(
        max_length=8, choices=words.Grain.choices(), blank=True, default=""
    )
    heat_lot = models.CharField(
        max_length=40, blank=True, help_text="Empty where nobody knows it."
    )
    place = models.CharField(max_length=60, blank=True)
    is_drop = models.BooleanField(default=False, help_text="What a cut left over.")
    drop_of = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="drops"
    )
    note = models.CharField(max_length=160, blank=True)
    came_at = models.DateTimeField()
    retired_at = models.DateTimeField(null=True, blank=True)
    retired_why = models.CharField(max_length=160, blank=True)

    objects = PieceQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(form__in=list(words.PieceForm)), name="piece_form_known"
            ),
            models.CheckConstraint(
                condition=Q(grain__in=list(words.Grain)), name="piece_grain_known"
            ),
            models.CheckConstraint(
                condition=Q(length_um__gt=0), name="piece_is_as_long_as_something"
            ),
            models.CheckConstraint(
                condition=Q(
                    form="tube",
                    od_um__gt=0,
                    wall_um__gt=0,
                    thickness_um=None,
                    width_um=None,
                    grain="",
                )
                | Q(
                    form="rod",
                    od_um__gt=0,
                    wall_um=None,
                    thickness_um=None,
                    width_um=None,
                    grain="",
                )
                | Q(
                    form__in=["sheet", "roll"],
                    od_um=None,
                    wall_um=None,
                    thickness_um__gt=0,
                    width_um__gt=0,
                ),
                name="piece_measured_by_its_form",
                violation_error_message="A tube has a diameter and a wall, a rod a "
                "diameter, a sheet or roll a thickness and a width.",
            ),
            models.CheckConstraint(
                condition=Q(wall_um=None) | Q(od_um__gte=F("wall_um") * 2),
                name="piece_wall_within_its_radius",
                violation_error_message="A wall cannot be thicker than the radius.",
            ),
            models.CheckConstraint(
                condition=Q(drop_of=None) | ~Q(drop_of=F("id")),
                name="piece_is_no_drop_of_itself",
            ),
            models.CheckConstraint(
                condition=Q(retired_at=None) | ~Q(retired_why=""),
                name="piece_retired_with_a_reason",
            ),
        ]
        indexes = [
            # The rack shows what has not gone, of a shop that has kept years.
            models.Index(fields=["retired_at", "place"], name="piece_by_place"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.section}"

    @property
    def section(self) -> str:
        """Its section in millimetres: 8 × 0.9, 3 or 1.5."""
        return section_of(self)

    @property
    def is_flat(self) -> bool:
        return self.form in (words.PieceForm.SHEET, words.PieceForm.ROLL)

    @property
    def has_heat(self) -> bool:
        """Whether a heat lot could be known of it."""
        return self.material.family not in _WITHOUT_HEAT


class PieceCount(models.Model):
    """What somebody measured on the rack, and the difference it made, with a reason."""

    piece = models.ForeignKey(Piece, models.PROTECT, related_name="counts")
    length_was_um = models.BigIntegerField()
    length_seen_um = models.PositiveIntegerField()
    length_difference_um = models.BigIntegerField()
    width_was_um = models.BigIntegerField(default=0)
    width_seen_um = models.PositiveIntegerField(default=0)
    width_difference_um = models.BigIntegerField(default=0)
    reason = models.CharField(max_length=160, blank=True)
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    is_taken_back = models.BooleanField(default=False)
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["piece_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    length_seen_um=F("length_was_um") + F("length_difference_um"),
                    width_seen_um=F("width_was_um") + F("width_difference_um"),
                ),
                name="piece_count_adds_up",
            ),
            models.CheckConstraint(
                condition=Q(length_difference_um=0, width_difference_um=0)
                | ~Q(reason=""),
                name="piece_count_differs_with_a_reason",
                violation_error_message="What differs from the record needs a reason.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.piece_id}: {self.length_seen_um}"


class Reservation(models.Model):
    """A length of a piece held for a task, once, until the task has it or lets go."""

    piece = models.ForeignKey(Piece, models.PROTECT, related_name="reservations")
    task = models.ForeignKey(Task, models.CASCADE, related_name="reservations")
    length_um = models.PositiveIntegerField()
    waived_why = models.CharField(
        max_length=160, blank=True, help_text="Why an unknown heat lot was let through."
    )
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    released_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["piece_id", "at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece", "task"],
                condition=Q(released_at=None),
                name="reservation_once_per_task",
                violation_error_message="This task already holds this piece.",
            ),
            models.CheckConstraint(
                condition=Q(length_um__gt=0), name="reservation_of_some_length"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.piece_id} for {self.task_id}"


def section_of(row: Any) -> str:
    """The section of a piece, or of a wish for one, in millimetres."""
    if row.form == words.PieceForm.TUBE:
        return f"{_mm(row.od_um)} × {_mm(row.wall_um)}"
    is_rod = row.form == words.PieceForm.ROD
    return _mm(row.od_um if is_rod else row.thickness_um)


def _mm(length_um: int | None) -> str:
    whole = f"{(length_um or 0) / 1000:.3f}"
    return whole.rstrip("0").rstrip(".")
