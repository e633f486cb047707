"""Clocks, the promise, figures, forecast and charts: values in, values out, no database and no clock of its own."""
