"""Loose ideas, one line each, which no plan knows of until they are promoted."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from fabshop.records.build import Build
from fabshop.records.shop import Person
from fabshop.records.task import Task


class IdeaQuerySet(models.QuerySet["Idea"]):
    def on_the_wall(self) -> IdeaQuerySet:
        """Neither taken up nor wiped off."""
        return self.filter(task=None, wiped_at=None)


class Idea(models.Model):
    """A line on the Chalk wall; taken up it is a task, wiped off it stays kept."""

    text = models.TextField()
    person = models.ForeignKey(Person, models.PROTECT, related_name="ideas")
    build = models.ForeignKey(
        Build, models.SET_NULL, null=True, blank=True, related_name="ideas"
    )
    at = models.DateTimeField()
    task = models.OneToOneField(
        Task, models.PROTECT, null=True, blank=True, related_name="idea"
    )
    wiped_at = models.DateTimeField(null=True, blank=True)
    client_id = models.CharField(max_length=64, unique=True)

    objects = IdeaQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-id"]
        constraints = [
            models.CheckConstraint(condition=~Q(text=""), name="idea_says_something"),
            models.CheckConstraint(
                condition=Q(task=None) | Q(wiped_at=None),
                name="idea_is_taken_up_or_wiped_off",
            ),
        ]

    def __str__(self) -> str:
        return self.text[:60]
