"""Kept plans: the question and its answer, the steps, and what is ticked off."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from fabshop import words
from fabshop.records.build import Build, Component
from fabshop.records.shop import Person
from fabshop.records.task import Task


class PlanQuerySet(models.QuerySet["Plan"]):
    def accepted(self) -> PlanQuerySet:
        return self.filter(state=words.PlanState.ACCEPTED)


class Plan(models.Model):
    """A teardown of one build as it was reckoned, never reckoned again to be shown."""

    build = models.ForeignKey(Build, models.CASCADE, related_name="plans")
    kind = models.CharField(max_length=12, default="teardown")
    goal = models.CharField(max_length=120, default="last teardown")
    edition = models.CharField(
        max_length=3, blank=True, help_text="A, B, C ... once accepted."
    )
    state = models.CharField(
        max_length=12,
        choices=words.PlanState.choices(),
        default=words.PlanState.PROPOSED,
    )
    asked = models.JSONField(help_text="What was chosen on the page.")
    question = models.JSONField()
    answer = models.JSONField()
    late_answer = models.JSONField(
        null=True, blank=True, help_text="The same with every parcel on its late day."
    )
    utc_offset_minutes = models.SmallIntegerField(
        default=0, help_text="The plan's clock: local minutes ahead of UTC."
    )
    digest = models.CharField(max_length=64)
    entries = models.PositiveIntegerField(
        default=0, help_text="How many log entries it was made from."
    )
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    accepted_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    accepted_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = PlanQuerySet.as_manager()

    class Meta:
        ordering = ["build_id", "-made_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=list(words.PlanState)), name="plan_state_known"
            ),
            models.UniqueConstraint(
                fields=["build", "kind", "edition"],
                condition=~Q(edition=""),
                name="plan_edition_once",
            ),
            models.UniqueConstraint(
                fields=["build", "kind"],
                condition=Q(state="accepted"),
                name="plan_only_one_accepted",
            ),
            models.CheckConstraint(
                condition=Q(state="proposed", edition="")
                | Q(state__in=["accepted", "superseded"]) & ~Q(edition=""),
                name="plan_accepted_has_an_edition",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.build_id} {self.goal} {self.edition or '(proposed)'}"


class PlanStep(models.Model):
    """One line of a plan: a removal, a task or a refit, with its clock times."""

    plan = models.ForeignKey(Plan, models.CASCADE, related_name="steps")
    number = models.PositiveSmallIntegerField()
    session = models.PositiveSmallIntegerField(default=1)
    does = models.CharField(max_length=8, choices=words.StepDo.choices())
    component = models.ForeignKey(
        Component, models.CASCADE, null=True, blank=True, related_name="steps"
    )
    task = models.ForeignKey(
        Task, models.CASCADE, null=True, blank=True, related_name="steps"
    )
    minutes = models.PositiveSmallIntegerField()
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    cured_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["plan_id", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["plan", "number"], name="plan_step_number_once"
            ),
            models.CheckConstraint(
                condition=Q(does="task", task__isnull=False, component=None)
                | Q(
                    does__in=["remove", "refit"],
                    task=None,
                    component__isnull=False,
                ),
                name="plan_step_is_of_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.does}"


class StepTick(models.Model):
    """Somebody ticked a step off, or took the tick back; append-only."""

    step = models.ForeignKey(PlanStep, models.CASCADE, related_name="ticks")
    is_done = models.BooleanField(default=True)
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    server_at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["step_id", "at", "id"]

    def __str__(self) -> str:
        return f"{self.step_id} {'done' if self.is_done else 'not done'}"
