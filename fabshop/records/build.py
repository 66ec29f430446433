"""Builds, the places on them, what is there now, and what lies under what."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words


class BuildQuerySet(models.QuerySet["Build"]):
    def live(self) -> BuildQuerySet:
        return self.filter(state=words.BuildState.LIVE)


class Build(models.Model):
    """A machine that is being made, its event and the moment its packing closes."""

    slug = models.SlugField(max_length=40, unique=True)
    letter = models.CharField(
        max_length=4, unique=True, help_text="What its component codes begin with."
    )
    name = models.CharField(max_length=80)
    class_name = models.CharField(max_length=80, blank=True)
    event_name = models.CharField(max_length=120, blank=True)
    event_on = models.DateField(null=True, blank=True)
    pack_out_at = models.DateTimeField(null=True, blank=True)
    state = models.CharField(
        max_length=10,
        choices=words.BuildState.choices(),
        default=words.BuildState.LIVE,
    )
    made_at = models.DateTimeField()

    objects = BuildQuerySet.as_manager()

    class Meta:
        ordering = ["-state", "slug"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=list(words.BuildState)), name="build_state_known"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class ComponentQuerySet(models.QuerySet["Component"]):
    def present(self) -> ComponentQuerySet:
        return self.exclude(state=words.ComponentState.RETIRED)


class Component(models.Model):
    """A place on a build; what is there now, and whether that is on or off."""

    build = models.ForeignKey(Build, models.CASCADE, related_name="components")
    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    state = models.CharField(
        max_length=10,
        choices=words.ComponentState.choices(),
        default=words.ComponentState.FINAL,
    )
    is_on = models.BooleanField(default=True)
    twin = models.OneToOneField(
        "self", models.SET_NULL, null=True, blank=True, related_name="+"
    )
    side = models.CharField(
        max_length=1, choices=words.Side.choices(), blank=True, default=words.Side.NONE
    )
    off_minutes = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="Minutes to take it off; empty = unknown."
    )
    on_minutes = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="Minutes to put it back; empty = unknown."
    )
    held_by = models.CharField(
        max_length=120, blank=True, help_text="How it is held, as one says it."
    )
    is_for_good = models.BooleanField(
        default=False,
        help_text="The final fitting is bonded or welded and never comes off whole.",
    )
    watch = models.CharField(
        max_length=200, blank=True, help_text="Witness mark, cable, order of clips."
    )
    bares_battery_plug = models.BooleanField(
        default=False, help_text="With this off, the battery's plug can be reached."
    )
    mass_mg = models.PositiveIntegerField(null=True, blank=True)
    mass_basis = models.CharField(
        max_length=3, choices=words.MassBasis.choices(), blank=True, default=""
    )
    x_um = models.IntegerField(null=True, blank=True)
    y_um = models.IntegerField(null=True, blank=True)
    z_um = models.IntegerField(null=True, blank=True)
    place = models.CharField(
        max_length=60, blank=True, help_text="Where it lies while it is off."
    )
    version = models.PositiveIntegerField(default=1)

    objects = ComponentQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=list(words.ComponentState)),
                name="component_state_known",
            ),
            models.CheckConstraint(
                condition=Q(side__in=list(words.Side)), name="component_side_known"
            ),
            models.CheckConstraint(
                condition=~Q(state__in=["missing", "retired"]) | Q(is_on=False),
                name="component_that_is_missing_is_not_on",
                violation_error_message="What is missing cannot be on the build.",
            ),
            models.CheckConstraint(
                condition=Q(twin=None) | ~Q(twin=F("id")),
                name="component_is_not_its_own_twin",
            ),
            models.CheckConstraint(
                condition=Q(mass_mg=None, mass_basis="")
                | Q(mass_mg__isnull=False, mass_basis__in=list(words.MassBasis)),
                name="component_mass_says_how_it_is_known",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"


class Fastening(models.Model):
    """Some screws, nuts or ties of one size that hold a component."""

    component = models.ForeignKey(Component, models.CASCADE, related_name="fastenings")
    count = models.PositiveSmallIntegerField()
    size = models.CharField(max_length=40)
    locker = models.CharField(
        max_length=10,
        choices=words.Locker.choices(),
        default=words.Locker.NONE,
    )
    torque_mnm = models.PositiveIntegerField(
        null=True, blank=True, help_text="Newton millimetres; empty = by feel."
    )
    is_single_use = models.BooleanField(default=False)
    is_screw = models.BooleanField(
        default=True, help_text="No for ties, plugs, clips, straps and wheel nuts."
    )
    bag = models.CharField(max_length=20, blank=True)

    class Meta:
        ordering = ["component_id", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(count__gt=0), name="fastening_count_positive"
            ),
            models.CheckConstraint(
                condition=Q(locker__in=list(words.Locker)),
                name="fastening_locker_known",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.count}×{self.size}"


class Cover(models.Model):
    """`cover` must be off to reach `under`; covers of one route belong together.

    A component with several route numbers can be reached by any one of them.
    """

    under = models.ForeignKey(Component, models.CASCADE, related_name="covers")
    cover = models.ForeignKey(Component, models.CASCADE, related_name="lies_over")
    route = models.PositiveSmallIntegerField(default=1)

    class Meta:
        ordering = ["under_id", "route", "cover_id"]
        constraints = [
            models.UniqueConstraint(
                fields=["under", "route", "cover"], name="cover_once_per_route"
            ),
            models.CheckConstraint(
                condition=~Q(under=F("cover")),
                name="cover_is_not_over_itself",
                violation_error_message="A part cannot lie under itself.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.cover_id} over {self.under_id} (route {self.route})"
