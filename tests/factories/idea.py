"""Lines on the Chalk wall."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop.records.idea import Idea
from tests.factories.moment import MOMENT
from tests.factories.shop import PersonFactory


class IdeaFactory(DjangoModelFactory[Idea]):
    class Meta:
        model = Idea

    text = "Brass lamp rings"
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = factory.Sequence(lambda n: f"idea-{n}")
