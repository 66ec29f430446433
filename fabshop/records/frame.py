"""Tube frames as drawn: nodes, the tubes between them, and how each end is made."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.build import Build
from fabshop.records.shop import Person


class Frame(models.Model):
    """One frame of a build; left and right lie either side of `mirror` = 0."""

    build = models.ForeignKey(Build, models.CASCADE, related_name="frames")
    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    mirror = models.CharField(
        max_length=1, default="y", help_text="The axis across which twins lie."
    )
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["build_id", "code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(mirror__in=["x", "y", "z"]), name="frame_mirror_is_an_axis"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"


class Node(models.Model):
    """A point where centrelines meet: x forward, y to the left, z up."""

    frame = models.ForeignKey(Frame, models.CASCADE, related_name="nodes")
    code = models.SlugField(max_length=20)
    x_um = models.IntegerField()
    y_um = models.IntegerField()
    z_um = models.IntegerField()

    class Meta:
        ordering = ["frame_id", "code"]
        constraints = [
            models.UniqueConstraint(
                fields=["frame", "code"], name="node_code_once_in_a_frame"
            ),
            models.UniqueConstraint(
                fields=["frame", "x_um", "y_um", "z_um"],
                name="node_place_once_in_a_frame",
            ),
        ]

    def __str__(self) -> str:
        return self.code


class Tube(models.Model):
    """A round tube from node to node; its density empty where nobody knows it."""

    frame = models.ForeignKey(Frame, models.CASCADE, related_name="tubes")
    mark = models.SlugField(max_length=20)
    start = models.ForeignKey(Node, models.RESTRICT, related_name="+")
    end = models.ForeignKey(Node, models.RESTRICT, related_name="+")
    od_um = models.PositiveIntegerField()
    wall_um = models.PositiveIntegerField()
    material = models.CharField(max_length=60, blank=True)
    density_kgm3 = models.PositiveIntegerField(null=True, blank=True)
    twin = models.OneToOneField(
        "self", models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["frame_id", "mark"]
        constraints = [
            models.UniqueConstraint(
                fields=["frame", "mark"], name="tube_mark_once_in_a_frame"
            ),
            models.CheckConstraint(
                condition=Q(od_um__gt=0, wall_um__gt=0)
                & Q(od_um__gte=F("wall_um") * 2),
                name="tube_wall_within_its_radius",
            ),
            models.CheckConstraint(
                condition=~Q(start=F("end")), name="tube_goes_somewhere"
            ),
            models.CheckConstraint(
                condition=Q(twin=None) | ~Q(twin=F("id")),
                name="tube_is_not_its_own_twin",
            ),
        ]

    def __str__(self) -> str:
        return self.mark


class TubeEnd(models.Model):
    """How the first or second end of a tube is made, and onto which tube it lands."""

    tube = models.ForeignKey(Tube, models.CASCADE, related_name="ends")
    which = models.PositiveSmallIntegerField()
    kind = models.CharField(
        max_length=8, choices=words.EndKind.choices(), default=words.EndKind.THROUGH
    )
    onto = models.ForeignKey(
        Tube, models.RESTRICT, null=True, blank=True, related_name="landings"
    )
    offset_um = models.IntegerField(
        default=0, help_text="Its centreline moved towards its own 90 mark."
    )
    past_um = models.IntegerField(
        null=True, blank=True, help_text="Beyond the node; empty = as far as needed."
    )
    typed_mdeg = models.PositiveIntegerField(
        null=True, blank=True, help_text="An angle measured, held against the frame's."
    )
    joint = models.CharField(max_length=40, blank=True, help_text="Code of its joint.")

    class Meta:
        ordering = ["tube_id", "which"]
        constraints = [
            models.UniqueConstraint(
                fields=["tube", "which"], name="tube_end_once_each"
            ),
            models.CheckConstraint(
                condition=Q(which__in=[1, 2]), name="tube_end_is_first_or_second"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=list(words.EndKind)), name="tube_end_kind_known"
            ),
            models.CheckConstraint(
                condition=Q(kind="coped", onto__isnull=False)
                | Q(kind__in=["through", "plate"], onto=None, offset_um=0),
                name="tube_end_coped_onto_a_tube",
            ),
            models.CheckConstraint(
                condition=Q(onto=None) | ~Q(onto=F("tube")),
                name="tube_end_not_onto_itself",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.tube_id} end {self.which}"


class Bend(models.Model):
    """A tube turns at `node`, where its straights would meet, on this radius."""

    tube = models.ForeignKey(Tube, models.CASCADE, related_name="bends")
    number = models.PositiveSmallIntegerField()
    node = models.ForeignKey(Node, models.RESTRICT, related_name="+")
    radius_um = models.PositiveIntegerField()

    class Meta:
        ordering = ["tube_id", "number"]
        constraints = [
            models.UniqueConstraint(fields=["tube", "number"], name="bend_once"),
            models.CheckConstraint(
                condition=Q(radius_um__gt=0), name="bend_radius_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.tube_id} bend {self.number}"


class PrintFit(models.Model):
    """How this shop's printer prints, from a measured bar; the latest one holds."""

    paper_um = models.PositiveIntegerField(default=100)
    across_ppm = models.PositiveIntegerField(
        default=1_000_000, help_text="Millionths to stretch by across the page."
    )
    along_ppm = models.PositiveIntegerField(default=1_000_000)
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(across_ppm__range=(800_000, 1_250_000))
                & Q(along_ppm__range=(800_000, 1_250_000)),
                name="print_fit_is_no_other_scale",
            ),
            models.CheckConstraint(
                condition=Q(paper_um__lte=1000), name="print_fit_paper_is_paper"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.across_ppm} × {self.along_ppm}"
