"""Orders of every kind, what was promised, what came and what became of the rest."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.build import Build, Component
from fabshop.records.shop import Person


class Supplier(models.Model):
    """A firm or a friend that parts and services come from."""

    code = models.SlugField(max_length=60, unique=True)
    name = models.CharField(max_length=120, unique=True)
    contact = models.CharField(max_length=200, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Order(models.Model):
    """Something bought, cut for us, done for us, commissioned or lent."""

    code = models.SlugField(max_length=40, unique=True)
    supplier = models.ForeignKey(Supplier, models.PROTECT, related_name="orders")
    build = models.ForeignKey(
        Build, models.SET_NULL, null=True, blank=True, related_name="orders"
    )
    title = models.CharField(max_length=160)
    kind = models.CharField(max_length=12, choices=words.OrderKind.choices())
    move = models.CharField(
        max_length=8, choices=words.Move.choices(), default=words.Move.ME
    )
    sent_on = models.DateField(null=True, blank=True)
    lead_early_days = models.PositiveSmallIntegerField(null=True, blank=True)
    lead_likely_days = models.PositiveSmallIntegerField(null=True, blank=True)
    lead_late_days = models.PositiveSmallIntegerField(null=True, blank=True)
    file_name = models.CharField(max_length=160, blank=True)
    file_revision = models.CharField(
        max_length=12, blank=True, help_text="The revision we hold here now."
    )
    give_back_on = models.DateField(null=True, blank=True)
    to_event = models.BooleanField(
        default=False, help_text="It goes to the event's address, not to the shop."
    )
    sent_with = models.ForeignKey(
        "Task",
        models.SET_NULL,
        null=True,
        blank=True,
        related_name="sends",
        help_text="The task that ends with sending it: a drawing, a drop at a firm.",
    )
    given_up_at = models.DateTimeField(null=True, blank=True)
    note = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind__in=list(words.OrderKind)), name="order_kind_known"
            ),
            models.CheckConstraint(
                condition=Q(move__in=list(words.Move)), name="order_move_known"
            ),
            models.CheckConstraint(
                condition=Q(lead_early_days=None)
                | Q(lead_likely_days=None)
                | Q(lead_early_days__lte=F("lead_likely_days")),
                name="order_lead_early_before_likely",
            ),
            models.CheckConstraint(
                condition=Q(lead_likely_days=None)
                | Q(lead_late_days=None)
                | Q(lead_likely_days__lte=F("lead_late_days")),
                name="order_lead_likely_before_late",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.title}"


class OrderLine(models.Model):
    """A quantity of one thing on an order, of one hand where hands matter."""

    order = models.ForeignKey(Order, models.CASCADE, related_name="lines")
    number = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=160)
    hand = models.CharField(
        max_length=1, choices=words.Hand.choices(), blank=True, default=words.Hand.NONE
    )
    quantity_milli = models.PositiveIntegerField(
        help_text="Thousandths of the unit: 0.4 m² is 400."
    )
    unit = models.CharField(
        max_length=4, choices=words.Unit.choices(), default=words.Unit.PIECE
    )
    component = models.ForeignKey(
        Component, models.SET_NULL, null=True, blank=True, related_name="lines"
    )
    material = models.ForeignKey(
        "Material", models.PROTECT, null=True, blank=True, related_name="lines"
    )
    thickness_um = models.PositiveIntegerField(null=True, blank=True)
    finish = models.CharField(max_length=80, blank=True, default="")

    class Meta:
        ordering = ["order_id", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["order", "number"], name="order_line_number_once"
            ),
            models.CheckConstraint(
                condition=Q(quantity_milli__gt=0),
                name="order_line_quantity_positive",
                violation_error_message="An order line is for more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(unit__in=list(words.Unit)), name="order_line_unit_known"
            ),
            models.CheckConstraint(
                condition=Q(hand__in=list(words.Hand)), name="order_line_hand_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.order_id}/{self.number} {self.title}"


class Sending(models.Model):
    """A file or a booking that went out, with its revision; append-only."""

    order = models.ForeignKey(Order, models.CASCADE, related_name="sendings")
    sent_on = models.DateField()
    revision = models.CharField(max_length=12, blank=True)
    is_taken_back = models.BooleanField(
        default=False, help_text="It turned out not to have been sent."
    )
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["order_id", "at", "id"]

    def __str__(self) -> str:
        return f"{self.order_id} sent {self.sent_on}"


class Promise(models.Model):
    """One word given on when an order (or one line of it) arrives; append-only."""

    order = models.ForeignKey(Order, models.CASCADE, related_name="promises")
    line = models.ForeignKey(
        OrderLine, models.CASCADE, null=True, blank=True, related_name="promises"
    )
    eta_on = models.DateField(null=True, blank=True)
    latest_on = models.DateField(null=True, blank=True)
    said = models.CharField(
        max_length=120, blank=True, help_text="The firm's words where they give no day."
    )
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["order_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(eta_on__isnull=False) | ~Q(said=""),
                name="promise_says_something",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.order_id}: {self.eta_on or self.said}"


class Receipt(models.Model):
    """What one look into one parcel found of one line; append-only.

    A taken-back receipt counts the other way: what it says accepted and wrong comes
    off the bench and off the penalty shelf, and an unopened box is unbooked by noughts.
    """

    line = models.ForeignKey(OrderLine, models.PROTECT, related_name="receipts")
    kind = models.CharField(max_length=12, choices=words.ReceiptKind.choices())
    counted_milli = models.PositiveIntegerField(default=0)
    accepted_milli = models.PositiveIntegerField(default=0)
    wrong_milli = models.PositiveIntegerField(default=0)
    wrong_why = models.CharField(
        max_length=8, choices=words.WrongWhy.choices(), blank=True, default=""
    )
    note = models.CharField(max_length=200, blank=True)
    parcel = models.CharField(
        max_length=64, help_text="Receipts of one parcel carry the same mark."
    )
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["line_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind__in=list(words.ReceiptKind)),
                name="receipt_kind_known",
            ),
            models.CheckConstraint(
                condition=Q(counted_milli=F("accepted_milli") + F("wrong_milli")),
                name="receipt_is_accepted_or_wrong",
                violation_error_message="What was counted is either accepted or wrong.",
            ),
            models.CheckConstraint(
                condition=~Q(kind="in-the-box")
                | Q(counted_milli=0, accepted_milli=0, wrong_milli=0),
                name="receipt_unopened_counts_nothing",
            ),
            models.CheckConstraint(
                condition=Q(wrong_milli=0) | ~Q(wrong_why=""),
                name="receipt_wrong_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.line_id} {self.kind} {self.accepted_milli}"

    @property
    def sign(self) -> int:
        """What its quantities count for: 1, or -1 where they were taken back."""
        return -1 if self.kind == words.ReceiptKind.TAKEN_BACK else 1


class Settlement(models.Model):
    """What was agreed on pieces of a line that did not come or came wrong."""

    line = models.ForeignKey(OrderLine, models.PROTECT, related_name="settlements")
    how = models.CharField(max_length=10, choices=words.Settled.choices())
    quantity_milli = models.PositiveIntegerField()
    reordered_on = models.ForeignKey(
        OrderLine, models.PROTECT, null=True, blank=True, related_name="makes_good"
    )
    is_taken_back = models.BooleanField(
        default=False, help_text="Undone within its ten minutes: it settles nothing."
    )
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True)
    at = models.DateTimeField()
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["line_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(how__in=list(words.Settled)), name="settlement_how_known"
            ),
            models.CheckConstraint(
                condition=Q(quantity_milli__gt=0), name="settlement_quantity_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.line_id} {self.how}"
