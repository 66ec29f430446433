"""Settings, driven by the environment; a plain start needs none of it."""

from __future__ import annotations

import os
import secrets
import sys
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

import dj_database_url

VERSION = "1.0"
BASE_DIR = Path(__file__).resolve().parent.parent


def env_bool(name: str, default: bool) -> bool:
    value = os.environ.get(name)
    return default if value is None else value.lower() in ("1", "true", "yes", "on")


def env_list(name: str, default: str) -> list[str]:
    return [part for part in os.environ.get(name, default).split(",") if part]


def env_moment(name: str) -> datetime | None:
    value = os.environ.get(name)
    return datetime.fromisoformat(value) if value else None


def kept_secret(file: Path) -> str:
    """The secret in `file`, made once; only this user may read it."""
    if not file.exists():
        # Written whole before it gets its name: of two processes that start at
        # once, both go on with the one that came first.
        mine = file.with_name(f"{file.name}-{os.getpid()}")
        mine.touch(mode=0o600)
        mine.write_text(secrets.token_urlsafe(50))
        with suppress(FileExistsError):
            os.link(mine, file)
        mine.unlink()
    return file.read_text()


DATA_DIR = Path(os.environ.get("FABSHOP_DATA", BASE_DIR / ".data")).expanduser()
DATA_DIR.mkdir(parents=True, exist_ok=True)
DEBUG = env_bool("FABSHOP_DEBUG", False)
SECRET_KEY = os.environ.get("FABSHOP_SECRET_KEY") or kept_secret(DATA_DIR / "secret")
ALLOWED_HOSTS = env_list("FABSHOP_HOSTS", "*")

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "django_filters",
    "django_htmx",
    "axes",
    "fabshop.records",
    "fabshop.web",
    "fabshop.api",
    "fabshop.paper",
    "fabshop.console",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "fabshop.web.outbox.Outbox",
    "axes.middleware.AxesMiddleware",
]
ROOT_URLCONF = "fabshop.urls"
WSGI_APPLICATION = "fabshop.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
]

DATABASES = {
    "default": dj_database_url.config(
        default=f"sqlite:///{DATA_DIR / 'shop.sqlite3'}",
        conn_max_age=60,
        conn_health_checks=True,
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # Tests with a live server need a file: threads on one in-memory database lock
    # each other's tables instead of waiting. Two runs at once have a file each.
    TEST_FILE = DATA_DIR / f"test-{os.getpid()}.sqlite3"
    DATABASES["default"]["TEST"] = {"NAME": str(TEST_FILE)}
    DATABASES["default"]["OPTIONS"] = {
        # A write takes its place in the queue at once instead of failing later.
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        # FULL: what was answered is on the disk, through a power cut too; the phone
        # forgets it then.
        "init_command": (
            "PRAGMA journal_mode=WAL;PRAGMA synchronous=FULL;PRAGMA foreign_keys=ON;"
        ),
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "records.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "/sign-in/"
LOGIN_REDIRECT_URL = "/"
SESSION_COOKIE_AGE = 60 * 60 * 24 * 90
SESSION_COOKIE_NAME = "fabshop"
CSRF_COOKIE_NAME = "fabshop_csrf"
CSRF_FAILURE_VIEW = "fabshop.web.sign_in.form_gone_stale"
# Eight wrong passwords for a name from one address, then a quarter of an hour.
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_FORM_FIELD = "username"  # as `authenticate` is given it
AXES_LOCKOUT_TEMPLATE = "web/shop/locked_out.html"
AXES_RESET_ON_SUCCESS = True
AXES_VERBOSE = False

USE_TZ = True
TIME_ZONE = "UTC"  # the shop's own zone is kept in its record
# Set, the clock of every face stands still there (for a demo, or a browser's test).
NOW = env_moment("FABSHOP_NOW")
LANGUAGE_CODE = "en-gb"
USE_I18N = False

STATIC_URL = "/static/"
STATIC_ROOT = DATA_DIR / "static"
STATIC_ROOT.mkdir(exist_ok=True)
MEDIA_ROOT = DATA_DIR / "media"  # served by a page to people who are signed in
# `serve` collects, hashes and compresses; tests and other commands read in place.
HASHED_STATIC = env_bool("FABSHOP_HASHED_STATIC", sys.argv[1:2] == ["serve"])
WHITENOISE_USE_FINDERS = not HASHED_STATIC
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": (
            "whitenoise.storage.CompressedManifestStaticFilesStorage"
            if HASHED_STATIC
            else "django.contrib.staticfiles.storage.StaticFilesStorage"
        )
    },
}
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 20_000

# On a public address: FABSHOP_HTTPS=1 behind a proxy that speaks TLS and sends
# X-Forwarded-Proto and X-Forwarded-For; FABSHOP_PROXY is its address, seen from here.
PROXY = os.environ.get("FABSHOP_PROXY", "127.0.0.1")
HTTPS = env_bool("FABSHOP_HTTPS", False)
if HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_SSL_REDIRECT = True
    SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True
    CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS if host != "*"]
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        # The token first: its challenge makes a stranger's answer 401, not 403.
        "rest_framework.authentication.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["rest_framework.parsers.JSONParser"],
    "DEFAULT_PAGINATION_CLASS": "rest_framework.pagination.PageNumberPagination",
    "PAGE_SIZE": 50,
    "DEFAULT_FILTER_BACKENDS": ["django_filters.rest_framework.DjangoFilterBackend"],
    "EXCEPTION_HANDLER": "fabshop.api.problem.problem_handler",
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "fabshop",
    "DESCRIPTION": "The shop log, incoming parts, readiness and the teardown plan.",
    "VERSION": VERSION,
    "SERVE_INCLUDE_SCHEMA": False,
    "SERVE_PERMISSIONS": ["rest_framework.permissions.IsAuthenticated"],
    "COMPONENT_SPLIT_REQUEST": True,
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "fabshop.api.schema.with_problems",
    ],
    # Several fields are called kind, why or state: each set of words has its name.
    "ENUM_NAME_OVERRIDES": {
        f"{name}Word": f"fabshop.words.{name}.choices"
        for name in (
            "BuildState",
            "ComponentState",
            "TaskState",
            "PlanState",
            "StageKind",
            "SiteKind",
            "NeedKind",
            "ReadingKind",
            "OrderKind",
            "ReceiptKind",
            "Settled",
            "CheckDecision",
            "EntryKind",
            "Why",
            "WrongWhy",
            "StuckOn",
            "JointState",
            "PrepKind",
            "ShelfUnit",
            "Unit",
            "TrayKind",
            "PrepStage",
            "Colour",
            "Verdict",
        )
    },
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # A refusal is an answer, not a fault of the server.
    "loggers": {"django.request": {"level": "ERROR"}},
}
