"""From the shop's facts to one schedule question, and what is told beside it."""

from fabshop.reckoning.planning.beside import told_beside
from fabshop.reckoning.planning.chain import chain_of, followers_of
from fabshop.reckoning.planning.chosen import as_chosen, with_ways
from fabshop.reckoning.planning.question import CURED, ME, Asked, schedule_question
from fabshop.reckoning.planning.session import Block, Session, Teardown
from fabshop.reckoning.planning.way import FINAL, LEFT, PLAN_B, base_of, plan_b_id

__all__ = [
    "CURED",
    "FINAL",
    "LEFT",
    "ME",
    "PLAN_B",
    "Asked",
    "Block",
    "Session",
    "Teardown",
    "as_chosen",
    "base_of",
    "chain_of",
    "followers_of",
    "plan_b_id",
    "schedule_question",
    "told_beside",
    "with_ways",
]
