"""A frame on the phone: sentences, figures, picture, and what is not computed."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.test import Client

from fabshop.records.frame import Frame
from tests.factories import BuildFactory, FrameFactory, NodeFactory, TubeFactory
from tests.paper.a_frame import a_frame

pytestmark = pytest.mark.django_db


def test_a_build_lists_its_frames_and_begins_another(page: Client) -> None:
    BuildFactory(slug="wren", name="Wren")
    shown = page.get("/builds/wren/frames/")
    assert "No tube frame is drawn yet." in shown.text
    made = page.post("/builds/wren/frames/", {"code": "cradle", "name": "Cradle"})
    assert made.headers["Location"] == "/frames/cradle/"
    assert (
        "Nothing is drawn yet. Begin with a node." in page.get("/frames/cradle/").text
    )
    again = page.post("/builds/wren/frames/", {"code": "cradle", "name": "x"})
    assert again.status_code == 409
    assert "There is a frame cradle already." in again.text


def test_the_page_says_what_the_frame_comes_to(page: Client) -> None:
    code = a_frame()
    shown = page.get(f"/frames/{code}/").text
    assert "3 tubes between 6 nodes" in shown
    assert "31.0° onto rail; 59.0° onto post; twist 0.0°" in shown
    assert "8×0.9" in shown
    assert 'aria-label="The frame from its front right corner above' in shown


def test_what_is_not_computed_stands_on_top(page: Client) -> None:
    code = a_frame()
    frame = Frame.objects.get(code=code)
    frame.tubes.filter(mark="post").update(od_um=10_000)
    shown = page.get(f"/frames/{code}/").text
    assert "post at C wraps past the mate: it reaches 1.00 mm beyond" in shown
    assert "not computed" in shown
    tube = page.get(f"/frames/{code}/tubes/post/").text
    assert "Its length is not computed." in tube
    assert "Template 1:1" not in tube


def test_a_tube_shows_both_ends_with_angle_and_dial(page: Client) -> None:
    code = a_frame()
    shown = page.get(f"/frames/{code}/tubes/brace/").text
    assert re.search(r"Cut 1\d\d\.\d mm, long point to long point\.", shown)
    assert "31.0°" in shown
    assert "59.0°" in shown
    assert "J02" in shown
    assert "/paper/cope/tube/cradle/brace.pdf?paper=letter" in shown
    assert "Dial, from square" in shown
    assert "It has no twin." in shown
    assert page.get(f"/frames/{code}/tubes/mast/").status_code == 404
    rail = page.get(f"/frames/{code}/tubes/rail/").text
    assert "On it lands" in rail


def test_twins_that_do_not_mirror_each_other_are_told(page: Client) -> None:
    code = a_frame()
    frame = Frame.objects.get(code=code)
    brace, post = frame.tubes.get(mark="brace"), frame.tubes.get(mark="post")
    frame.tubes.filter(pk=brace.pk).update(twin=post)
    frame.tubes.filter(pk=post.pk).update(twin=brace)
    shown = page.get(f"/frames/{code}/").text
    assert "brace and post do not lie opposite each other across y = 0." in shown
    assert "do not lie opposite" in page.get(f"/frames/{code}/tubes/post/").text


def test_whoever_reads_may_look_and_strangers_sign_in(
    viewers_page: Client, client: Client
) -> None:
    code = a_frame()
    shown = viewers_page.get(f"/frames/{code}/")
    assert shown.status_code == 200
    assert "Another node" not in shown.text
    refused = viewers_page.post("/builds/wren/frames/", {"code": "q", "name": "Q"})
    assert refused.status_code == 403
    assert client.get(f"/frames/{code}/").status_code == 302


def test_a_large_frame_asks_no_more_often(
    page: Client, django_assert_num_queries: Any
) -> None:
    counts: list[int] = []
    for size in (1, 15):
        frame = FrameFactory()
        for _ in range(size):
            node = NodeFactory(frame=frame)
            TubeFactory(frame=frame, start=node)
        page.get(f"/frames/{frame.code}/")
        with django_assert_num_queries(counts[0] if counts else 9) as seen:
            page.get(f"/frames/{frame.code}/")
        counts.append(len(seen))
