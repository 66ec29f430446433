"""What is typed of a piece is read back in millimetres before it is kept."""

import pytest
from django.test import Client

from fabshop.records.stock import Material, Piece
from tests.factories import PieceFactory

pytestmark = pytest.mark.django_db
TUBE = {
    "form": "tube",
    "material": "304",
    "section": "1/4 x 0.035 in",
    "size": "1000",
    "code": "M21",
}


def test_row_39_inches_are_read_back_in_millimetres_before_saving(
    page: Client,
) -> None:
    answer = page.post("/rack/new/", {**TUBE, "do": "look"})
    assert "Read as tube 6.35 × 0.889 mm, 1000 mm. Is it so?" in answer.text
    assert not Piece.objects.exists()
    answer = page.post("/rack/new/", {**TUBE, "do": "save"}, follow=True)
    assert "M21 is on the rack. Write its code on it." in answer.text
    assert Piece.objects.get().od_um == 6350


@pytest.mark.parametrize(
    ("changed", "read"),
    [
        ({"section": "8x0,9"}, "tube 8 × 0.9 mm"),
        ({"form": "rod", "section": "1/8 in"}, "rod 3.175 mm"),
        ({"form": "sheet", "section": "040", "size": "300 x 400"}, "sheet 1.016 mm, "),
        ({"form": "sheet", "section": "2", "size": "300 x 400"}, "300 × 400 mm"),
    ],
)
def test_sizes_as_people_type_them(
    page: Client, changed: dict[str, str], read: str
) -> None:
    assert read in page.post("/rack/new/", TUBE | changed).text


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"section": "8 x 4.5"}, "4.5 mm is thicker than the radius"),
        ({"section": "0 x 1"}, "has a measure of nothing"),
        ({"section": "8"}, "but 2 are asked"),
        ({"section": ""}, "Section: nothing is written"),
        ({"code": ""}, "Code: nothing is written"),
        ({"form": "beam"}, "none of tube, rod, sheet, roll"),
        ({"material": "cheese", "do": "save"}, "nobody here knows “cheese”"),
        ({"form": "sheet", "section": "2", "size": "300"}, "but 2 are asked"),
    ],
)
def test_what_cannot_be_is_refused_and_what_was_typed_stays(
    page: Client, changed: dict[str, str], said: str
) -> None:
    answer = page.post("/rack/new/", TUBE | changed)
    assert answer.status_code == 422
    assert said in answer.text
    assert 'value="1000"' in answer.text or "size" in changed


def test_a_code_is_not_used_again(page: Client) -> None:
    PieceFactory(code="M21")
    answer = page.post("/rack/new/", {**TUBE, "do": "save"})
    assert answer.status_code == 409
    assert "codes are not used again" in answer.text


def test_the_shop_adds_a_material_with_its_source(
    page: Client, helpers_page: Client
) -> None:
    said = {"code": "oak", "name": "Oak", "family": "wood", "density": "0,72"}
    answer = page.post("/rack/material/", said)
    assert answer.status_code == 422 and "Source: nothing is written" in answer.text
    page.post("/rack/material/", {**said, "source": "weighed"})
    assert Material.objects.get(code="oak").density_mg_cm3 == 720
    assert helpers_page.get("/rack/material/").status_code == 403
