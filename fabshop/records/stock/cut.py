"""What is wanted cut, the lists that say from what, and the cuts that were made."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from fabshop import words
from fabshop.records.shop import Person
from fabshop.records.stock.piece import Material, Piece, Reservation
from fabshop.records.task import Task


class CutWish(models.Model):
    """A length, or a rectangle of sheet, that somebody wants cut, so many times.

    `length_um` is the finished length along the axis; what is dressed off its ends
    comes on top when it is cut.
    """

    code = models.SlugField(max_length=40, unique=True)
    title = models.CharField(max_length=120)
    joints = models.CharField(
        max_length=120, blank=True, help_text="Codes of the joints it goes to."
    )
    task = models.ForeignKey(
        Task, models.SET_NULL, null=True, blank=True, related_name="cut_wishes"
    )
    material = models.ForeignKey(Material, models.PROTECT, related_name="wishes")
    form = models.CharField(max_length=8, choices=words.PieceForm.choices())
    od_um = models.PositiveIntegerField(null=True, blank=True)
    wall_um = models.PositiveIntegerField(null=True, blank=True)
    thickness_um = models.PositiveIntegerField(null=True, blank=True)
    length_um = models.PositiveIntegerField()
    width_um = models.PositiveIntegerField(null=True, blank=True)
    grain = models.CharField(
        max_length=8, choices=words.Grain.choices(), blank=True, default=""
    )
    quantity = models.PositiveSmallIntegerField(default=1)
    is_frame = models.BooleanField(
        default=False, help_text="Goes into a frame: no unknown heat lot."
    )
    made_at = models.DateTimeField()
    given_up_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["code"]
        verbose_name_plural = "cut wishes"
        constraints = [
            models.CheckConstraint(
                condition=Q(length_um__gt=0, quantity__gt=0), name="cut_wish_for_some"
            ),
            models.CheckConstraint(
                condition=Q(form__in=["tube", "rod"], od_um__gt=0, width_um=None)
                | Q(form__in=["sheet", "roll"], thickness_um__gt=0, width_um__gt=0),
                name="cut_wish_measured_by_its_form",
            ),
            models.CheckConstraint(
                condition=Q(grain__in=list(words.Grain)), name="cut_wish_grain_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.title}"


class CutList(models.Model):
    """An answer to what to cut from which piece, kept as it was given.

    It is never reckoned again to be shown; the next one is another edition.
    """

    number = models.PositiveIntegerField(unique=True)
    kerf_um = models.PositiveIntegerField()
    dressing_um = models.PositiveIntegerField()
    keep_over_um = models.PositiveIntegerField()
    answer = models.JSONField()
    person = models.ForeignKey(Person, models.PROTECT)
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["-number"]

    def __str__(self) -> str:
        return f"Cut list {self.number}"


class CutMark(models.Model):
    """One cut of a list: which wish, from which piece, in order from the square end.

    `part_um` is what is cut, dressing and all; `left_um` what then remains. On a
    sheet `x_um` and `y_um` say where the blank lies.
    """

    cut_list = models.ForeignKey(CutList, models.CASCADE, related_name="marks")
    piece = models.ForeignKey(Piece, models.PROTECT, related_name="marks")
    number = models.PositiveSmallIntegerField()
    wish = models.ForeignKey(CutWish, models.PROTECT, related_name="marks")
    mark = models.CharField(max_length=44)
    part_um = models.PositiveIntegerField()
    kerf_um = models.PositiveIntegerField()
    left_um = models.PositiveIntegerField()
    wide_um = models.PositiveIntegerField(null=True, blank=True)
    x_um = models.PositiveIntegerField(default=0)
    y_um = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["cut_list_id", "piece_id", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["cut_list", "piece", "number"], name="cut_mark_number_once"
            ),
            models.UniqueConstraint(
                fields=["cut_list", "mark"], name="cut_mark_once_on_a_list"
            ),
        ]

    def __str__(self) -> str:
        return self.mark


class Cut(models.Model):
    """What one cut made of a piece: a part, kerf, scrap, and what is left of it.

    Lengths are micrometres; where a sheet is cut up as drawn, square micrometres.
    """

    piece = models.ForeignKey(Piece, models.PROTECT, related_name="cuts")
    along = models.CharField(
        max_length=8, choices=words.CutAlong.choices(), default=words.CutAlong.LENGTH
    )
    before = models.BigIntegerField()
    part = models.BigIntegerField()
    kerf = models.BigIntegerField(default=0)
    scrap = models.BigIntegerField(default=0)
    left = models.BigIntegerField()
    made = models.ForeignKey(
        Piece,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="made_by",
        help_text="The part, where it lies on the rack as a piece of its own.",
    )
    task = models.ForeignKey(
        Task, models.SET_NULL, null=True, blank=True, related_name="cuts"
    )
    wish = models.ForeignKey(
        CutWish, models.PROTECT, null=True, blank=True, related_name="cuts"
    )
    mark = models.ForeignKey(
        CutMark, models.PROTECT, null=True, blank=True, related_name="cuts"
    )
    reservation = models.ForeignKey(
        Reservation, models.SET_NULL, null=True, blank=True, related_name="cuts"
    )
    is_frame = models.BooleanField(default=False)
    heat_lot = models.CharField(max_length=40, blank=True)
    waived_why = models.CharField(max_length=160, blank=True)
    is_made_apart = models.BooleanField(
        default=False, help_text="Made where the record could not be seen."
    )
    person = models.ForeignKey(Person, models.PROTECT)
    at = models.DateTimeField()
    is_taken_back = models.BooleanField(default=False)
    client_id = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["piece_id", "at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(along__in=list(words.CutAlong)), name="cut_along_known"
            ),
            models.CheckConstraint(
                condition=Q(before=F("part") + F("kerf") + F("scrap") + F("left")),
                name="cut_adds_up",
                violation_error_message="Part, kerf, scrap and rest must add up.",
            ),
            models.CheckConstraint(
                condition=Q(part__gt=0, kerf__gte=0, scrap__gte=0),
                name="cut_takes_something",
            ),
            models.CheckConstraint(
                condition=Q(left__gte=0) | Q(is_made_apart=True),
                name="cut_fits_unless_made_apart",
            ),
            models.CheckConstraint(
                condition=Q(is_frame=False) | ~Q(heat_lot="") | ~Q(waived_why=""),
                name="cut_for_a_frame_of_a_known_lot",
                violation_error_message="A piece of unknown heat lot does not go into "
                "a frame without a reason.",
            ),
            models.UniqueConstraint(
                fields=["mark"],
                condition=Q(is_taken_back=False, mark__isnull=False),
                name="cut_mark_is_cut_once",
                violation_error_message="That is cut already.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.piece_id}: {self.part}"
