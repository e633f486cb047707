"""All settings, from the environment alone; with nothing set it runs embedded on one SQLite file."""

from pathlib import Path

import environ
from csp.constants import NONE, SELF

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.Env()

# Where the database, the printed papers and the demo's own key live.
VAR_DIR = Path(env("FABSHOP_VAR", default=str(BASE_DIR / "var")))
VAR_DIR.mkdir(parents=True, exist_ok=True)

DEBUG = env.bool("DEBUG", default=False)


def _secret_key() -> str:
    """Return the key from the environment, else one made once and kept outside the tree."""
    given: str = env("SECRET_KEY", default="")
    if given:
        return given
    kept = VAR_DIR / "secret_key"
    if not kept.exists():
        from django.core.management.utils import get_random_secret_key  # noqa: PLC0415  only on the first run

        kept.touch(mode=0o600)
        kept.write_text(get_random_secret_key())
    return kept.read_text().strip()


SECRET_KEY = _secret_key()
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=["127.0.0.1", "localhost", "[::1]", "testserver"])
CSRF_TRUSTED_ORIGINS = env.list("CSRF_TRUSTED_ORIGINS", default=[])

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django_htmx",
    "rest_framework",
    "rest_framework.authtoken",
    "django_filters",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "axes",
    "csp",
    "spools",
    "cutlists",
    "fabshop",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "fabshop.access.AccessMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "spools.pages.errors.ShopErrorMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "fabshop.urls"
WSGI_APPLICATION = "fabshop.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "fabshop.navigation.navigation",
            ],
            "builtins": ["spools.templatetags.shop"],
        },
    }
]

DATABASES = {"default": env.db("DATABASE_URL", default=f"sqlite:///{VAR_DIR / 'shop.sqlite3'}")}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # IMMEDIATE: a read-then-write transaction never fails with "locked"; FULL: a power cut loses nothing acknowledged.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
    }
else:
    DATABASES["default"]["CONN_MAX_AGE"] = env.int("CONN_MAX_AGE", default=600)
    DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "spools.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",  # first: it counts wrong tries, those of the four digits too
    "django.contrib.auth.backends.ModelBackend",
    "spools.sign_on.FourDigits",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "login"
SESSION_COOKIE_AGE = 14 * 24 * 3600  # a field phone keeps its sign-in over a two-week walk

# A shop shares one address, so the lock is on name and address together.
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = 0.25
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "registration/locked.html"

LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"  # stored in UTC; each shop shows its own zone
USE_I18N = True
USE_TZ = True
LOCALE_PATHS = [BASE_DIR / "locale"]

STATIC_URL = "static/"
STATIC_ROOT = Path(env("STATIC_ROOT", default=str(VAR_DIR / "static")))
STATIC_ROOT.mkdir(parents=True, exist_ok=True)
# Embedded there is no collectstatic step, so files are served from where they lie; grown, hashed names.
WHITENOISE_USE_FINDERS = not env.bool("HASHED_STATIC", default=False)
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
        if env.bool("HASHED_STATIC", default=False)
        else "django.contrib.staticfiles.storage.StaticFilesStorage"
    },
}
MEDIA_ROOT = Path(env("MEDIA_ROOT", default=str(VAR_DIR / "media")))
# What a phone opens when it scans a ticket.
PUBLIC_ADDRESS = env("PUBLIC_ADDRESS", default="http://127.0.0.1:8000").rstrip("/")
PAPERS_DIR = Path(env("PAPERS_DIR", default=str(VAR_DIR / "papers")))

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "script-src": [SELF, "'wasm-unsafe-eval'"],
        "img-src": [SELF, "data:", "blob:"],
        "object-src": [NONE],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}
SECURE_CONTENT_TYPE_NOSNIFF = True
BEHIND_TLS = env.bool("BEHIND_TLS", default=False)
SESSION_COOKIE_SECURE = BEHIND_TLS
CSRF_COOKIE_SECURE = BEHIND_TLS
SECURE_SSL_REDIRECT = BEHIND_TLS
SECURE_HSTS_SECONDS = 31536000 if BEHIND_TLS else 0
# Whether neighbors under the same domain speak TLS is not ours to promise.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]
if BEHIND_TLS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "rest_framework.authentication.TokenAuthentication",  # first, so that the unsigned get 401
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["spools.api.permissions.OfAShop"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "DEFAULT_FILTER_BACKENDS": ["django_filters.rest_framework.DjangoFilterBackend"],
    "EXCEPTION_HANDLER": "spools.api.errors.answer",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "fabshop",
    "DESCRIPTION": "From odd-angle readings to delivered spools.",
    "VERSION": "1",
    "SERVE_INCLUDE_SCHEMA": False,
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
}

# With no broker set, tasks run on a worker thread inside the server's own process.
REDIS_URL = env("REDIS_URL", default="")
CELERY_BROKER_URL = REDIS_URL or "memory://localhost/"
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_TASK_PUBLISH_RETRY_POLICY = {"max_retries": 0}
# Without these a page that asks for papers would wait six seconds for a Redis that is down, thirty for a silent one.
AT_ONCE = {"socket_connect_timeout": 0.3, "socket_timeout": 0.5, "max_retries": 0}
CELERY_BROKER_TRANSPORT_OPTIONS = AT_ONCE if REDIS_URL else {}
# Workers wait for a Redis that is down as long as it takes.
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
# How long a dead worker holds its packet, and how often the others look for what nobody does.
PAPER_LEASE_S = env.int("PAPER_LEASE_S", default=20)
SWEEP_EVERY_S = env.int("SWEEP_EVERY_S", default=10)
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_WORKER_REDIRECT_STDOUTS = False

EMAIL_CONFIG = env.email_url("EMAIL_URL", default="consolemail://")
vars().update(EMAIL_CONFIG)
EMAIL_TIMEOUT = 10
MAIL_NOTICES = bool(env("EMAIL_URL", default=""))  # what concerns people is mailed once a mail server is named
DEFAULT_FROM_EMAIL = env("EMAIL_FROM", default="fabshop@localhost")

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": env("LOG_LEVEL", default="WARNING")},
    "loggers": {"django.request": {"level": "ERROR"}},  # a refusal in words is an answer, not trouble
}
