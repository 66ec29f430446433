"""A frame out of a DXF on the phone: tried, shown, drawn; what is no DXF is refused."""

from __future__ import annotations

import html
import json
import re
from io import StringIO

import ezdxf
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from fabshop.records.frame import Frame
from tests.factories import FrameFactory

pytestmark = pytest.mark.django_db

FIELDS = {"od": "8", "wall": "0.9", "tolerance": "0,1", "material": "ti-9"}


def dxf() -> SimpleUploadedFile:
    """A rail, a post on its middle drawn 0.05 mm off, and a circle."""
    document = ezdxf.new()
    document.header["$INSUNITS"] = 4
    space = document.modelspace()
    space.add_line((0, 0, 0), (200, 0, 0))
    space.add_line((60, 0.05, 0), (90, 0, 120))
    space.add_circle((0, 0), 5)
    out = StringIO()
    document.write(out)
    return SimpleUploadedFile("frame.dxf", out.getvalue().encode())


@pytest.fixture
def frame(page: Client) -> Frame:
    return FrameFactory(code="mast")


def test_it_is_tried_shown_and_drawn(page: Client, frame: Frame) -> None:
    at = "/frames/mast/drawing/"
    assert page.get(at).status_code == 200
    tried = page.post(at, {**FIELDS, "file": dxf()})
    assert "2 tubes between 4 nodes. Nothing is written yet." in tried.text
    assert "What is no straight line is left out." in tried.text
    assert not frame.tubes.exists()
    found = re.search(r'name="lines"[^>]*>([^<]+)<', tried.text)
    assert found is not None
    carried = html.unescape(found[1])
    assert len(json.loads(carried)) == 2
    page.post(at, {**FIELDS, "lines": carried, "do": "take"})
    post = frame.tubes.get(mark="T2")
    assert [end.onto.mark for end in post.ends.all() if end.onto] == ["T1"]
    shown = page.get("/frames/mast/tubes/T2/").text
    assert "76.0°" in shown
    again = page.post(at, {**FIELDS, "file": dxf()})
    assert again.status_code == 409


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({}, "No drawing: choose a DXF file."),
        ({"lines": "[[1,2"}, "The lines were lost. Choose the file again."),
        ({"lines": "[[1,2,3]]"}, "The lines were lost. Choose the file again."),
        ({"lines": '[["NaN",0,0,1,0,0]]'}, "The lines were lost."),
        ({"lines": "[[0,0,0,1,0,0]]", "od": ""}, "OD: nothing is written"),
        ({"lines": "[[0,0,0,9,0,0]]", "tolerance": "80"}, "80 mm is not 0 to 50 mm"),
        ({"lines": "[[0,0,0,9,0,0]]", "wall": "9", "do": "take"}, "up to the radius"),
    ],
)
def test_what_cannot_be_taken_is_said(
    page: Client, frame: Frame, more: dict[str, str], sentence: str
) -> None:
    answer = page.post("/frames/mast/drawing/", {**FIELDS, **more})
    assert answer.status_code == 422
    assert sentence in answer.text
    assert not frame.nodes.exists()


def test_what_is_no_dxf_is_refused(page: Client, frame: Frame) -> None:
    file = SimpleUploadedFile("frame.dxf", b"x,y,z\n1,2,3\n")
    answer = page.post("/frames/mast/drawing/", {**FIELDS, "file": file})
    assert answer.status_code == 422
    assert "This file does not begin as a DXF does." in answer.text


def test_only_the_owner_draws(helpers_page: Client) -> None:
    FrameFactory(code="mast")
    assert helpers_page.get("/frames/mast/drawing/").status_code == 403
