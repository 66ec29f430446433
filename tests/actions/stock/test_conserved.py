"""No length is lost or made, whatever is cut, undone and told twice, by two phones."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fabshop.actions.log import undo_entry
from fabshop.actions.stock import count_piece, cut_piece
from fabshop.errors import ShopError
from fabshop.records.log import LogEntry
from fabshop.records.stock import Cut, Piece, PieceCount
from tests.factories import MOMENT, PersonFactory, PieceFactory, ShopFactory

steps = st.lists(
    st.tuples(
        st.sampled_from(["cut", "apart", "undo", "again", "count"]),
        st.integers(1, 600_000),
        st.sampled_from(["scrap", "keep"]),
        st.integers(0, 1),
    ),
    max_size=12,
)


@pytest.mark.django_db(transaction=False)
@settings(
    max_examples=30,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(steps=steps)
def test_parts_kerf_scrap_and_rest_are_always_the_whole(
    db: None, steps: list[tuple[str, int, str, int]]
) -> None:
    ShopFactory._meta.model.objects.all().delete()
    ShopFactory()
    phones = [PersonFactory(role="helper"), PersonFactory(role="helper")]
    piece = PieceFactory()
    for number, (what, length, rest, phone) in enumerate(steps):
        now = MOMENT + timedelta(seconds=number)
        by = phones[phone]
        mine = LogEntry.objects.filter(person=by, kind__in=["cut", "counted-up"])
        told = {"by": by, "now": now, "client_id": f"{piece.pk}-{number}"}
        try:
            if what in ("cut", "apart"):
                cut_piece(
                    piece=piece,
                    length_um=length,
                    rest=rest,
                    made_apart=what == "apart",
                    **told,
                )
            elif what == "count":
                count_piece(piece=piece, length_um=length, reason="seen", **told)
            elif what == "again":
                if (last := mine.filter(kind="cut").last()) is not None:
                    before = Cut.objects.count()
                    cut_piece(
                        piece=piece,
                        length_um=length,
                        by=by,
                        now=now,
                        client_id=last.client_id,
                    )
                    assert Cut.objects.count() == before
            elif (last := mine.filter(reversed_by=None).last()) is not None:
                undo_entry(by=by, entry=last, now=now)
        except ShopError:
            pass
    left = Piece.objects.with_left().get(pk=piece.pk).left_um
    cuts = Cut.objects.filter(piece=piece, is_taken_back=False)
    counts = PieceCount.objects.filter(piece=piece, is_taken_back=False)
    gone = sum(cut.part + cut.kerf + cut.scrap for cut in cuts)
    found = sum(count.length_difference_um for count in counts)
    assert left + gone == 1_000_000 + found
    for cut in Cut.objects.filter(piece=piece):
        assert cut.before == cut.part + cut.kerf + cut.scrap + cut.left
        assert cut.left >= 0 or cut.is_made_apart
