from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from fabshop.records.build import Build
from fabshop.records.shop import Shop


@pytest.mark.django_db
def test_load_demo_says_what_it_loaded() -> None:
    out = StringIO()
    call_command("load_demo", "--as-of", "2027-09-03", stdout=out)
    assert out.getvalue() == (
        "Back of the Bakery is loaded: 3 builds, 61 components, 88 tasks, 25 orders.\n"
    )
    assert str(Build.objects.get(slug="tuppence").event_on) == "2027-09-24"
    assert Shop.objects.get().is_demo


def test_load_demo_refuses_a_shop_in_use_in_one_sentence(demo: Shop) -> None:
    with pytest.raises(CommandError, match="This shop holds something already: 1 shop"):
        call_command("load_demo")


@pytest.mark.django_db
def test_load_demo_wants_a_day_that_is_one() -> None:
    with pytest.raises(CommandError, match="invalid fromisoformat value: 'tomorrow'"):
        call_command("load_demo", "--as-of", "tomorrow")
    assert not Shop.objects.exists()
