"""Words for tube joints, their preparation and what is said of a weld."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


class JointState(Word):
    """How far a joint is; only the owner makes a welded one accepted."""

    PLANNED = "planned"
    COPED = "coped"
    DRY_FIT = "dry-fit"
    TACKED = "tacked"
    WELDED = "welded"
    ACCEPTED = "accepted"
    REWORK = "rework"


class Metal(Word):
    """The family a joint is prepared as; each has its own checklist."""

    TITANIUM = "titanium"
    STAINLESS = "stainless"
    CHROMOLY = "chromoly"
    ALUMINIUM = "aluminium"


class PrepStage(Word):
    """What a step must come before; `look` is before the weld is accepted."""

    TACK = "tack"
    WELD = "weld"
    LOOK = "look"


class PrepKind(Word):
    """How a step is answered: a tick, a start mark with minutes, or a figure."""

    TICK = "tick"
    MINUTES = "minutes"
    NUMBER = "number"


class PrepDoes(Word):
    """What else a step means: it cleans the joint, or it fills it with gas."""

    NOTHING = ""
    CLEANS = "cleans"
    PURGES = "purges"


class Colour(Word):
    """The colour of a weld as it is, before any brush has touched it."""

    SILVER = "silver"
    STRAW = "straw"
    GOLD = "gold"
    BROWN = "brown"
    PURPLE = "purple"
    BLUE = "blue"
    GREEN = "green"
    PINK = "pink"
    GREY = "grey"
    WHITE = "white"
    BLACK = "black"
    EDGES = "lines-beside"


class Verdict(Word):
    """What a colour means for a weld; `person` where no table judges it."""

    ACCEPT = "accept"
    REJECT = "reject"
    PERSON = "person"


class JointCloses(Word):
    """What a task does to a joint that it comes over."""

    COVERS = "covers"
    PAINTS = "paints"


labelled(
    (PrepStage.TACK, "before the tack"),
    (PrepStage.WELD, "before the weld"),
    (PrepStage.LOOK, "before it is accepted"),
    (PrepKind.MINUTES, "start mark"),
    (PrepKind.NUMBER, "figure"),
    (PrepDoes.CLEANS, "cleans"),
    (Colour.STRAW, "straw, light"),
    (Colour.GOLD, "gold, dark straw"),
    (Colour.BROWN, "brown, bronze"),
    (Colour.PURPLE, "purple, violet"),
    (Colour.PINK, "dull pink"),
    (Colour.GREY, "grey"),
    (Colour.WHITE, "white, flaky"),
    (Colour.BLACK, "black, sooty"),
    (Colour.EDGES, "silver, thin blue lines beside it"),
    (Verdict.PERSON, "for a person to say"),
)

stamped(
    (JointState.PLANNED, "dashed"),
    (JointState.COPED, "dashed"),
    (JointState.DRY_FIT, "dashed"),
    (JointState.TACKED, "double"),
    (JointState.WELDED, "double"),
    (JointState.REWORK, "hatched"),
    (Verdict.REJECT, "hatched"),
    (Verdict.PERSON, "dashed"),
)
