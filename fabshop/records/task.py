"""Tasks: their stages, what they wait for, need, open and fit, and their holds."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.build import Build, Component
from fabshop.records.order import OrderLine
from fabshop.records.shop import Machine, Person


class TaskQuerySet(models.QuerySet["Task"]):
    def unfinished(self) -> TaskQuerySet:
        return self.filter(state__in=[words.TaskState.OPEN, words.TaskState.UNDER_WAY])


class Task(models.Model):
    """A piece of work on one build, or on none (shared by all)."""

    code = models.SlugField(max_length=40, unique=True)
    build = models.ForeignKey(
        Build, models.CASCADE, null=True, blank=True, related_name="tasks"
    )
    title = models.CharField(max_length=160)
    family = models.CharField(max_length=40, default="other")
    state = models.CharField(
        max_length=10,
        choices=words.TaskState.choices(),
        default=words.TaskState.OPEN,
    )
    is_required = models.BooleanField(default=True)
    points = models.SmallIntegerField(default=0)
    is_unbroken = models.BooleanField(
        default=False, help_text="May not be split over two sessions."
    )
    is_closed_up = models.BooleanField(
        default=False, help_text="Done with everything on: a shakedown, weighing."
    )
    is_for_good = models.BooleanField(
        default=False, help_text="What it fits is bonded or welded and stays."
    )
    is_hold = models.BooleanField(default=False)
    in_teardown = models.BooleanField(
        default=False, help_text="Belongs to the planned teardown of its build."
    )
    is_noisy = models.BooleanField(default=False)
    may_help = models.BooleanField(
        default=False, help_text="A helper may do it in the owner's place."
    )
    wished_at = models.DateTimeField(
        null=True,
        blank=True,
        help_text="Since when it must be had in its final way, at whatever price.",
    )
    left_minutes = models.PositiveIntegerField(
        null=True,
        blank=True,
        help_text="Hands-on minutes left, where a person has said so.",
    )
    cured_at = models.DateTimeField(
        null=True, blank=True, help_text="When its last cure or run will be over."
    )
    done_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = TaskQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=list(words.TaskState)), name="task_state_known"
            ),
        ]
        # Reckoning reads the unfinished ones of a shop that has kept years.
        indexes = [models.Index(fields=["state"], name="task_by_state")]

    def __str__(self) -> str:
        return f"{self.code} {self.title}"


class Stage(models.Model):
    """One stretch of a task: hands-on, an unattended run, or a cure."""

    task = models.ForeignKey(Task, models.CASCADE, related_name="stages")
    number = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=10, choices=words.StageKind.choices())
    minutes = models.PositiveIntegerField()
    machine = models.ForeignKey(
        Machine, models.PROTECT, null=True, blank=True, related_name="stages"
    )

    class Meta:
        ordering = ["task_id", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["task", "number"], name="stage_number_once"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=list(words.StageKind)), name="stage_kind_known"
            ),
            models.CheckConstraint(
                condition=Q(kind="run") | Q(machine=None),
                name="stage_machine_only_for_a_run",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.minutes} min"


class Estimate(models.Model):
    """Every guess ever made of a task's hands-on minutes."""

    task = models.ForeignKey(Task, models.CASCADE, related_name="estimates")
    minutes = models.PositiveIntegerField()
    is_guessed = models.BooleanField(
        default=False, help_text="Filled in from the family, not said by a person."
    )
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["task_id", "made_at", "id"]

    def __str__(self) -> str:
        return f"{self.minutes} min"


