"""A factory for every record, with the smallest truth that the database accepts."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from string import ascii_uppercase

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import build, log, order, plan, shop, task

# The demo's NOW: a Friday morning at 06:45 in London, which is on summer time.
MOMENT = datetime(2027, 9, 3, 5, 45, tzinfo=UTC)
TODAY = date(2027, 9, 3)


def _letters(number: int) -> str:
    """One to four letters, never the same twice: A ... Z, BA, BB ..."""
    text = ""
    while number or not text:
        number, place = divmod(number, 26)
        text = ascii_uppercase[place] + text
    return text


def _client_id() -> factory.Sequence:
    return factory.Sequence(lambda n: f"phone-{n}")


class ShopFactory(DjangoModelFactory[shop.Shop]):
    class Meta:
        model = shop.Shop
        django_get_or_create = ("id",)

    id = 1
    name = "The half garage"
    zone = "Europe/London"
    made_at = MOMENT


class PersonFactory(DjangoModelFactory[shop.Person]):
    class Meta:
        model = shop.Person
        skip_postgeneration_save = True

    name = factory.Sequence(lambda n: f"Person {n}")
    role = words.Role.OWNER
    password = factory.django.Password("a long enough password")


class SignInLinkFactory(DjangoModelFactory[shop.SignInLink]):
    class Meta:
        model = shop.SignInLink

    person = factory.SubFactory(PersonFactory)
    token_hash = factory.Sequence(lambda n: f"{n:064x}")
    made_at = MOMENT
    expires_at = MOMENT + timedelta(hours=24)


class WindowFactory(DjangoModelFactory[shop.Window]):
    class Meta:
        model = shop.Window

    person = factory.SubFactory(PersonFactory)
    on = TODAY
    from_minute = 19 * 60
    to_minute = 22 * 60


class DayFactory(DjangoModelFactory[shop.Day]):
    class Meta:
        model = shop.Day

    on = factory.Sequence(lambda n: TODAY + timedelta(days=n))


class MachineFactory(DjangoModelFactory[shop.Machine]):
    class Meta:
        model = shop.Machine

    code = factory.Sequence(lambda n: f"machine-{n}")
    name = factory.Sequence(lambda n: f"Machine {n}")


class BuildFactory(DjangoModelFactory[build.Build]):
    class Meta:
        model = build.Build

    slug = factory.Sequence(lambda n: f"build-{n}")
    letter = factory.Sequence(_letters)
    name = factory.Sequence(lambda n: f"Build {n}")
    event_on = date(2027, 9, 24)
    pack_out_at = datetime(2027, 9, 22, 11, 0, tzinfo=UTC)
    made_at = MOMENT


class ComponentFactory(DjangoModelFactory[build.Component]):
    class Meta:
        model = build.Component

    build = factory.SubFactory(BuildFactory)
    code = factory.Sequence(lambda n: f"C{n:02}")
    name = factory.Sequence(lambda n: f"Component {n}")
    off_minutes = 5
    on_minutes = 7


class FasteningFactory(DjangoModelFactory[build.Fastening]):
    class Meta:
        model = build.Fastening

    component = factory.SubFactory(ComponentFactory)
    count = 4
    size = "M3×8 BH"


class CoverFactory(DjangoModelFactory[build.Cover]):
    class Meta:
        model = build.Cover

    under = factory.SubFactory(ComponentFactory)
    cover = factory.SubFactory(
        ComponentFactory, build=factory.SelfAttribute("..under.build")
    )


class SupplierFactory(DjangoModelFactory[order.Supplier]):
    class Meta:
        model = order.Supplier

    code = factory.Sequence(lambda n: f"supplier-{n}")
    name = factory.Sequence(lambda n: f"Supplier {n}")


class OrderFactory(DjangoModelFactory[order.Order]):
    class Meta:
        model = order.Order

    code = factory.Sequence(lambda n: f"P{n:02}")
    supplier = factory.SubFactory(SupplierFactory)
    title = factory.Sequence(lambda n: f"Order {n}")
    kind = words.OrderKind.BOUGHT
    move = words.Move.FIRM
    sent_on = date(2027, 8, 30)
    lead_early_days = 3
    lead_likely_days = 7
    lead_late_days = 10
    made_at = MOMENT


class OrderLineFactory(DjangoModelFactory[order.OrderLine]):
    class Meta:
        model = order.OrderLine

    order = factory.SubFactory(OrderFactory)
    number = 1
    title = factory.Sequence(lambda n: f"Line {n}")
    quantity_milli = 1000


class SendingFactory(DjangoModelFactory[order.Sending]):
    class Meta:
        model = order.Sending

    order = factory.SubFactory(OrderFactory)
    sent_on = date(2027, 8, 30)
    at = MOMENT
    client_id = _client_id()


class PromiseFactory(DjangoModelFactory[order.Promise]):
    class Meta:
        model = order.Promise

    order = factory.SubFactory(OrderFactory)
    eta_on = date(2027, 9, 9)
    at = MOMENT
    client_id = _client_id()


class ReceiptFactory(DjangoModelFactory[order.Receipt]):
    class Meta:
        model = order.Receipt

    line = factory.SubFactory(OrderLineFactory)
    kind = words.ReceiptKind.COUNTED
    counted_milli = 1000
    accepted_milli = 1000
    parcel = factory.Sequence(lambda n: f"parcel-{n}")
    at = MOMENT
    client_id = _client_id()


class SettlementFactory(DjangoModelFactory[order.Settlement]):
    class Meta:
        model = order.Settlement

    line = factory.SubFactory(OrderLineFactory)
    how = words.Settled.REFUNDED
    quantity_milli = 1000
    at = MOMENT
    client_id = _client_id()


class TaskFactory(DjangoModelFactory[task.Task]):
    class Meta:
        model = task.Task

    code = factory.Sequence(lambda n: f"W{n:02}")
    build = factory.SubFactory(BuildFactory)
    title = factory.Sequence(lambda n: f"Task {n}")


class StageFactory(DjangoModelFactory[task.Stage]):
    class Meta:
        model = task.Stage

    task = factory.SubFactory(TaskFactory)
    number = 1
    kind = words.StageKind.HANDS_ON
    minutes = 60


class EstimateFactory(DjangoModelFactory[task.Estimate]):
    class Meta:
        model = task.Estimate

    task = factory.SubFactory(TaskFactory)
    minutes = 60
    made_at = MOMENT


class AfterFactory(DjangoModelFactory[task.After]):
    class Meta:
        model = task.After

    task = factory.SubFactory(TaskFactory)
    before = factory.SubFactory(
        TaskFactory, build=factory.SelfAttribute("..task.build")
    )


class NeedFactory(DjangoModelFactory[task.Need]):
    class Meta:
        model = task.Need

    task = factory.SubFactory(TaskFactory)
    kind = words.NeedKind.ORDER
    line = factory.SubFactory(OrderLineFactory)


class SiteFactory(DjangoModelFactory[task.Site]):
    class Meta:
        model = task.Site

    task = factory.SubFactory(TaskFactory)
    component = factory.SubFactory(
        ComponentFactory, build=factory.SelfAttribute("..task.build")
    )
    kind = words.SiteKind.FITS


class FallbackFactory(DjangoModelFactory[task.Fallback]):
    class Meta:
        model = task.Fallback

    task = factory.SubFactory(TaskFactory)
    title = "Leave the old one on"
    minutes = 30


class ReadingFactory(DjangoModelFactory[task.Reading]):
    class Meta:
        model = task.Reading

    task = factory.SubFactory(TaskFactory, is_hold=True)
    number = 1
    label = "Motor turns"
    kind = words.ReadingKind.TICK


class ReadingTakenFactory(DjangoModelFactory[task.ReadingTaken]):
    class Meta:
        model = task.ReadingTaken

    reading = factory.SubFactory(ReadingFactory)
    value = 1
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = _client_id()


class HoldSigningFactory(DjangoModelFactory[task.HoldSigning]):
    class Meta:
        model = task.HoldSigning

    task = factory.SubFactory(TaskFactory, is_hold=True)
    verdict = words.HoldVerdict.SIGNED
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = _client_id()


class LogEntryFactory(DjangoModelFactory[log.LogEntry]):
    class Meta:
        model = log.LogEntry

    client_id = _client_id()
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
    client_id = _client_id()


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


class PlanFactory(DjangoModelFactory[plan.Plan]):
    class Meta:
        model = plan.Plan

    build = factory.SubFactory(BuildFactory)
    asked = factory.LazyFunction(lambda: {"max_sessions": 1})
    question = factory.LazyFunction(lambda: {"windows": [], "tasks": []})
    answer = factory.LazyFunction(lambda: {"sessions": []})
    digest = "0" * 64
    made_by = factory.SubFactory(PersonFactory)
    made_at = MOMENT


class PlanStepFactory(DjangoModelFactory[plan.PlanStep]):
    class Meta:
        model = plan.PlanStep

    plan = factory.SubFactory(PlanFactory)
    number = factory.Sequence(lambda n: n % 30_000 + 1)
    does = words.StepDo.REMOVE
    component = factory.SubFactory(
        ComponentFactory, build=factory.SelfAttribute("..plan.build")
    )
    minutes = 5
    starts_at = MOMENT
    ends_at = MOMENT + timedelta(minutes=5)


class StepTickFactory(DjangoModelFactory[plan.StepTick]):
    class Meta:
        model = plan.StepTick

    step = factory.SubFactory(PlanStepFactory)
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    server_at = MOMENT
    client_id = _client_id()
