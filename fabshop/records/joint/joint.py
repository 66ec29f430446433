"""Joints of tubes: members, geometry, heat lots, state, and what comes over them."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.build import Build, Component
from fabshop.records.shop import Person
from fabshop.records.task import Task


class JointQuerySet(models.QuerySet["Joint"]):
    def not_accepted(self) -> JointQuerySet:
        return self.exclude(state=words.JointState.ACCEPTED)


class Joint(models.Model):
    """One tube coped onto another: `cut` is the tube with the cope, `onto` its main.

    Angles are thousandths of a degree between the two axes; the twist is this end's
    cope against the other end's of the same tube. A heat lot is empty where nobody
    knows it, and prints as UNKNOWN.
    """

    code = models.SlugField(max_length=40, unique=True)
    build = models.ForeignKey(Build, models.CASCADE, related_name="joints")
    name = models.CharField(max_length=120, help_text="The node, as one says it.")
    metal = models.CharField(max_length=10, choices=words.Metal.choices())
    material = models.CharField(max_length=40)
    onto_material = models.CharField(
        max_length=40, blank=True, help_text="Empty = the same."
    )
    cut_od_um = models.PositiveIntegerField()
    cut_wall_um = models.PositiveIntegerField()
    onto_od_um = models.PositiveIntegerField()
    angle_mdeg = models.PositiveIntegerField()
    offset_um = models.IntegerField(default=0)
    twist_mdeg = models.IntegerField(default=0)
    cut_mark = models.CharField(
        max_length=44, blank=True, help_text="The coped tube on the cut list."
    )
    cut_heat_lot = models.CharField(max_length=40, blank=True)
    onto_heat_lot = models.CharField(max_length=40, blank=True)
    heat_waived_why = models.CharField(
        max_length=160, blank=True, help_text="Why an unknown heat lot may go in."
    )
    filler = models.CharField(max_length=40, blank=True)
    filler_lot = models.CharField(max_length=40, blank=True)
    dissimilar_why = models.CharField(
        max_length=160, blank=True, help_text="Dissimilar, on purpose: why."
    )
    task = models.ForeignKey(
        Task,
        models.SET_NULL,
        null=True,
        blank=True,
        related_name="joints",
        help_text="The task that welds it: its joints are one set.",
    )
    coped_in = models.ForeignKey(
        Task, models.SET_NULL, null=True, blank=True, related_name="copes"
    )
    gas_mbar = models.PositiveIntegerField(
        null=True,
        blank=True,
        help_text="Thousandths of a bar of gas that it takes, by the shop's own count.",
    )
    twin = models.OneToOneField(
        "self", models.SET_NULL, null=True, blank=True, related_name="+"
    )
    state = models.CharField(
        max_length=10,
        choices=words.JointState.choices(),
        default=words.JointState.PLANNED,
    )
    reworks = models.PositiveSmallIntegerField(
        default=0, help_text="How often it was rejected: the attempt it is on."
    )
    found = models.CharField(
        max_length=200, blank=True, help_text="What was last found on it."
    )
    inspect_why = models.CharField(
        max_length=200, blank=True, help_text="Why it must be looked at again."
    )
    version = models.PositiveIntegerField(default=1)

    objects = JointQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=list(words.JointState)), name="joint_state_known"
            ),
            models.CheckConstraint(
                condition=Q(metal__in=list(words.Metal)), name="joint_metal_known"
            ),
            models.CheckConstraint(
                condition=Q(angle_mdeg__gt=0, angle_mdeg__lt=180_000),
                name="joint_angle_between_two_axes",
                violation_error_message="The angle lies between 0 and 180 degrees.",
            ),
            models.CheckConstraint(
                condition=Q(twist_mdeg__gte=-180_000, twist_mdeg__lte=180_000),
                name="joint_twist_within_a_turn",
            ),
            models.CheckConstraint(
                condition=Q(
                    cut_od_um__gt=0,
                    cut_wall_um__gt=0,
                    cut_od_um__gte=F("cut_wall_um") * 2,
                    onto_od_um__gt=0,
                ),
                name="joint_wall_within_its_radius",
                violation_error_message="A wall cannot be thicker than the radius.",
            ),
            models.CheckConstraint(
                condition=Q(twin=None) | ~Q(twin=F("id")),
                name="joint_is_not_its_own_twin",
            ),
            models.CheckConstraint(
                condition=~Q(state="accepted") | Q(inspect_why=""),
                name="joint_accepted_has_been_looked_at",
                violation_error_message="It must be looked at again before it is "
                "accepted.",
            ),
            models.CheckConstraint(
                condition=~Q(state="rework") | Q(reworks__gt=0),
                name="joint_rework_is_counted",
            ),
            models.CheckConstraint(
                condition=Q(state__in=["planned", "coped", "dry-fit"])
                | ~Q(heat_waived_why="")
                | (~Q(cut_heat_lot="") & ~Q(onto_heat_lot="")),
                name="joint_of_known_lots",
                violation_error_message="A joint of an unknown heat lot is not tacked "
                "without a reason.",
            ),
            models.CheckConstraint(
                condition=Q(state__in=["planned", "coped", "dry-fit"])
                | Q(onto_material="")
                | Q(onto_material=F("material"))
                | ~Q(dissimilar_why=""),
                name="joint_of_one_material",
                violation_error_message="Two materials are joined on purpose, with a "
                "reason, or not at all.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"


class JointCover(models.Model):
    """A task paints or covers a joint, or a component lies over it.

    `off_at`: when what a task put over it was taken off again (paint stripped).
    """

    joint = models.ForeignKey(Joint, models.CASCADE, related_name="covers")
    kind = models.CharField(
        max_length=8,
        choices=words.JointCloses.choices(),
        default=words.JointCloses.COVERS,
    )
    task = models.ForeignKey(
        Task, models.CASCADE, null=True, blank=True, related_name="joint_covers"
    )
    component = models.ForeignKey(
        Component, models.CASCADE, null=True, blank=True, related_name="over_joints"
    )
    off_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["joint_id", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["joint", "task"], name="joint_cover_once_by_a_task"
            ),
            models.UniqueConstraint(
                fields=["joint", "component"], name="joint_cover_once_by_a_component"
            ),
            models.CheckConstraint(
                condition=Q(kind="paints", task__isnull=False, component=None)
                | Q(kind="covers", task__isnull=False, component=None)
                | Q(kind="covers", task=None, component__isnull=False),
                name="joint_cover_by_a_task_or_a_component",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task_id or self.component_id} {self.kind} {self.joint_id}"


class JointMove(models.Model):
    """One line of a joint's own log: how its state moved, and why; append-only."""

    joint = models.ForeignKey(Joint, models.PROTECT, related_name="moves")
    was = models.CharField(max_length=10, choices=words.JointState.choices())
    state = models.CharField(max_length=10, choices=words.JointState.choices())
    reason = models.CharField(max_length=400, blank=True)
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)
    is_taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["joint_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=list(words.JointState))
                & Q(was__in=list(words.JointState)),
                name="joint_move_states_known",
            ),
            models.CheckConstraint(
                condition=~Q(state="rework") | ~Q(reason=""),
                name="joint_reworked_with_a_reason",
                violation_error_message="Say what is wrong with it.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.joint_id} {self.state}"
