"""Colour calls: what somebody saw of a weld, by which table it was judged, and how."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.joint.joint import Joint
from fabshop.records.shop import Person


class ColourTable(models.Model):
    """The table a metal's colours are judged by; the latest one holds."""

    metal = models.CharField(max_length=10, choices=words.Metal.choices())
    name = models.CharField(max_length=80)
    source = models.CharField(max_length=300)
    made_at = models.DateTimeField()
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["metal", "-made_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(metal__in=list(words.Metal)), name="colour_table_metal"
            ),
            models.CheckConstraint(
                condition=~Q(source=""), name="colour_table_says_its_source"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.metal}: {self.name}"


class ColourRow(models.Model):
    """What one colour means by a table."""

    table = models.ForeignKey(ColourTable, models.CASCADE, related_name="rows")
    colour = models.CharField(max_length=12, choices=words.Colour.choices())
    verdict = models.CharField(max_length=8, choices=words.Verdict.choices())

    class Meta:
        ordering = ["table_id", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["table", "colour"], name="colour_row_once_in_a_table"
            ),
            models.CheckConstraint(
                condition=Q(colour__in=list(words.Colour))
                & Q(verdict__in=list(words.Verdict)),
                name="colour_row_words_known",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.colour}: {self.verdict}"


class ColourCall(models.Model):
    """One call of a weld's colour, before any brushing; append-only.

    `judged` is what the table said (`person` where none did), `verdict` what holds:
    the same, or another with the reason of whoever overruled it.
    """

    joint = models.ForeignKey(Joint, models.PROTECT, related_name="calls")
    attempt = models.PositiveSmallIntegerField(default=0)
    colour = models.CharField(max_length=12, choices=words.Colour.choices())
    judged = models.CharField(max_length=8, choices=words.Verdict.choices())
    by_table = models.CharField(max_length=400, blank=True)
    verdict = models.CharField(max_length=8, choices=words.Verdict.choices())
    reason = models.CharField(max_length=400, blank=True)
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)
    is_taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["joint_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(colour__in=list(words.Colour))
                & Q(judged__in=list(words.Verdict))
                & Q(verdict__in=[words.Verdict.ACCEPT, words.Verdict.REJECT]),
                name="colour_call_words_known",
            ),
            models.CheckConstraint(
                condition=Q(judged="person") | Q(judged=F("verdict")) | ~Q(reason=""),
                name="colour_call_overruled_with_a_reason",
                violation_error_message="A table is overruled with a reason or not "
                "at all.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.joint_id} {self.colour}: {self.verdict}"
