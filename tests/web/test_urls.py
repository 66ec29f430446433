"""Whatever is typed into a form, its address answers honestly and never breaks."""

import re

import pytest
from django.urls import reverse
from freezegun import freeze_time

from fabshop.web import urls
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    FallbackFactory,
    FasteningFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReadingFactory,
    ReceiptFactory,
    TaskFactory,
)
from tests.web.addresses import NO_PAGE, addresses

pytestmark = pytest.mark.django_db

ADDRESSES = [
    "/builds/new/",
    "/builds/tuppence/change/",
    "/builds/tuppence/copy/",
    "/builds/tuppence/components/new/",
    "/builds/tuppence/tasks/new/",
    "/components/T10/change/",
    "/components/T10/covers/",
    "/components/T10/fastenings/",
    "/components/T10/twin/",
    "/components/T10/swap/",
    "/tasks/W23/change/",
    "/tasks/W23/after/",
    "/tasks/W23/needs/",
    "/tasks/W23/sites/",
    "/tasks/W23/stages/",
    "/tasks/W23/readings/",
    "/tasks/W23/fallbacks/",
    "/tasks/W23/hold/",
    "/orders/new/",
    "/orders/P06/change/",
    "/orders/P06/sent/",
    "/orders/P06/slipped/",
    "/orders/P06/goods-in/",
    "/orders/P06/lines/new/",
    "/orders/P06/lines/1/",
    "/orders/P06/lines/1/settle/",
    "/suppliers/new/",
    "/intake/components/",
]
ODD = [
    "",
    "-1",
    "9" * 30,
    "1e400",
    "nan",
    "a\0b",
    "x" * 30_000,
    "2027-99-99",
    "9999-12-31",
    "1/0",
    "99999999999 h",
    "<script>",
    "T10",
    "P06/99999999999",
]


@pytest.fixture
def shop_of_all(owner):
    with freeze_time(MOMENT):
        build = BuildFactory(slug="tuppence", letter="T")
        dash = ComponentFactory(build=build, code="T10")
        CoverFactory(under=dash, cover=ComponentFactory(build=build, code="T08"))
        FasteningFactory(component=dash)
        line = OrderLineFactory(order=OrderFactory(code="P06", build=build))
        PromiseFactory(order=line.order)
        ReceiptFactory(line=line, counted_milli=0, accepted_milli=0)
        task = TaskFactory(code="W23", build=build, is_hold=True)
        ReadingFactory(task=task, number=1)
        ReadingFactory(task=task, number=2, kind="number", low="1", high="2")
        FallbackFactory(task=task)
        NeedFactory(task=task, line=line)
        yield owner


@pytest.mark.parametrize("address", ADDRESSES)
def test_nothing_that_is_typed_breaks_a_page(client, shop_of_all, address):
    client.force_login(shop_of_all)
    page = client.get(address).text if "settle" not in address else ""
    names = set(re.findall(r'name="([^"]+)"', page)) - {"csrfmiddlewaretoken", "do"}
    names |= {"quantity", "how", "state", "version", "client_id"}
    for odd in ODD:
        for extra in ({}, {"do": "save"}, {"more": "1"}):
            answer = client.post(address, dict.fromkeys(names, odd) | extra)
            assert answer.status_code in (200, 302, 400, 404, 409, 413, 422), odd


SHOWS_NOTHING = {
    *("worker", "offline", "photo", "drawing-file", "go"),
    *("setup", "sign-in", "sign-in-link"),
}


def test_every_address_is_a_page_with_an_example_or_answers_a_tap_alone(
    client, odile, demo_plan, frozen
):
    client.force_login(odile)
    for path in addresses():
        assert client.get(path).status_code == 200, path
    names = {pattern.name: pattern.pattern.converters for pattern in urls.urlpatterns}
    for name in NO_PAGE - SHOWS_NOTHING:
        example = {"pk": 1, "number": 1}
        named = {part: example.get(part, "x") for part in names[name]}
        assert client.get(reverse(name, kwargs=named)).status_code == 405, name
