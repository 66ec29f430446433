"""Drawings of what is cut for us, who was sent which, and what was measured since."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.order import OrderLine, Receipt, Sending
from fabshop.records.shop import Person


class Drawing(models.Model):
    """One revision of the drawing of an order line; the latest one holds.

    The file is kept once by its content. What was read of it is kept beside it; a
    file that is no DXF is kept as a file, with nothing read.
    """

    line = models.ForeignKey(OrderLine, models.PROTECT, related_name="drawings")
    revision = models.CharField(max_length=12, blank=True)
    hand = models.CharField(
        max_length=1, choices=words.Hand.choices(), blank=True, default=words.Hand.NONE
    )
    file_name = models.CharField(max_length=160)
    file = models.CharField(max_length=200, help_text="Path under the media folder.")
    digest = models.CharField(max_length=64, help_text="SHA-256 of the file.")
    size_bytes = models.PositiveIntegerField()
    read = models.JSONField(
        null=True, blank=True, help_text="What was read of a DXF, in millimetres."
    )
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["line_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(hand__in=list(words.Hand)), name="drawing_hand_known"
            ),
            models.CheckConstraint(
                condition=~Q(file_name="") & ~Q(digest=""),
                name="drawing_is_of_a_file",
            ),
        ]

    def __str__(self) -> str:
        revision = f" revision {self.revision}" if self.revision else ""
        return f"{self.file_name}{revision}"


class DrawingSent(models.Model):
    """Which drawing went out with which sending; append-only."""

    drawing = models.ForeignKey(Drawing, models.PROTECT, related_name="sendings")
    sending = models.ForeignKey(Sending, models.CASCADE, related_name="drawings")

    class Meta:
        ordering = ["sending_id", "drawing_id"]
        constraints = [
            models.UniqueConstraint(
                fields=["drawing", "sending"], name="drawing_sent_once_a_sending"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.drawing_id} with {self.sending_id}"


class MeasuredCheck(models.Model):
    """One dimension of one piece, measured: as it was judged then, never overwritten.

    The limits are kept as they came out of the table on that day, with its source.
    """

    line = models.ForeignKey(OrderLine, models.PROTECT, related_name="checks")
    receipt = models.ForeignKey(
        Receipt, models.PROTECT, null=True, blank=True, related_name="checks"
    )
    label = models.CharField(max_length=80)
    tolerance = models.CharField(max_length=12, choices=words.Tolerance.choices())
    thickness_um = models.PositiveIntegerField(null=True, blank=True)
    nominal_um = models.PositiveIntegerField()
    lower_um = models.IntegerField(help_text="Deviation from nominal, mostly below 0.")
    upper_um = models.IntegerField()
    reading_um = models.PositiveIntegerField()
    verdict = models.CharField(max_length=10, choices=words.CheckVerdict.choices())
    source = models.CharField(max_length=300)
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["line_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(tolerance__in=list(words.Tolerance)),
                name="check_tolerance_known",
            ),
            models.CheckConstraint(
                condition=Q(lower_um__lte=F("upper_um")),
                name="check_lower_below_upper",
                violation_error_message="The lower limit lies above the upper one.",
            ),
            models.CheckConstraint(
                condition=Q(
                    verdict=words.CheckVerdict.UNDER,
                    reading_um__lt=F("nominal_um") + F("lower_um"),
                )
                | Q(
                    verdict=words.CheckVerdict.OVER,
                    reading_um__gt=F("nominal_um") + F("upper_um"),
                )
                | Q(
                    verdict=words.CheckVerdict.WITHIN,
                    reading_um__gte=F("nominal_um") + F("lower_um"),
                    reading_um__lte=F("nominal_um") + F("upper_um"),
                ),
                name="check_verdict_follows_from_reading",
            ),
            models.CheckConstraint(
                condition=~Q(source=""), name="check_says_its_source"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.label} {self.reading_um} {self.verdict}"


class CheckDecision(models.Model):
    """What a person made of a reading; the latest holds, the others stay."""

    check_made = models.ForeignKey(
        MeasuredCheck, models.PROTECT, related_name="decisions"
    )
    how = models.CharField(max_length=14, choices=words.CheckDecision.choices())
    reason = models.CharField(max_length=200, blank=True)
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["check_made_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(how__in=list(words.CheckDecision)),
                name="check_decision_known",
            ),
            models.CheckConstraint(
                condition=~Q(how=words.CheckDecision.LIVE_WITH) | ~Q(reason=""),
                name="check_living_with_it_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.check_made_id} {self.how}"
