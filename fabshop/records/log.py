"""The shop log: one append-only table of entries, with photos, drafts and answers."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from fabshop import words
from fabshop.records.build import Build, Component
from fabshop.records.order import Order, Receipt
from fabshop.records.shop import Person
from fabshop.records.task import Task


class LogEntry(models.Model):
    """One line of the log; nothing is changed or deleted, an undo is another line."""

    client_id = models.CharField(max_length=64, unique=True)
    kind = models.CharField(max_length=20, choices=words.EntryKind.choices())
    person = models.ForeignKey(Person, models.PROTECT, related_name="entries")
    build = models.ForeignKey(
        Build, models.SET_NULL, null=True, blank=True, related_name="entries"
    )
    task = models.ForeignKey(
        Task, models.SET_NULL, null=True, blank=True, related_name="entries"
    )
    component = models.ForeignKey(
        Component, models.SET_NULL, null=True, blank=True, related_name="entries"
    )
    order = models.ForeignKey(
        Order, models.SET_NULL, null=True, blank=True, related_name="entries"
    )
    text = models.TextField(blank=True)
    notice = models.CharField(
        max_length=200, blank=True, help_text="What was left out of the text, if any."
    )
    minutes = models.PositiveIntegerField(
        null=True, blank=True, help_text="Hands-on minutes that a stop books."
    )
    left_minutes = models.PositiveIntegerField(null=True, blank=True)
    stuck_on = models.CharField(
        max_length=10, choices=words.StuckOn.choices(), blank=True, default=""
    )
    started_by = models.ForeignKey(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="stops",
        help_text="For a stop: the start it ends; again, where a stop was undone.",
    )
    reverses = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="reversed_by"
    )
    before = models.JSONField(
        default=dict, blank=True, help_text="What an undo needs to put things back."
    )
    at = models.DateTimeField(help_text="When it happened, by the phone's clock.")
    server_at = models.DateTimeField(help_text="When the server took it in.")

    class Meta:
        ordering = ["-at", "-id"]
        verbose_name_plural = "log entries"
        constraints = [
            models.CheckConstraint(
                condition=Q(kind__in=list(words.EntryKind)), name="entry_kind_known"
            ),
            models.CheckConstraint(
                condition=~Q(kind="undo") | Q(reverses__isnull=False),
                name="entry_undo_names_what_it_reverses",
            ),
        ]
        # The log page pages through years by time, alone or of one build or person.
        indexes = [
            models.Index(fields=["-at", "-id"], name="entry_by_time"),
            models.Index(fields=["build", "-at"], name="entry_by_build"),
            models.Index(fields=["person", "kind", "-at"], name="entry_by_person"),
        ]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M} {self.kind}"


class Timer(models.Model):
    """A start mark that no stop has ended yet; one a person."""

    person = models.OneToOneField(Person, models.CASCADE, related_name="timer")
    start = models.OneToOneField(LogEntry, models.CASCADE, related_name="running")

    def __str__(self) -> str:
        return f"{self.person_id} since {self.start_id}"


class Photo(models.Model):
    """A picture, kept once by its content, upright and without position data."""

    digest = models.CharField(max_length=64, unique=True)
    file = models.CharField(max_length=200, help_text="Path under the photo folder.")
    thumb = models.CharField(max_length=200)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    taken_at = models.DateTimeField(null=True, blank=True)
    made_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.digest[:12]

    @property
    def is_voice(self) -> bool:
        """A voice note: kept as it came, under its own ending."""
        return self.width == 0 and not self.file.endswith(".bin")


class PhotoUse(models.Model):
    """Where a photo belongs: a log entry, a receipt, or a step of a teardown."""

    photo = models.ForeignKey(Photo, models.PROTECT, related_name="uses")
    entry = models.ForeignKey(
        LogEntry, models.PROTECT, null=True, blank=True, related_name="photos"
    )
    receipt = models.ForeignKey(
        Receipt, models.PROTECT, null=True, blank=True, related_name="photos"
    )
    step = models.ForeignKey(
        "records.PlanStep", models.CASCADE, null=True, blank=True, related_name="photos"
    )
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(entry__isnull=False, receipt=None, step=None)
                | Q(entry=None, receipt__isnull=False, step=None)
                | Q(entry=None, receipt=None, step__isnull=False),
                name="photo_belongs_to_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.photo_id}"


class Draft(models.Model):
    """What was typed or sent and refused: kept, with its reason, under its address."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="drafts")
    path = models.CharField(max_length=300)
    payload = models.JSONField()
    message = models.TextField()
    field = models.CharField(max_length=80, blank=True)
    at = models.DateTimeField()
    settled_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-at", "-id"]

    def __str__(self) -> str:
        return self.message[:60]


class KeptAnswer(models.Model):
    """The first answer to a write, given again when the same key comes again."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="+")
    key = models.CharField(max_length=200)
    method = models.CharField(max_length=8)
    path = models.CharField(max_length=300)
    body_hash = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField()
    content_type = models.CharField(max_length=80)
    body = models.TextField()
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["person", "key"], name="kept_answer_key_once"
            ),
        ]

    def __str__(self) -> str:
        return self.key
