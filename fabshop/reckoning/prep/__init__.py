"""What is open on a joint's checklist, how its weld is judged, and where it may go."""

from fabshop.reckoning.prep.colour import Judged, judge
from fabshop.reckoning.prep.facts import StepFact, TickFact
from fabshop.reckoning.prep.gas import GasFact, GasStand, gas_of_set
from fabshop.reckoning.prep.run import Prep, StepStand, prep_of
from fabshop.reckoning.prep.state import must_be_ready, ways_on

__all__ = [
    "GasFact",
    "GasStand",
    "Judged",
    "Prep",
    "StepFact",
    "StepStand",
    "TickFact",
    "gas_of_set",
    "judge",
    "must_be_ready",
    "prep_of",
    "ways_on",
]
