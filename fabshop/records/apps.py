"""The one Django app that holds every record of the shop."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    name = "fabshop.records"
    label = "records"
    verbose_name = "Shop records"
    default_auto_field = "django.db.models.BigAutoField"
