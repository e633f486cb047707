"""The wiring as an app: its checks stand before every command and every server."""

from django.apps import AppConfig


class FabshopConfig(AppConfig):
    """Settings, addresses, roles' doors, health."""

    name = "fabshop"

    def ready(self) -> None:
        """Register the checks that refuse settings under which acknowledged work could be lost."""
        from fabshop import checks  # noqa: PLC0415  needs the app registry

        checks.register_all()
