"""The shop and the people in it."""

from datetime import time
from zoneinfo import ZoneInfo

from django.contrib.auth.models import AbstractUser, UserManager
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from spools.errors import no_shop
from spools.flow.roles import WORDS, Role


class Shop(models.Model):
    """One fabrication shop: everything a person sees belongs to one."""

    name = models.CharField(max_length=80)
    time_zone = models.CharField(max_length=40, default="America/Chicago")
    cut_off = models.TimeField(default=time(14, 0), help_text="a reading received later counts from the next shift")
    promise_hours = models.PositiveSmallIntegerField(default=24)
    kerf_64ths = models.PositiveSmallIntegerField(default=8, validators=[MaxValueValidator(64)])
    end_trim_64ths = models.PositiveSmallIntegerField(default=16, validators=[MaxValueValidator(640)])
    keep_from_in = models.PositiveSmallIntegerField(default=18, validators=[MinValueValidator(1)])
    # Limits of trucks and of the galvanizer's kettle. Common practice, no source: ask the carrier and the galvanizer.
    truck_lb = models.PositiveIntegerField(default=9000)
    truck_deck_in = models.PositiveSmallIntegerField(default=240)
    kettle_length_in = models.PositiveSmallIntegerField(default=480)
    kettle_width_in = models.PositiveSmallIntegerField(default=48)
    kettle_depth_in = models.PositiveSmallIntegerField(default=72)
    scale_lb = models.PositiveSmallIntegerField(default=20)
    zinc_days = models.PositiveSmallIntegerField(default=5)
    link_days = models.PositiveSmallIntegerField(default=21, validators=[MinValueValidator(1)])

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        """The zone that people here read times in."""
        return ZoneInfo(self.time_zone)


class PersonManager(UserManager["Person"]):
    """People, each with their shop in the same query: every page asks for it."""

    use_in_migrations = False

    def get_queryset(self) -> models.QuerySet["Person"]:
        """Everybody, with their shop."""
        return super().get_queryset().select_related("shop")


class Person(AbstractUser):
    """Somebody who signs in; ``roles`` holds codes of ``flow.roles.Role``."""

    shop = models.ForeignKey(Shop, models.PROTECT, null=True, blank=True, related_name="people")
    roles = models.JSONField(default=list, blank=True)
    stamp = models.CharField(max_length=12, blank=True, help_text="the welder's own stamp")
    pin = models.CharField(max_length=128, blank=True, help_text="hashed; four digits that sign a step on the tablet")

    objects = PersonManager()  # type: ignore[misc]  # narrower than the one of AbstractUser, as Django means it

    def __str__(self) -> str:
        return self.short_name

    @property
    def short_name(self) -> str:
        """The name the floor uses."""
        return self.last_name or self.username

    @property
    def the_shop(self) -> Shop:
        """The shop they work in. Raises ``ShopError`` no_shop: whoever only keeps the tables may have none."""
        if self.shop is None:
            raise no_shop()
        return self.shop

    @property
    def the_shop_id(self) -> int:
        """The number of the shop they work in. Raises ``ShopError`` no_shop."""
        if self.shop_id is None:
            raise no_shop()
        return self.shop_id

    @property
    def role_set(self) -> frozenset[Role]:
        """The roles that this release knows."""
        return frozenset(Role(code) for code in self.roles if code in WORDS)

    @property
    def role_words(self) -> str:
        """The roles in words, in the table's order."""
        return ", ".join(WORDS[role] for role in Role if role in self.role_set)

    def may(self, allowed: frozenset[Role]) -> bool:
        """Tell whether any of this person's roles is among those allowed."""
        return bool(self.role_set & allowed)
