"""The shop's plans as they were kept, and when somebody is in besides bench hours."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop.records.shop import Person


class Presence(models.Model):
    """Wall-clock minutes of a weekday when somebody is in who can start a run.

    Monday is 0. They are not bench hours: a run is started in them, no work is done.
    """

    weekday = models.PositiveSmallIntegerField()
    from_minute = models.PositiveSmallIntegerField()
    to_minute = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["weekday", "from_minute"]
        constraints = [
            models.CheckConstraint(
                condition=Q(weekday__lte=6), name="presence_on_a_weekday"
            ),
            models.CheckConstraint(
                condition=Q(from_minute__lt=F("to_minute"), to_minute__lte=24 * 60),
                name="presence_ends_after_it_begins",
                violation_error_message="These minutes must end after they begin, "
                "on the same day.",
            ),
            models.UniqueConstraint(
                fields=["weekday", "from_minute"], name="presence_begins_once"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.weekday} {self.from_minute}-{self.to_minute}"


class ShopPlanQuerySet(models.QuerySet["ShopPlan"]):
    def kept(self) -> ShopPlanQuerySet:
        """The one that the shop goes by."""
        return self.filter(is_current=True)


class ShopPlan(models.Model):
    """Who does what when, in the whole shop, as it was reckoned; never again to show.

    Every plan asked for is kept under its own letter; one is current.
    """

    edition = models.CharField(max_length=3, unique=True)
    is_current = models.BooleanField(default=True)
    why = models.CharField(
        max_length=200, blank=True, help_text="What was asked or chosen."
    )
    change = models.CharField(
        max_length=600, blank=True, help_text="What it did to the plan before."
    )
    question = models.JSONField()
    answer = models.JSONField()
    late_question = models.JSONField(null=True, blank=True)
    late_answer = models.JSONField(
        null=True, blank=True, help_text="The same with every parcel on its late day."
    )
    beside = models.JSONField(
        default=dict, help_text="What stands beside the answer, in words and by task."
    )
    sure = models.JSONField(
        null=True, blank=True, help_text="The chances, from a seeded simulation."
    )
    utc_offset_minutes = models.SmallIntegerField(
        default=0, help_text="The plan's clock: local minutes ahead of UTC."
    )
    digest = models.CharField(max_length=64)
    stands_on = models.JSONField(
        default=dict, help_text="A fingerprint by task, order and day."
    )
    entries = models.PositiveIntegerField(
        default=0, help_text="How many log entries it was made from."
    )
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()

    objects = ShopPlanQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["is_current"],
                condition=Q(is_current=True),
                name="shop_plan_only_one_current",
            ),
            models.CheckConstraint(
                condition=~Q(edition=""), name="shop_plan_has_an_edition"
            ),
        ]

    def __str__(self) -> str:
        return f"The plan, edition {self.edition}"
