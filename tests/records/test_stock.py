"""What may never be true of the rack is refused by the database."""

from datetime import UTC, datetime
from typing import Any

import pytest

from fabshop.records.shop import Person
from fabshop.records.stock import Cut, Material, Piece, PieceCount, Reservation
from fabshop.records.task import Task
from tests.records.refused import refused

pytestmark = pytest.mark.django_db
AT = datetime(2027, 9, 3, 6, 45, tzinfo=UTC)


@pytest.fixture
def steel() -> Material:
    return Material.objects.create(
        code="304", name="304", family="stainless", density_mg_cm3=8000, source="x"
    )


def tube_of(steel: Material, **changed: Any) -> Piece:
    row: dict[str, Any] = {
        "code": "M1",
        "form": "tube",
        "material": steel,
        "od_um": 8000,
        "wall_um": 1000,
        "length_um": 1_000_000,
        "came_at": AT,
    }
    return Piece.objects.create(**(row | changed))


@pytest.fixture
def tube(steel: Material) -> Piece:
    return tube_of(steel)


def cut(piece: Piece, person: Person, **changed: Any) -> Cut:
    row: dict[str, Any] = {
        "before": 1_000_000,
        "part": 218_000,
        "kerf": 1200,
        "scrap": 0,
        "left": 780_800,
        "client_id": f"c{Cut.objects.count()}",
    }
    return Cut.objects.create(piece=piece, person=person, at=AT, **(row | changed))


def left_of(piece: Piece) -> int:
    return Piece.objects.with_left().get(pk=piece.pk).left_um


def test_a_piece_is_what_it_was_less_its_cuts_and_as_counted(
    tube: Piece, owner: Person
) -> None:
    assert left_of(tube) == 1_000_000
    cut(tube, owner)
    undone = cut(tube, owner)
    Cut.objects.filter(pk=undone.pk).update(is_taken_back=True)
    assert left_of(tube) == 780_800
    PieceCount.objects.create(
        piece=tube,
        length_was_um=780_800,
        length_seen_um=780_000,
        length_difference_um=-800,
        reason="end was dented",
        person=owner,
        at=AT,
        client_id="n1",
    )
    assert left_of(tube) == 780_000


def test_two_cuts_made_apart_may_read_below_nothing(tube: Piece, owner: Person) -> None:
    cut(tube, owner, part=900_000, left=98_800)
    cut(tube, owner, before=98_800, part=131_600, left=-34_000, is_made_apart=True)
    assert left_of(tube) == -34_000


def test_a_cut_adds_up(tube: Piece, owner: Person) -> None:
    with refused("cut_adds_up"):
        cut(tube, owner, left=780_801)
    with refused("cut_takes_something"):
        cut(tube, owner, kerf=-1, left=782_001)


def test_a_cut_on_line_leaves_nothing_below_nought(tube: Piece, owner: Person) -> None:
    with refused("cut_fits_unless_made_apart"):
        cut(tube, owner, part=1_000_000, left=-1200)


def test_a_frame_gets_no_unknown_lot_without_a_reason(
    tube: Piece, owner: Person
) -> None:
    with refused("cut_for_a_frame_of_a_known_lot"):
        cut(tube, owner, is_frame=True)
    cut(tube, owner, is_frame=True, waived_why="practice hoop")
    cut(tube, owner, is_frame=True, heat_lot="7K214")


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"wall_um": 4001}, "piece_wall_within_its_radius"),
        ({"od_um": 0}, "piece_measured_by_its_form"),
        ({"form": "rod"}, "piece_measured_by_its_form"),
        ({"form": "sheet"}, "piece_measured_by_its_form"),
        ({"length_um": 0}, "piece_is_as_long_as_something"),
        ({"retired_at": AT}, "piece_retired_with_a_reason"),
        ({"form": "beam"}, "piece_"),
    ],
)
def test_a_piece_is_measured_by_its_form(
    steel: Material, changed: dict[str, Any], name: str
) -> None:
    with refused(name):
        tube_of(steel, **changed)


def test_a_wall_as_thick_as_the_radius_is_a_rod_and_let_be(steel: Material) -> None:
    assert tube_of(steel, wall_um=4000).section == "8 × 4"


def test_a_code_is_never_used_again(tube: Piece, steel: Material) -> None:
    with refused():
        tube_of(steel)


def test_a_material_weighs_something_and_says_who_says_so() -> None:
    row = {"code": "x", "name": "x", "family": "brass"}
    with refused("material_weighs_something"):
        Material.objects.create(density_mg_cm3=0, source="x", **row)
    with refused("material_says_its_source"):
        Material.objects.create(density_mg_cm3=1, source="", **row)


def test_a_count_adds_up_and_a_difference_has_a_reason(
    tube: Piece, owner: Person
) -> None:
    row: dict[str, Any] = {"piece": tube, "person": owner, "at": AT}
    with refused("piece_count_adds_up"):
        PieceCount.objects.create(
            length_was_um=5, length_seen_um=4, length_difference_um=1, **row
        )
    with refused("piece_count_differs_with_a_reason"):
        PieceCount.objects.create(
            length_was_um=5, length_seen_um=4, length_difference_um=-1, **row
        )


def test_a_task_holds_a_piece_once(tube: Piece, owner: Person) -> None:
    task = Task.objects.create(code="W1", title="x")
    row: dict[str, Any] = {"piece": tube, "task": task, "person": owner, "at": AT}
    first = Reservation.objects.create(length_um=1, **row)
    with refused():
        Reservation.objects.create(length_um=1, **row)
    Reservation.objects.filter(pk=first.pk).update(released_at=AT)
    Reservation.objects.create(length_um=1, **row)
    with refused("reservation_of_some_length"):
        Reservation.objects.create(length_um=0, released_at=AT, **row)
