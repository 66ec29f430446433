"""The demo shop: its tables in fixtures/demo, told to the actions by noun."""

from fabshop.console.demo.load import load_demo

__all__ = ["load_demo"]
