"""Colour calls: a weld judged by its colour before any brush, or by a person."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.joint.locked import joint_of, write_joint
from fabshop.actions.joint.over import refuse_painted
from fabshop.actions.joint.state import reject, with_twin
from fabshop.actions.log.entry import new_client_id, once
from fabshop.actions.moved import Before
from fabshop.actions.shop import require
from fabshop.actions.typed import one_line
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.reckoning.prep import Judged, judge
from fabshop.records.joint import ColourCall, ColourTable, Joint
from fabshop.records.shop import Person
from fabshop.reference.colour import colour_rows

_WELDED = (words.JointState.WELDED, words.JointState.ACCEPTED)


@once(words.EntryKind.COLOUR, first=joint_of)
def call_colour(
    *,
    by: Person,
    joint: Joint,
    colour: words.Colour | str,
    now: datetime,
    verdict: words.Verdict | str = "",
    reason: str = "",
    third: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Joint:
    """Call a weld's colour; a rejected one goes into rework, with all that follows.

    The metal's table judges; where none does, `verdict` is the person's. Another
    verdict than the table's needs a `reason`, and to accept so is the owner's.
    """
    require(by, "write")
    joint, *twins = with_twin(joint)
    if joint.state not in _WELDED:
        state = words.JointState(joint.state).label
        raise Clash(
            f"{joint} is {state}: there is no weld to call a colour of.",
            code="not-welded",
        )
    refuse_painted(joint)
    seen = _colour(colour)
    judged = judged_colour(joint.metal, seen)
    why = one_line(reason, field="reason", label="Reason", most=150)
    said = _verdict(judged, verdict, why, joint, by)
    told = client_id or new_client_id()
    at = at or now
    call = ColourCall.objects.create(
        joint=joint,
        attempt=joint.reworks,
        colour=seen,
        judged=judged.verdict,
        by_table=_told(judged),
        verdict=said,
        reason=why,
        person=by,
        at=at,
        client_id=told,
    )
    before: Before = {"colour_call": call.pk}
    text = f"colour {seen.label}: {said.label}"
    if said is words.Verdict.REJECT:
        fault = f"colour {seen.label}" + f", {why}" * bool(why)
        reject(joint, twins, before, by=by, at=at, reason=fault, third=third)
        text += f", rework {joint.reworks}"
    write_joint(
        words.EntryKind.COLOUR,
        joint,
        text + f", {why}" * bool(why and said is words.Verdict.ACCEPT),
        by=by,
        now=now,
        at=at,
        client_id=told,
        before=before,
    )
    return joint


def judged_colour(metal: words.Metal | str, colour: words.Colour) -> Judged:
    """What the shop's table says of a colour, else the reference's, else nobody."""
    table = table_of(metal)
    rows = verdicts_of(metal, table)
    if table is not None:
        return judge(colour, rows, table=table.name, source=table.source)
    published = colour_rows().get(words.Metal(metal), ())
    row = next((one for one in published if one.colour is colour), None)
    return judge(
        colour,
        rows,
        table=row.table if row else "",
        source=row.source if row else "",
    )


def verdicts_of(
    metal: words.Metal | str, table: ColourTable | None
) -> dict[words.Colour, words.Verdict]:
    """What each colour of a metal means, by this table or else the published one."""
    if table is None:
        published = colour_rows().get(words.Metal(metal), ())
        return {row.colour: row.verdict for row in published}
    return {
        words.Colour(row.colour): words.Verdict(row.verdict) for row in table.rows.all()
    }


def table_of(metal: words.Metal | str) -> ColourTable | None:
    """The shop's own table for a metal, the latest one."""
    return ColourTable.objects.filter(metal=metal).first()


def _told(judged: Judged) -> str:
    """The table and where it is from, once where the one names the other."""
    if judged.source.startswith(judged.table):
        return judged.source
    return f"{judged.table}: {judged.source}"[:400]


def _verdict(
    judged: Judged,
    verdict: words.Verdict | str,
    why: str,
    joint: Joint,
    by: Person,
) -> words.Verdict:
    if not verdict:
        if judged.verdict is words.Verdict.PERSON:
            raise NeedsAnswer(
                f"No table of this shop judges that colour on {joint.material}. "
                "Accept or reject?",
                field="verdict",
                code="say-verdict",
            )
        return judged.verdict
    if verdict not in (words.Verdict.ACCEPT, words.Verdict.REJECT):
        raise BadInput(
            f"Verdict: “{str(verdict)[:20]}” is neither accept nor reject.",
            field="verdict",
        )
    said = words.Verdict(verdict)
    if judged.verdict not in (words.Verdict.PERSON, said):
        if not why:
            raise BadInput(
                f"{judged.table} says {judged.verdict.label}. Overrule it with a "
                "reason or not at all.",
                field="reason",
            )
        if said is words.Verdict.ACCEPT and not by.is_owner:
            raise NotAllowed("Only the owner accepts what the table rejects.")
    return said


def _colour(value: words.Colour | str) -> words.Colour:
    try:
        return words.Colour(value)
    except ValueError:
        known = ", ".join(word.value for word in words.Colour)
        raise BadInput(
            f"Colour: “{str(value)[:20]}” is none of {known}.", field="colour"
        ) from None
