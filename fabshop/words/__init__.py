"""Every fixed word of the shop, with the sentence a page shows for it."""

from fabshop.words.build import (
    BuildState,
    ComponentState,
    Locker,
    MassBasis,
    Side,
)
from fabshop.words.drawing import (
    CheckDecision,
    CheckVerdict,
    LayerUse,
    Mirror,
    Tolerance,
)
from fabshop.words.frame import EndKind
from fabshop.words.joint import (
    Colour,
    JointCloses,
    JointState,
    Metal,
    PrepDoes,
    PrepKind,
    PrepStage,
    Verdict,
)
from fabshop.words.log import (
    EntryKind,
    StuckOn,
)
from fabshop.words.order import (
    Hand,
    Move,
    OrderKind,
    OrderStand,
    ReceiptKind,
    Settled,
    Unit,
    WrongWhy,
)
from fabshop.words.overnight import RunVerdict
from fabshop.words.plan import (
    PlanState,
    StepDo,
)
from fabshop.words.shelf import Hazard, Keeps, MoveKind, ShelfUnit, TrayKind
from fabshop.words.shop import Role
from fabshop.words.stock import CutAlong, Grain, PieceForm
from fabshop.words.task import (
    HoldVerdict,
    NeedKind,
    ReadingKind,
    SiteKind,
    StageKind,
    TaskState,
    Why,
)
from fabshop.words.word import Word

__all__ = [
    "BuildState",
    "CheckDecision",
    "CheckVerdict",
    "Colour",
    "ComponentState",
    "CutAlong",
    "EndKind",
    "EntryKind",
    "Grain",
    "Hand",
    "Hazard",
    "HoldVerdict",
    "JointCloses",
    "JointState",
    "Keeps",
    "LayerUse",
    "Locker",
    "MassBasis",
    "Metal",
    "Mirror",
    "Move",
    "MoveKind",
    "NeedKind",
    "OrderKind",
    "OrderStand",
    "PieceForm",
    "PlanState",
    "PrepDoes",
    "PrepKind",
    "PrepStage",
    "ReadingKind",
    "ReceiptKind",
    "Role",
    "Settled",
    "ShelfUnit",
    "Side",
    "RunVerdict",
    "SiteKind",
    "StageKind",
    "StepDo",
    "StuckOn",
    "TaskState",
    "TrayKind",
    "Tolerance",
    "Unit",
    "Verdict",
    "Why",
    "Word",
    "WrongWhy",
]
