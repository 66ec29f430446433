"""A factory for every record, with the smallest truth that the database accepts."""

from tests.factories.build import (
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    FasteningFactory,
)
from tests.factories.log import (
    DraftFactory,
    KeptAnswerFactory,
    LogEntryFactory,
    PhotoFactory,
    PhotoUseFactory,
    TimerFactory,
)
from tests.factories.moment import MOMENT, TODAY
from tests.factories.order import (
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
    SendingFactory,
    SettlementFactory,
    SupplierFactory,
)
from tests.factories.plan import PlanFactory, PlanStepFactory, StepTickFactory
from tests.factories.shop import (
    DayFactory,
    MachineFactory,
    PersonFactory,
    ShopFactory,
    SignInLinkFactory,
    WindowFactory,
)
from tests.factories.task import (
    AfterFactory,
    EstimateFactory,
    FallbackFactory,
    HoldSigningFactory,
    NeedFactory,
    ReadingFactory,
    ReadingTakenFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
)

__all__ = [
    "AfterFactory",
    "BuildFactory",
    "ComponentFactory",
    "CoverFactory",
    "DayFactory",
    "DraftFactory",
    "EstimateFactory",
    "FallbackFactory",
    "FasteningFactory",
    "HoldSigningFactory",
    "KeptAnswerFactory",
    "LogEntryFactory",
    "MOMENT",
    "MachineFactory",
    "NeedFactory",
    "OrderFactory",
    "OrderLineFactory",
    "PersonFactory",
    "PhotoFactory",
    "PhotoUseFactory",
    "PlanFactory",
    "PlanStepFactory",
    "PromiseFactory",
    "ReadingFactory",
    "ReadingTakenFactory",
    "ReceiptFactory",
    "SendingFactory",
    "SettlementFactory",
    "ShopFactory",
    "SignInLinkFactory",
    "SiteFactory",
    "StageFactory",
    "StepTickFactory",
    "SupplierFactory",
    "TODAY",
    "TaskFactory",
    "TimerFactory",
    "WindowFactory",
]
