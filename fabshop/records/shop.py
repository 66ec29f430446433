"""The shop itself: its zone, people, hands-on windows, days and machines."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower

from fabshop import words


class Shop(models.Model):
    """One row: the shop."""

    name = models.CharField(max_length=80)
    zone = models.CharField(max_length=60, default="UTC")
    delivery_minute = models.PositiveSmallIntegerField(
        default=18 * 60,
        help_text="Minute of the day from which that day's parcels count as here.",
    )
    teardown_setup_minutes = models.PositiveSmallIntegerField(default=0)
    factor_bites_after = models.PositiveSmallIntegerField(
        default=5, help_text="Finished tasks before a family's logged factor is used."
    )
    kerf_um = models.PositiveIntegerField(
        default=1200, help_text="What the saw makes into dust."
    )
    dressing_um = models.PositiveIntegerField(
        default=1000, help_text="Left on each end of a cut tube for dressing it."
    )
    scrap_under_um = models.PositiveIntegerField(
        default=15_000, help_text="A rest shorter than this: scrap, or keep it?"
    )
    clean_minutes = models.PositiveSmallIntegerField(
        default=8 * 60,
        help_text="How long a cleaned joint counts as clean before it is welded.",
    )
    is_demo = models.BooleanField(default=False)
    made_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="shop_is_only_one"),
            models.CheckConstraint(
                condition=Q(delivery_minute__lte=24 * 60),
                name="shop_delivery_minute_within_a_day",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PersonManager(BaseUserManager["Person"]):
    """Looks people up by the name they sign in with."""

    def get_by_natural_key(self, username: str | None) -> Person:
        return self.get(name__iexact=username)


class Person(AbstractBaseUser):
    """Somebody who may sign in: the owner, a helper or a viewer."""

    name = models.CharField(max_length=60, unique=True)
    role = models.CharField(max_length=10, choices=words.Role.choices())
    is_active = models.BooleanField(default=True)

    objects: ClassVar[PersonManager] = PersonManager()

    USERNAME_FIELD = "name"
    REQUIRED_FIELDS: ClassVar[list[str]] = []

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "people"
        constraints = [
            models.CheckConstraint(
                condition=Q(role__in=list(words.Role)), name="person_role_known"
            ),
            models.UniqueConstraint(Lower("name"), name="person_name_once"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_owner(self) -> bool:
        return self.role == words.Role.OWNER

    @property
    def may_write(self) -> bool:
        return self.role in (words.Role.OWNER, words.Role.HELPER)

    @property
    def is_staff(self) -> bool:
        """The back office opens to the owner; it reads, it never writes."""
        return self.is_owner

    def has_perm(self, perm: str, obj: object = None) -> bool:
        return self.is_owner and self.is_active

    def has_module_perms(self, app_label: str) -> bool:
        return self.is_owner and self.is_active


class SignInLink(models.Model):
    """A link that signs one person in once; only its hash is kept."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="links")
    token_hash = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"link for {self.person_id}"


class Window(models.Model):
    """Wall-clock minutes of a day in the shop's zone when a person is at the bench."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="windows")
    on = models.DateField()
    from_minute = models.PositiveSmallIntegerField()
    to_minute = models.PositiveSmallIntegerField()
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["on", "from_minute", "person_id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(from_minute__lt=F("to_minute"), to_minute__lte=24 * 60),
                name="window_ends_after_it_begins",
                violation_error_message="Hours must end after they begin, "
                "on the same day.",
            ),
            models.UniqueConstraint(
                fields=["person", "on", "from_minute"], name="window_begins_once"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.on} {self.from_minute}-{self.to_minute}"


class Day(models.Model):
    """What is out of the ordinary on one day: off, no deliveries, nothing running."""

    on = models.DateField(unique=True)
    is_off = models.BooleanField(default=False)
    has_deliveries = models.BooleanField(default=True)
    may_run_machines = models.BooleanField(default=True)
    quiet_until_minute = models.PositiveSmallIntegerField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["on"]
        constraints = [
            models.CheckConstraint(
                condition=Q(quiet_until_minute=None)
                | Q(quiet_until_minute__lte=24 * 60),
                name="day_quiet_until_within_the_day",
            ),
        ]

    def __str__(self) -> str:
        return str(self.on)


class Machine(models.Model):
    """Something that runs unattended, one run at a time."""

    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)

    class Meta:
        ordering = ["code"]

    def __str__(self) -> str:
        return self.name
