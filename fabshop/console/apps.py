"""The commands of `manage.py`."""

from django.apps import AppConfig


class ConsoleConfig(AppConfig):
    name = "fabshop.console"
    label = "console"
