"""The saw's nouns, one file each; import them from here."""

from cutlists.models.drawings import KeptDrawing
from cutlists.models.papers import PaperJob
from cutlists.models.plans import Cut, CutPlan, PlanSearch
from cutlists.models.stock import StockBar, StockEvent

__all__ = ["Cut", "CutPlan", "KeptDrawing", "PaperJob", "PlanSearch", "StockBar", "StockEvent"]
