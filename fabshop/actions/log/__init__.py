"""The shop log: what people tap and type while they work."""

from fabshop.actions.log.entry import itself, once, write_entry

__all__ = ["itself", "once", "write_entry"]
