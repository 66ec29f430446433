"""Words for drawings, hands and what is measured against a drawing."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


class LayerUse(Word):
    """What the lines of a layer are for."""

    CUT = "cut"
    BEND = "bend"
    MARK = "mark"
    NONE = "none"


class Mirror(Word):
    """How the drawings of a left and a right go together."""

    SAME = "same"
    MIRRORED = "mirrored"
    BOTH = "its-own-mirror"
    DIFFERENT = "different"


class Tolerance(Word):
    """By what a measured dimension is judged."""

    FINE = "iso-2768-f"
    MEDIUM = "iso-2768-m"
    COARSE = "iso-2768-c"
    VERY_COARSE = "iso-2768-v"
    THERMAL_1 = "iso-9013-1"
    THERMAL_2 = "iso-9013-2"
    LIMITS = "limits"


class CheckVerdict(Word):
    """What a reading comes to; reckoned, a person decides."""

    WITHIN = "within"
    OVER = "too-big"
    UNDER = "too-small"


class CheckDecision(Word):
    """What a person made of a reading."""

    ACCEPTED = "accepted"
    PENALTY = "penalty-shelf"
    LIVE_WITH = "live-with-it"


labelled(
    (LayerUse.MARK, "engraving"),
    (LayerUse.NONE, "not cut"),
    (Mirror.BOTH, "its own mirror image"),
    (Tolerance.FINE, "ISO 2768-1 f, fine"),
    (Tolerance.MEDIUM, "ISO 2768-1 m, medium"),
    (Tolerance.COARSE, "ISO 2768-1 c, coarse"),
    (Tolerance.VERY_COARSE, "ISO 2768-1 v, very coarse"),
    (Tolerance.THERMAL_1, "ISO 9013 class 1"),
    (Tolerance.THERMAL_2, "ISO 9013 class 2"),
    (Tolerance.LIMITS, "limits of my own"),
)

stamped(
    (Mirror.SAME, "double"),
    (Mirror.DIFFERENT, "double"),
    (CheckVerdict.OVER, "double"),
    (CheckVerdict.UNDER, "double"),
    (CheckDecision.PENALTY, "hatched"),
    (CheckDecision.LIVE_WITH, "dashed"),
)
