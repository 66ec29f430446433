"""Getting one's own shop in by CSV tables: tried first, written when accepted."""

from fabshop.actions.intake.kind import Kind
from fabshop.actions.intake.table import BadCell, as_text
from fabshop.actions.intake.take import KINDS, Taken, kind_of, take_table

__all__ = ["KINDS", "BadCell", "Kind", "Taken", "as_text", "kind_of", "take_table"]
