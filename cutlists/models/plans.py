"""Cut plans: which piece from which bar, in what order, and how good the plan is proven to be."""

from __future__ import annotations

from django.db import models

from cutlists.models.stock import StockBar
from spools.models import Heat, Person, Piece, Shop


class CutPlanQuerySet(models.QuerySet["CutPlan"]):
    """Plans by who may see them and by whether something is left to cut."""

    def for_person(self, person: Person) -> CutPlanQuerySet:
        """Plans of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)

    def to_cut(self) -> CutPlanQuerySet:
        """Plans with cuts still to make; the state column is only their summary."""
        left = Cut.objects.filter(plan=models.OuterRef("pk"), state=Cut.State.PLANNED)
        return self.filter(models.Exists(left))


class CutPlan(models.Model):
    """One plan for one pipe size, schedule and material. Lengths in saw units."""

    class State(models.TextChoices):
        """Open until its last cut is made or withdrawn."""

        OPEN = "open", "open"
        DONE = "done", "cut"
        WITHDRAWN = "withdrawn", "withdrawn"

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="cut_plans")
    number = models.PositiveIntegerField()
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8)
    material = models.CharField(max_length=30)
    one_heat = models.ForeignKey(
        Heat, models.PROTECT, null=True, blank=True, related_name="+", help_text="the only heat it may cut from"
    )
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    state = models.CharField(max_length=10, choices=State, default=State.OPEN)
    kerf_u = models.BigIntegerField()
    trim_u = models.BigIntegerField()
    keep_from_u = models.BigIntegerField()
    new_stock_u = models.BigIntegerField()
    lower_bound_u = models.BigIntegerField()
    scrap_u = models.BigIntegerField(default=0)
    proven = models.BooleanField()
    verdict = models.CharField(max_length=80)
    seconds = models.FloatField()
    compared = models.JSONField(default=dict, blank=True, help_text="what plain ways of cutting would have taken")
    key = models.CharField(max_length=64, unique=True)

    objects = CutPlanQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        constraints = [models.UniqueConstraint(fields=["shop", "number"], name="plan_number_once_in_shop")]

    def __str__(self) -> str:
        return f"Plan {self.number}"


class Cut(models.Model):
    """One cut of one plan. A done cut never moves; ``position_u`` is where the piece starts from the bar's end."""

    class State(models.TextChoices):
        """What became of it."""

        PLANNED = "planned", "to cut"
        DONE = "done", "cut"
        WITHDRAWN = "withdrawn", "withdrawn"

    plan = models.ForeignKey(CutPlan, models.PROTECT, related_name="cuts")
    bar = models.ForeignKey(StockBar, models.PROTECT, related_name="cuts")
    bar_order = models.PositiveSmallIntegerField()
    order = models.PositiveSmallIntegerField()
    piece = models.ForeignKey(Piece, models.PROTECT, related_name="cuts")
    build = models.PositiveSmallIntegerField(help_text="the spool's build that it was planned for")
    position_u = models.BigIntegerField()
    length_u = models.BigIntegerField()
    state = models.CharField(max_length=10, choices=State, default=State.PLANNED)
    heat = models.ForeignKey(Heat, models.PROTECT, null=True, blank=True, related_name="+")
    done_at = models.DateTimeField(null=True, blank=True)
    moved_at = models.DateTimeField(null=True, blank=True, help_text="when planning again put it here")

    class Meta:
        ordering = ["plan", "bar_order", "order"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece"], condition=models.Q(state__in=["planned", "done"]), name="piece_in_one_plan"
            ),
        ]
        indexes = [models.Index(fields=["plan", "bar_order", "order"], name="cut_in_order")]

    def __str__(self) -> str:
        return f"{self.plan} bar {self.bar_order} cut {self.order}"

    @property
    def was_cut_wrong(self) -> bool:
        """Whether the saw made it and it was taken back: the steel is gone from its bar."""
        return self.state == self.State.WITHDRAWN and self.done_at is not None


class PlanSearch(models.Model):
    """A longer look for a better plan of what is not yet cut: the row says how far it is, a worker does it."""

    class State(models.TextChoices):
        """Where the search stands."""

        WAITING = "waiting", "waits"
        RUNNING = "running", "looking"
        DONE = "done", "done"
        FAILED = "failed", "broken off"

    plan = models.ForeignKey(CutPlan, models.PROTECT, related_name="searches")
    key = models.CharField(max_length=64, unique=True)
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    seconds = models.FloatField()
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    stop_asked = models.BooleanField(default=False)
    best_u = models.BigIntegerField(null=True, blank=True)
    bound_u = models.BigIntegerField(null=True, blank=True)
    spent = models.FloatField(default=0)
    words = models.CharField(max_length=160, blank=True)
    leased_until = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["-asked_at"]
        indexes = [models.Index(fields=["state", "leased_until"], name="plan_search_to_do")]

    def __str__(self) -> str:
        return f"{self.plan}: {self.get_state_display()}"
