#!/usr/bin/env python3
"""The one command of the project."""

import os
import sys

from fabshop import prepare

if __name__ == "__main__":
    prepare.environment()

    from django.core.management import execute_from_command_line

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fabshop.settings")
    execute_from_command_line(sys.argv)
