"""The office's tables, by subject; Django looks here for them."""

from spools.admin import people, record, tables

__all__ = ["people", "record", "tables"]
