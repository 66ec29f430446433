"""What goes in the cases to the event: spares, and which places each of them fits."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from fabshop.records.build import Component


class Spare(models.Model):
    """A part kept against breakage, or in place of one that does not come.

    It may serve several builds; one piece of it cannot be promised twice.
    """

    code = models.SlugField(max_length=40, unique=True)
    title = models.CharField(max_length=160)
    quantity = models.PositiveSmallIntegerField(default=1)
    place = models.CharField(
        max_length=60, blank=True, help_text="The case or shelf it lies in."
    )
    test_minutes = models.PositiveSmallIntegerField(
        default=0, help_text="What it wants first, where nobody knows that it works."
    )
    note = models.CharField(max_length=200, blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(condition=~Q(title=""), name="spare_has_a_title"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.title}"


class SpareFit(models.Model):
    """A place on a build that a spare fits."""

    spare = models.ForeignKey(Spare, models.CASCADE, related_name="fits")
    component = models.ForeignKey(Component, models.CASCADE, related_name="spares")

    class Meta:
        ordering = ["spare_id", "component_id"]
        constraints = [
            models.UniqueConstraint(
                fields=["spare", "component"], name="spare_fit_once"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.spare_id} fits {self.component_id}"