class After(models.Model):
    """`task` cannot begin before `before` is done and cured."""

    task = models.ForeignKey(Task, models.CASCADE, related_name="afters")
    before = models.ForeignKey(Task, models.CASCADE, related_name="followers")

    class Meta:
        ordering = ["task_id", "before_id"]
        constraints = [
            models.UniqueConstraint(fields=["task", "before"], name="after_once"),
            models.CheckConstraint(
                condition=~Q(task=F("before")),
                name="after_is_not_itself",
                violation_error_message="A task cannot come after itself.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task_id} after {self.before_id}"


class Need(models.Model):
    """Something that must be in hand: an order line, something on the rack, a tool."""

    task = models.ForeignKey(Task, models.CASCADE, related_name="needs")
    kind = models.CharField(max_length=10, choices=words.NeedKind.choices())
    line = models.ForeignKey(
        OrderLine, models.PROTECT, null=True, blank=True, related_name="needed_by"
    )
    rack_code = models.CharField(max_length=40, blank=True)
    quantity_milli = models.PositiveIntegerField(
        null=True, blank=True, help_text="Thousandths of the unit; empty = all of it."
    )
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["task_id", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="order", line__isnull=False)
                | Q(kind__in=["rack", "tool"], line=None),
                name="need_names_what_it_needs",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task_id} needs {self.line_id or self.rack_code}"


class Site(models.Model):
    """How a task and a component belong together.

    `opens` is the hold's zone or the place worked on; `reach`, `remove`, `fits` and
    `keeps-open` mean what they mean in a teardown question.
    """

    task = models.ForeignKey(Task, models.CASCADE, related_name="sites")
    component = models.ForeignKey(Component, models.CASCADE, related_name="sites")
    kind = models.CharField(max_length=10, choices=words.SiteKind.choices())

    class Meta:
        ordering = ["task_id", "component_id", "kind"]
        constraints = [
            models.UniqueConstraint(
                fields=["task", "component", "kind"], name="site_once"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=list(words.SiteKind)), name="site_kind_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task_id} {self.kind} {self.component_id}"


class Fallback(models.Model):
    """Plan B: another, lesser way to do a task and the chain that leads to it."""

    task = models.ForeignKey(Task, models.CASCADE, related_name="fallbacks")
    title = models.CharField(max_length=160)
    minutes = models.PositiveIntegerField()
    points = models.SmallIntegerField(default=0)
    uses = models.CharField(max_length=80, blank=True, help_text="Spares it takes.")
    chosen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["task_id", "id"]

    def __str__(self) -> str:
        return self.title


class Reading(models.Model):
    """What must be ticked or measured before a hold can be signed."""

    task = models.ForeignKey(Task, models.CASCADE, related_name="readings")
    number = models.PositiveSmallIntegerField()
    label = models.CharField(max_length=120)
    kind = models.CharField(max_length=8, choices=words.ReadingKind.choices())
    unit = models.CharField(max_length=12, blank=True)
    low = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)
    high = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)

    class Meta:
        ordering = ["task_id", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["task", "number"], name="reading_number_once"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=list(words.ReadingKind)),
                name="reading_kind_known",
            ),
        ]

    def __str__(self) -> str:
        return self.label


class ReadingTaken(models.Model):
    """A tick or a figure somebody took for a hold, signed or not; append-only."""

    reading = models.ForeignKey(Reading, models.PROTECT, related_name="taken")
    value = models.DecimalField(max_digits=12, decimal_places=4)
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["reading_id", "at", "id"]

    def __str__(self) -> str:
        return f"{self.reading_id}: {self.value}"


class HoldSigning(models.Model):
    """Somebody signed, failed or waived a hold; the sum of these is its state."""

    task = models.ForeignKey(Task, models.PROTECT, related_name="signings")
    verdict = models.CharField(max_length=8, choices=words.HoldVerdict.choices())
    reason = models.TextField(blank=True)
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    seen_version = models.PositiveIntegerField(
        default=1,
        help_text="The task's version when the signer read it; for a fail, "
        "the version it made.",
    )
    is_taken_back = models.BooleanField(
        default=False, help_text="Undone within its ten minutes: it says nothing."
    )
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["task_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(verdict__in=list(words.HoldVerdict)),
                name="hold_verdict_known",
            ),
            models.CheckConstraint(
                condition=~Q(verdict="waived") | ~Q(reason=""),
                name="hold_waived_with_a_reason",
                violation_error_message="A hold is waived with a reason or not at all.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task_id} {self.verdict}"


def hold_verdict(signings: Iterable[HoldSigning]) -> words.HoldVerdict | None:
    """How a hold reads, from all its signings; None where nobody has said anything.

    A fail stands, whatever arrives after it, until somebody signs or waives who had
    read the task with that fail in it.
    """
    said = sorted(
        (signing for signing in signings if not signing.is_taken_back),
        key=lambda signing: signing.pk,
    )
    if not said:
        return None
    for place, fail in enumerate(said):
        if fail.verdict == words.HoldVerdict.FAILED and not any(
            later.verdict != words.HoldVerdict.FAILED
            and later.seen_version >= fail.seen_version
            for later in said[place + 1 :]
        ):
            return words.HoldVerdict.FAILED
    return words.HoldVerdict(said[-1].verdict)
