"""Factories of the log, its photos, drafts and kept answers."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import log
from tests.factories.moment import MOMENT, client_id
from tests.factories.shop import PersonFactory
from tests.factories.task import TaskFactory


class LogEntryFactory(DjangoModelFactory[log.LogEntry]):
    class Meta:
        model = log.LogEntry

    client_id = client_id()
    kind = words.EntryKind.NOTE
    person = factory.SubFactory(PersonFactory)
    text = "Cold in here."
    at = MOMENT
    server_at = MOMENT


class TimerFactory(DjangoModelFactory[log.Timer]):
    class Meta:
        model = log.Timer

    person = factory.SubFactory(PersonFactory)
    start = factory.SubFactory(
        LogEntryFactory,
        kind=words.EntryKind.START,
        person=factory.SelfAttribute("..person"),
        task=factory.SubFactory(TaskFactory),
    )


class PhotoFactory(DjangoModelFactory[log.Photo]):
    class Meta:
        model = log.Photo

    digest = factory.Sequence(lambda n: f"{n:064x}")
    file = factory.LazyAttribute(lambda photo: f"photos/{photo.digest}.jpg")
    thumb = factory.LazyAttribute(lambda photo: f"thumbs/{photo.digest}.jpg")
    width = 1200
    height = 900
    made_at = MOMENT


class PhotoUseFactory(DjangoModelFactory[log.PhotoUse]):
    class Meta:
        model = log.PhotoUse

    photo = factory.SubFactory(PhotoFactory)
    entry = factory.SubFactory(LogEntryFactory)
    person = factory.SelfAttribute("entry.person")
    at = MOMENT
    client_id = client_id()


class DraftFactory(DjangoModelFactory[log.Draft]):
    class Meta:
        model = log.Draft

    person = factory.SubFactory(PersonFactory)
    path = "/components/C01/"
    payload = factory.LazyFunction(lambda: {"name": "Lid"})
    message = "A part cannot lie under itself."
    at = MOMENT


class KeptAnswerFactory(DjangoModelFactory[log.KeptAnswer]):
    class Meta:
        model = log.KeptAnswer

    person = factory.SubFactory(PersonFactory)
    key = factory.Sequence(lambda n: f"key-{n}")
    method = "POST"
    path = "/api/notes/"
    body_hash = "0" * 64
    status = 201
    content_type = "application/json"
    body = "{}"
    at = MOMENT
