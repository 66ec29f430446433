"""The sheets that hang over the bench."""

from django.apps import AppConfig


class PaperConfig(AppConfig):
    name = "fabshop.paper"
    label = "paper"
