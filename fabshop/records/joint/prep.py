"""Preparation: the checklists by metal, and each joint's ticks on one of them."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from fabshop import words
from fabshop.records.joint.joint import Joint
from fabshop.records.shop import Person


class PrepTemplate(models.Model):
    """The checklist of one metal; a change makes the next version, none is altered."""

    metal = models.CharField(max_length=10, choices=words.Metal.choices())
    version = models.PositiveIntegerField()
    wants_colour = models.BooleanField(
        default=False, help_text="Its welds are called by their colour."
    )
    made_at = models.DateTimeField()
    person = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["metal", "-version"]
        constraints = [
            models.UniqueConstraint(
                fields=["metal", "version"], name="prep_template_version_once"
            ),
            models.CheckConstraint(
                condition=Q(metal__in=list(words.Metal)), name="prep_template_metal"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.metal} {self.version}"


class PrepStep(models.Model):
    """One step of a checklist, with where it is from; `is_stop` bars what follows."""

    template = models.ForeignKey(PrepTemplate, models.CASCADE, related_name="steps")
    number = models.PositiveSmallIntegerField()
    text = models.CharField(max_length=200)
    stage = models.CharField(max_length=6, choices=words.PrepStage.choices())
    kind = models.CharField(max_length=8, choices=words.PrepKind.choices())
    does = models.CharField(
        max_length=8, choices=words.PrepDoes.choices(), blank=True, default=""
    )
    is_stop = models.BooleanField(default=False)
    minutes = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="The shop's own; empty = asked each time."
    )
    unit = models.CharField(max_length=12, blank=True)
    caution = models.CharField(
        max_length=40, blank=True, help_text="Name of the caution shown beside it."
    )
    source = models.CharField(max_length=300)

    class Meta:
        ordering = ["template_id", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["template", "number"], name="prep_step_number_once"
            ),
            models.CheckConstraint(
                condition=Q(stage__in=list(words.PrepStage))
                & Q(kind__in=list(words.PrepKind))
                & Q(does__in=list(words.PrepDoes)),
                name="prep_step_words_known",
            ),
            models.CheckConstraint(
                condition=Q(minutes=None) | Q(kind="minutes"),
                name="prep_step_minutes_of_a_start_mark",
            ),
            models.CheckConstraint(
                condition=~Q(source=""),
                name="prep_step_says_its_source",
                violation_error_message="A step says where it is from; “own practice” "
                "will do.",
            ),
        ]

    def __str__(self) -> str:
        return self.text


class PrepRun(models.Model):
    """The checklist a joint was begun on, for one attempt; it keeps its version."""

    joint = models.ForeignKey(Joint, models.CASCADE, related_name="runs")
    template = models.ForeignKey(PrepTemplate, models.PROTECT, related_name="runs")
    attempt = models.PositiveSmallIntegerField(default=0)
    begun_at = models.DateTimeField()

    class Meta:
        ordering = ["joint_id", "attempt"]
        constraints = [
            models.UniqueConstraint(
                fields=["joint", "attempt"], name="prep_run_once_an_attempt"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.joint_id} attempt {self.attempt}"


class PrepTick(models.Model):
    """A step done, or said not to be done after all; append-only, the latest counts.

    For a start mark `minutes` is how long it must run from `at`.
    """

    run = models.ForeignKey(PrepRun, models.PROTECT, related_name="ticks")
    step = models.ForeignKey(PrepStep, models.PROTECT, related_name="ticks")
    is_done = models.BooleanField(default=True)
    value = models.DecimalField(max_digits=10, decimal_places=3, null=True, blank=True)
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)
    is_taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["run_id", "at", "id"]

    def __str__(self) -> str:
        return f"{self.run_id}: {self.step_id}"
