"""Runs of machines that nobody watches: begun, due, and what they came to."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.shop import Machine, Person
from fabshop.records.task import Task


class RunQuerySet(models.QuerySet["Run"]):
    def unsaid(self) -> RunQuerySet:
        """Begun, and nobody has said yet what they came to."""
        return self.filter(verdict="", is_taken_back=False)


class Run(models.Model):
    """One run of a task on a machine; it is never over by itself.

    It came out or it failed when somebody says so, however long it is due.
    """

    task = models.ForeignKey(Task, models.PROTECT, related_name="runs")
    machine = models.ForeignKey(Machine, models.PROTECT, related_name="runs")
    minutes = models.PositiveIntegerField(help_text="What it takes on the clock.")
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    begun_at = models.DateTimeField()
    due_at = models.DateTimeField()
    reason = models.CharField(
        max_length=200,
        blank=True,
        help_text="Why it was left on a day on which nothing may run.",
    )
    verdict = models.CharField(
        max_length=10, choices=words.RunVerdict.choices(), blank=True, default=""
    )
    ended_at = models.DateTimeField(null=True, blank=True)
    cause = models.CharField(max_length=200, blank=True)
    is_taken_back = models.BooleanField(
        default=False, help_text="Undone within its ten minutes: it never began."
    )

    objects = RunQuerySet.as_manager()

    class Meta:
        ordering = ["-begun_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(verdict="") | Q(verdict__in=list(words.RunVerdict)),
                name="run_verdict_known",
            ),
            models.CheckConstraint(
                condition=Q(verdict="", ended_at=None)
                | ~Q(verdict="") & Q(ended_at__isnull=False),
                name="run_ended_says_how",
            ),
            models.CheckConstraint(
                condition=Q(ended_at=None) | Q(ended_at__gte=F("begun_at")),
                name="run_ends_after_it_begins",
                violation_error_message="A run cannot end before it began.",
            ),
            models.CheckConstraint(
                condition=Q(due_at__gte=F("begun_at")), name="run_due_after_it_begins"
            ),
            models.CheckConstraint(
                condition=~Q(verdict="failed") | ~Q(cause=""),
                name="run_failed_has_a_cause",
            ),
        ]
        indexes = [
            # The few that nobody has spoken of are read on every page.
            models.Index(
                fields=["begun_at"], condition=Q(verdict=""), name="run_unsaid"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task_id} on {self.machine_id}"
