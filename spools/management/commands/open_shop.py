"""Open your own shop with its first person, who holds the roles you name."""

import sys
from getpass import getpass
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from spools.actions.open_shop import add_person, open_shop
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Shop
from spools.transactions import all_or_nothing


class Command(BaseCommand):
    """``manage.py open_shop "My shop" --time-zone America/Chicago --person ruiz``."""

    help = __doc__

    def add_arguments(self, parser: CommandParser) -> None:
        """Name, zone, the first person and their roles."""
        parser.add_argument("name")
        parser.add_argument("--time-zone", default="America/Chicago")
        parser.add_argument("--person", required=True, help="sign-in name")
        parser.add_argument("--last-name", default="")
        parser.add_argument("--roles", default="foreman", help=f"comma-separated: {', '.join(Role)}")
        parser.add_argument("--password-from-stdin", action="store_true")

    def handle(self, *args: Any, **options: Any) -> None:
        """Open the shop, or add the person to a shop of that name that is there."""
        try:
            roles = [Role(code.strip()) for code in options["roles"].split(",")]
        except ValueError as unknown:
            raise CommandError(f"Roles are {', '.join(Role)}.") from unknown
        password = sys.stdin.readline().rstrip("\n") if options["password_from_stdin"] else getpass("Password: ")
        try:
            self._open(options, roles, password)
        except ShopError as refusal:
            raise CommandError(str(refusal)) from refusal

    @all_or_nothing
    def _open(self, options: dict[str, Any], roles: list[Role], password: str) -> None:
        shop = Shop.objects.filter(name=options["name"]).first()
        if shop is None:
            shop = open_shop(name=options["name"], time_zone=options["time_zone"])
        last_name = options["last_name"] or options["person"].title()
        person = add_person(shop=shop, username=options["person"], last_name=last_name, roles=roles, password=password)
        self.stdout.write(f"{shop}: {person} may sign in as {person.username} ({person.role_words}).")
