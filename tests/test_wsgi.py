"""Any server that speaks WSGI can open the shop, and carries no heavy library."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

HOME = Path(__file__).resolve().parent.parent
ASK = """
import sys
from wsgiref.util import setup_testing_defaults
from fabshop.wsgi import application
request = {"PATH_INFO": "/no/such/page/"}
setup_testing_defaults(request)
list(application(request, lambda status, headers: print(status)))
print(sorted({"ortools", "weasyprint", "pandas", "numpy"} & set(sys.modules)))
"""


def test_it_answers_without_the_solver_or_the_pdf_maker(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        cwd=HOME,
        env={
            **{k: v for k, v in os.environ.items() if not k.startswith("DJANGO_")},
            "FABSHOP_DATA": str(tmp_path),
        },
        capture_output=True,
        text=True,
    )
    assert done.stdout.splitlines() == ["404 Not Found", "[]"], done.stderr
